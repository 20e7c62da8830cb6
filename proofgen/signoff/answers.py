"""Customers' answers into the records: a slip, a mail, pasted text, a spoken code, in person."""

from __future__ import annotations

import hmac
import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from proofgen.errors import UsageError
from proofgen.signoff import codes, mail, slip
from proofgen.signoff.editions import ANSWER_WORDS, ANSWERS, Answer, shown
from proofgen.signoff.keeping import moment
from proofgen.signoff.records import Records

RECORDED, NOTHING_NEW, TWO, REFUSED = "recorded", "nothing new", "two answers", "refused"
_WORST_FIRST = (REFUSED, TWO, RECORDED, NOTHING_NEW)
_NEAR = 2  # letters
_MOST_TRIED = 50  # places of a long text that are compared for a near miss
_SHORT = 60  # a text up to this long is taken for a code as a whole
_SEND_AGAIN = (
    "ask the customer to send the answer again, with “Copy” or “Download” on the page; "
    "or take one of the three codes by telephone"
)
# Four groups of four, at every place in a text where they may begin.
_CODE_IN_TEXT = re.compile(
    r"(?<![A-Z0-9])(?=([A-Z0-9]{4}(?:[\s>._–—-]{0,4}[A-Z0-9]{4}){3})(?![A-Z0-9]))"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of an answer: 'recorded', 'nothing new', 'two answers' or 'refused'."""

    status: str
    sentence: str
    order: str = ""
    edition: int = 0
    answer: str = ""
    cure: str = ""


@dataclass(frozen=True, slots=True)
class _Told:
    """The days that bear on an answer: today, the maker's `--on`, the mail's own, the moment."""

    today: date
    on: date | None
    mail: date | None
    now: datetime


def take_answer(
    records: Records, source: str | bytes, *, today: date, now: datetime, on: date | None = None
) -> Outcome:
    """Read one text or mail and record what it answers. Never raises for what a customer sent.

    Several answers in one mail are all taken; the outcome then has the worst status and every
    sentence. `on` is the day the maker says it came; else a mail's own Date counts, else today.
    """
    if len(source) > mail.MOST_BYTES:
        return _no("this is far too large for an answer", cure="give the mail without its pictures")
    if on and on > today:
        return _no(f"{on.isoformat()} has not come yet", cure="give the day the answer came")
    texts, day = _readings(source)
    told = _Told(today, on, day, now)
    found = _from_blocks(records, texts, told) or _from_codes(records, texts, told)
    worst = min(found, key=lambda o: _WORST_FIRST.index(o.status))
    cures = dict.fromkeys(o.cure for o in found if o.cure)
    return replace(worst, sentence=" ".join(o.sentence for o in found), cure="; ".join(cures))


def take_in_person(
    records: Records,
    order: str,
    name: str,
    answer: str,
    now: datetime,
    today: date | None = None,
) -> Outcome:
    """Record what someone said at the counter about the latest proof, under their name.

    Errors: UsageError for an answer that is none, or no name.
    """
    if answer not in ANSWERS:
        raise UsageError(f"“{shown(answer, 40)}” is no answer", f"one of {', '.join(ANSWERS)}")
    if not name.strip():
        raise UsageError("an answer in person needs a name", "say who gave it")
    heads = records.heads(order)
    if not heads:
        return _no(f"there is no proof of {order} to answer", order, cure=f"proofgen proof {order}")
    said = _answer_of(heads[-1], answer, now, way="person", name=name.strip()[:200])
    return _take(records, heads[-1], said, _Told(today or now.date(), today, None, now))


# -- reading ---------------------------------------------------------------------------------


def _readings(source: str | bytes) -> tuple[list[str], date | None]:
    """Ways to read what was given, best first, and the day of the mail."""
    raw = source.encode("utf-8", "surrogatepass") if isinstance(source, str) else source
    if mail.looks_like_mail(raw):
        opened = mail.open_mail(raw)
        if opened.texts:
            return list(opened.texts), opened.day
    text = source if isinstance(source, str) else mail.decode_text(source)
    if "<" in text and "</" in text:
        return [mail.plain_from_html(text), text], None
    return [text], None


def _from_blocks(records: Records, texts: Sequence[str], told: _Told) -> list[Outcome]:
    """Outcomes of the coded blocks; empty when no reading has one.

    When any block of a mail was damaged, none of it is taken: the damaged one may be the answer
    that was meant, above an older one that was quoted whole.
    """
    damaged: list[Outcome] = []
    for text in texts:
        blocks = slip.read_blocks(text)
        if not blocks:
            continue
        judged = [_believed(records, block, told) for block in blocks]
        broken = [j for j in judged if isinstance(j, Outcome)]
        if not broken:
            return _take_all(records, [j for j in judged if isinstance(j, tuple)], told)
        damaged = damaged or broken[:1]
    return damaged


def _believed(
    records: Records, block: slip.Block, told: _Told
) -> tuple[Mapping[str, Any], Answer] | Outcome:
    """The edition and the answer of a block whose code fits; else why it is refused."""
    said = block.payload()
    if said is None:
        return _no("the coded part of this answer was damaged on the way", cure=_SEND_AGAIN)
    order, number = said["order"], said["edition"]
    if order not in records.orders():
        return _no(f"there is no order {order} in these records", order, number)
    if records.is_forgotten(order):
        return _no(f"the data of {order} was removed, so it cannot be answered", order, number)
    head = _head(records, order, number)
    if head is None:
        return _no(f"there is no proof {number} of {order}", order, number, _SEND_AGAIN)
    fits = hmac.compare_digest(slip.mac_of(bytes.fromhex(head["key"]), block.signed), block.mac)
    if not fits or said["fingerprint"] != head["fingerprint"]:
        return _no(
            f"the coded part of this answer to proof {number} of {order} was changed on the way",
            order, number, _SEND_AGAIN,
        )  # fmt: skip
    return head, _answer_of(
        head,
        said["answer"],
        told.now,
        ticks=tuple(said["ticks"]),
        may_show=said["may_show"],
        wrong=tuple(said["wrong"]),
        name=said["name"],
        remarks=said["remarks"],
        written=said["time"],
    )


def _take_all(
    records: Records, believed: Sequence[tuple[Mapping[str, Any], Answer]], told: _Told
) -> list[Outcome]:
    """Every answer of one mail; one to an older proof, quoted below a newer, is passed over."""
    newest: dict[str, int] = {}
    for _, said in believed:
        newest[said.order] = max(said.edition, newest.get(said.order, 0))
    return [_take(records, h, a, told) for h, a in believed if a.edition == newest[a.order]]


def _from_codes(records: Records, texts: Sequence[str], told: _Told) -> list[Outcome]:
    """The outcome of a spoken code, alone or somewhere in a text."""
    heads = [h for order in records.orders() for h in records.heads(order)]
    known = {
        codes.read_code(code): (head, answer)
        for head in heads
        for answer, code in _codes_of(head).items()
    }
    tried = list(dict.fromkeys(code for text in texts for code in _candidates(text)))
    hits = [known[code] for code in tried if code in known]
    if len(hits) > 1:
        return [
            _no("there is more than one code in this text", cure="ask which of them is the answer")
        ]
    if hits:
        head, answer = hits[0]
        return [_take(records, head, _answer_of(head, answer, told.now, way="code"), told)]
    near = _near(tried, known)
    if near:
        order, number = near["order"], near["edition"]
        return [
            _no(
                f"this is close to a code of proof {number} of {order}, but not the same",
                order, number, "ask for the code again, letter by letter",
            )
        ]  # fmt: skip
    return [
        _no(
            "there is no answer in this text",
            cure="give the whole mail, the downloaded slip, or the code of 16 letters and digits",
        )
    ]


def _near(
    tried: Sequence[str], known: Mapping[str, tuple[Mapping[str, Any], str]]
) -> Mapping[str, Any] | None:
    """The edition with a code that differs from a tried one by a letter or two."""
    letters = {code: frozenset(code) for code in known}
    for code in tried[:_MOST_TRIED]:
        own = frozenset(code)
        for other, (head, _) in known.items():
            likely = len(own ^ letters[other]) <= 2 * _NEAR  # spares the slow comparison
            if likely and codes.distance(code, other, _NEAR) <= _NEAR:
                return head
    return None


def _candidates(text: str) -> list[str]:
    wide = unicodedata.normalize("NFKC", text).upper()
    found = [codes.read_code(text)] if len(text.strip()) <= _SHORT else []
    return [c for c in found + [codes.read_code(m[1]) for m in _CODE_IN_TEXT.finditer(wide)] if c]


def _codes_of(head: Mapping[str, Any]) -> Mapping[str, str]:
    key = bytes.fromhex(head["key"])
    return codes.codes_for(key, head["order"], head["edition"], head["fingerprint"])


# -- judging ---------------------------------------------------------------------------------


def _take(records: Records, head: Mapping[str, Any], said: Answer, told: _Told) -> Outcome:
    """Record an answer that is known to be for this edition, or say why not."""
    day, by = _dated(moment(head["made"]), told)
    said = replace(said, dated=day, dated_by=by)
    before = [a for a in records.answers(said.order) if a.edition == said.edition]
    if any(said.agrees(a) and not said.adds(a) for a in before):
        return Outcome(
            status=NOTHING_NEW,
            sentence=f"{_what(said)} was recorded before: nothing new.",
            order=said.order,
            edition=said.edition,
            answer=said.answer,
        )
    refused = _closed(records, head, said, day)
    if refused:
        return refused
    records.record_answer(said)
    return _recorded(said, [a for a in before if not said.agrees(a)])


def _closed(records: Records, head: Mapping[str, Any], said: Answer, day: date) -> Outcome | None:
    """Why an edition takes no answer any more; None while it does."""
    order, number = said.order, said.edition
    latest = records.heads(order)[-1]["edition"]
    new_proof = f"if it is still wanted, make a new proof: proofgen proof {order}"
    if records.is_withdrawn(order):
        return _no(f"the proof of {order} was withdrawn, so it takes no answer", order, number,
                   new_proof)  # fmt: skip
    if number != latest:
        return _no(
            f"this answers proof {number} of {order}, but proof {latest} is the current one",
            order, number, f"ask the customer to look at proof {latest}; the link is the same",
        )  # fmt: skip
    done = [e for e in records.events(order) if e.edition == number]
    if any(e.kind in ("pressed", "handed-over") for e in done):
        return _no(f"{order} is pressed already, so its proof takes no answer", order, number)
    if day > date.fromisoformat(head["answer_by"]):
        return _no(
            f"this answer to proof {number} of {order} is of {day.isoformat()}; "
            f"it could be answered until {head['answer_by']}",
            order, number, f"{new_proof}; if it came in time: --on DAY",
        )  # fmt: skip
    return None


def _dated(made: datetime, told: _Told) -> tuple[date, str]:
    """The day an answer counts for, and where it comes from.

    A mail's clock can be wrong: a day before the proof was made, or after today, is not believed.
    """
    if told.on:
        return told.on, "given"
    if told.mail and made.date() - timedelta(days=1) <= told.mail <= told.today:
        return told.mail, "mail"
    return told.today, "received"


def _recorded(said: Answer, differing: Sequence[Answer]) -> Outcome:
    told = f"{_what(said)} is recorded"
    told += f" ({said.covers})." if said.covers else "."
    if said.wrong:
        told += f" Wrong pieces: {', '.join(map(str, said.wrong))}."
    if said.remarks.strip():
        told += f" Remarks: “{shown(said.remarks)}”."
    cure = {
        "ok": f"proofgen press {said.order}" if said.plain_ok else f"proofgen proof {said.order}",
        "corrections": f"put the corrections into the order, then: proofgen proof {said.order}",
        "again": f"change what is asked for, then: proofgen proof {said.order}",
    }[said.answer]
    if said.plain_ok and said.remarks.strip():
        cure = f"read the remarks; if nothing is to change: {cure}"
    status = RECORDED
    if differing:
        status = TWO
        first = differing[0]
        told += (
            f" It differs from the answer of {_day(first)} (“{ANSWER_WORDS[first.answer]}”), "
            "so the order waits."
        )
        cure = f"ask which one holds, then make a new proof: proofgen proof {said.order}"
    return Outcome(
        status=status,
        sentence=told,
        order=said.order,
        edition=said.edition,
        answer=said.answer,
        cure=cure,
    )


# -- small -----------------------------------------------------------------------------------


def _head(records: Records, order: str, number: int) -> Mapping[str, Any] | None:
    return next((h for h in records.heads(order) if h["edition"] == number), None)


def _answer_of(head: Mapping[str, Any], answer: str, now: datetime, **more: Any) -> Answer:
    return Answer(
        order=head["order"],
        edition=head["edition"],
        fingerprint=head["fingerprint"],
        answer=answer,
        received=now,
        **more,
    )


def _what(said: Answer) -> str:
    who = f" from {shown(said.name, 80)}" if said.name.strip() else ""
    return f"The answer “{ANSWER_WORDS[said.answer]}”{who} to proof {said.edition} of {said.order}"


def _day(said: Answer) -> str:
    return (said.dated or said.received.date()).isoformat()


def _no(problem: str, order: str = "", edition: int = 0, cure: str = "") -> Outcome:
    sentence = f"{problem[0].upper()}{problem[1:]}: nothing was recorded."
    return Outcome(status=REFUSED, sentence=sentence, order=order, edition=edition, cure=cure)
