"""Which proof and which answer a code stands for, in what somebody typed or a mail holds."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from proofgen.say import joined
from proofgen.signoff import codes, replies
from proofgen.signoff.documents import EditionHead
from proofgen.signoff.facts import read_facts
from proofgen.signoff.given import Given, Ours
from proofgen.signoff.kinds import ANSWERS, CHOICES, AnswerKind
from proofgen.signoff.outcome import Outcome, refused
from proofgen.signoff.records import Records
from proofgen.signoff.wording import QUOTE, Known, person_words

_MOST_TRIED = 500  # places of a long text that are compared for a near miss
_OF_A_CODE = 2  # words at most that a code alone is typed in
_A_FEW = 40  # words; a letter of ours has more
_Codes = Mapping[str, tuple[EditionHead, AnswerKind]]


@dataclass(frozen=True, slots=True)
class Found:
    """The edition and the answer of a code, and what stands around it."""

    head: EditionHead
    kind: AnswerKind
    around: Given


def find(
    records: Records, given: Given, ours: Ours, now: datetime, day: date
) -> Found | list[Outcome]:
    """The one code in a text; else why none is taken. Codes in a letter of ours that was quoted
    are nobody's answer; the words of such a mail are kept. `day`: that of the mail."""
    heads = [h for order in records.orders() for h in records.heads(order)]
    known = {code: (head, kind) for head in heads for code, kind in codes.codes_of(head).items()}
    reply = replies.read_reply(records, given, ours)
    heard = [list(codes.heard(text)) for text in reply.own.texts]
    hits = {one.symbols for runs in heard for one in runs if one.symbols in known}
    if reply.orders and (len(hits) != 1 or not reply.is_whole):
        return [
            replies.keep_words(
                records,
                order,
                given,
                ours,
                now=now,
                day=day,
                two=_answers_of({code: known[code] for code in hits}) if len(hits) > 1 else "",
            )
            for order in reply.orders
        ]
    if not hits:
        return [_no_code(records, known, heard, reply.own.texts)]
    own = _own(reply.own, {code: known[code] for code in hits}, ours)
    if len(own) > 1:
        return [_several({code: known[code] for code in own})]
    if not own:
        head, _ = known[min(hits)]
        return [
            refused(
                f"a part of our own letter about {head['order']} came back, and no answer with it",
                head["order"], head["edition"],
                "read what the customer wrote, and ask for the code",
            )
        ]  # fmt: skip
    (code,) = own
    head, kind = known[code]
    around = (
        codes.without(text, [one for one in runs if one.symbols == code])
        for text, runs in zip(reply.own.texts, heard, strict=True)
    )
    return Found(head, kind, replace(given, texts=tuple(around)))


def _several(hits: _Codes) -> Outcome:
    """Refused, and which answers the codes are."""
    heads = [head for head, _ in hits.values()]
    if len({head["order"] for head in heads}) > 1:
        return refused(
            f"there is more than one code in this text, {_answers_of(hits)}",
            cure="give each of them by itself: proofgen answer CODE",
        )
    return refused(
        f"this mail holds two answers that differ, {_answers_of(hits)}",
        heads[0]["order"], max(head["edition"] for head in heads), replies.WHICH,
    )  # fmt: skip


def _answers_of(hits: _Codes) -> str:
    """'“OK” to proof 1 of fenn and “change it” to proof 1 of fenn'."""
    said = (
        f"“{ANSWERS[kind].called}” to proof {head['edition']} of {head['order']}"
        for head, kind in sorted(hits.values(), key=lambda it: list(CHOICES).index(it[1]))
    )
    return joined(dict.fromkeys(said))


def _no_code(
    records: Records,
    known: _Codes,
    heard: Sequence[Sequence[codes.Heard]],
    texts: Sequence[str],
) -> Outcome:
    """Refused, and whether it was close to a code, or is one of a proof that is not here."""
    tried = dict.fromkeys(one.symbols for runs in heard for one in runs)
    near = _near(list(tried), _answerable(records, known))
    if near:
        order, number = near["order"], near["edition"]
        return refused(
            f"this is close to a code of proof {number} of {order}, but not the same",
            order, number, "ask for the code again, letter by letter",
        )  # fmt: skip
    if tried and len(" ".join(texts).split()) <= _OF_A_CODE:
        return refused(
            "no proof in these records has this code",
            cure="hear it again, letter by letter; if a backup was put back, its proof may be "
            "newer than that: send the customer a new one (proofgen proof ORDER)",
        )
    return refused(
        "there is no answer in this text",
        cure="give the whole mail, the saved slip, or the code of 8 letters and digits; if "
        "they said yes to you: proofgen answer ORDER --in-person NAME; if somebody told you what "
        "to change: proofgen answer ORDER --in-person NAME --says change",
    )


def _own(given: Given, hits: _Codes, ours: Ours) -> Collection[str]:
    """Those of the codes that stand outside the letters that we wrote."""
    heads = {head["order"]: head for head, _ in hits.values()}
    written = [ours(order) for order in heads]
    letters = Known(
        texts=[
            *(text for one in written for text in one.texts),
            *(text for head in heads.values() for text in codes.as_said(head)),
        ],
        names=[name for one in written for name in one.names],
        marks=[mark for one in written for mark in one.marks],
    )
    readings = given.texts[: given.said]
    left = person_words(readings, letters)
    own = {one.symbols for text in left for one in codes.heard(text)} & hits.keys()
    if not own and len(hits) == 1 and all(map(_is_short, readings)):
        return hits.keys()  # the very line of the letter, copied as an answer
    return own


def _is_short(text: str) -> bool:
    return len(text.split()) <= _A_FEW and not any(map(QUOTE.match, text.splitlines()))


def _answerable(records: Records, known: _Codes) -> _Codes:
    """The codes of the editions that an answer could still be for."""
    facts = {order: read_facts(records, order) for order in {h["order"] for h, _ in known.values()}}
    return {
        code: (head, kind)
        for code, (head, kind) in known.items()
        if head["edition"] == facts[head["order"]].edition
        and not facts[head["order"]].rules.no_answer
    }


def _near(tried: Sequence[str], known: _Codes) -> EditionHead | None:
    """The edition with a code that differs from a tried one by a symbol (older ones: by two)."""
    letters = {code: frozenset(code) for code in known}
    for said in tried[:_MOST_TRIED]:
        own = frozenset(said)
        for code, (head, _) in known.items():
            most = codes.NEAR[len(code)]
            likely = len(own ^ letters[code]) <= 2 * most  # spares the slow comparison
            if likely and codes.distance(said, code, most) <= most:
                return head
    return None
