"""Mails that quote our letter: which order they belong to, which code is their writer's own, and
words that came without any answer."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from proofgen.say import quoted_whole
from proofgen.signoff import codes, slip
from proofgen.signoff.documents import EditionHead
from proofgen.signoff.facts import OrderFacts, read_facts
from proofgen.signoff.given import Given, Ours, sentences, words_in_it
from proofgen.signoff.kinds import AnswerKind, EventKind
from proofgen.signoff.outcome import Outcome, Taken
from proofgen.signoff.records import Records
from proofgen.signoff.states import CHANGE_IT, file_of
from proofgen.signoff.wording import Known, without_ours

# What is left of a block that lost its end: no three words of a person look like that.
_CODED = re.compile(r"(?:\b[0-9A-HJKMNP-TV-Z]{5}\b\s+){3,}[0-9A-HJKMNP-TV-Z]{0,5}")
WHICH = "ask the customer which of them holds"
_KEPT = "That is kept, and nothing is pressed until you have read it."


def quoted_orders(records: Records, given: Given) -> list[str]:
    """The orders whose letter a mail quotes: it holds the secret part of their link, or all the
    codes of an edition, which stand together nowhere else."""
    found = []
    for order in records.orders():
        token, heads = records.token(order), records.heads(order)
        if not heads or token is None:
            continue
        by_link = any(token in text for text in given.texts)
        if by_link or any(len(_count(text, head)) > 1 for head in heads for text in given.texts):
            found.append(order)
    return found


def _count(text: str, head: EditionHead) -> Counter[AnswerKind]:
    """How often a text holds the code of each answer."""
    known = codes.codes_of(head)
    places = {(one.start, one.end, one.symbols) for one in codes.heard(text)}
    return Counter(known[symbols] for _, _, symbols in places if symbols in known)


@dataclass(frozen=True, slots=True)
class Reply:
    """A mail, the orders whose letters it quotes, and what is left without the lines of those.
    `is_whole`: where a letter came back, it came with all its codes; else what is left of them may
    be a line of ours that broke on the way, and says nothing of anybody's will."""

    orders: tuple[str, ...]
    own: Given
    is_whole: bool = True


def read_reply(records: Records, given: Given, ours: Ours) -> Reply:
    """A mail as an answer to letters of ours; one that quotes none is all its writer's own."""
    orders = quoted_orders(records, given)
    own = given.texts
    for order in orders:
        own = tuple(without_ours(text, ours(order)) for text in own)
    whole = all(
        _came_back_whole(text, left, head)
        for order in orders
        for head in records.heads(order)
        for text, left in zip(given.texts, own, strict=True)
    )
    return Reply(tuple(orders), replace(given, texts=own), whole)


def _came_back_whole(text: str, left: str, head: EditionHead) -> bool:
    said, mine = _count(text, head), _count(left, head)
    return len({said[kind] - mine[kind] for kind in codes.codes_of(head).values()}) == 1


def _words(given: Given, known: Known, heads: Sequence[EditionHead]) -> tuple[str, ...]:
    """A person's words in a mail, without the codes of its order's editions."""
    ours = {symbols for head in heads for symbols in codes.codes_of(head)}
    bare = replace(given, texts=tuple(_CODED.sub(" ", text) for text in given.texts))
    left = (
        codes.without(text, [one for one in codes.heard(text) if one.symbols in ours]).strip()
        for text in words_in_it(bare, known)
        if not codes.looks_like_code(text)
    )
    return tuple(filter(None, left))


def _keep(
    records: Records, facts: OrderFacts, words: Sequence[str], now: datetime, day: date
) -> str:
    """Keep words that hold the press, those that are new; what they are, for the maker."""
    new = [text for text in words if text not in facts.words]
    if new:
        records.mark(facts.order, EventKind.WROTE, now, words=new, dated=day.isoformat())
    return "; ".join(map(quoted_whole, words))


def keep_words(
    records: Records,
    order: str,
    given: Given,
    ours: Ours,
    *,
    now: datetime,
    day: date,
    two: str = "",
) -> Outcome:
    """Keep what a person wrote in a mail that quotes our letter and holds no answer, or `two` that
    differ, as they are called. It is never an OK: whatever it says, somebody has to read it. `day`:
    that of the mail."""
    facts = read_facts(records, order)
    words = _words(given, ours(order), records.heads(order))
    about = f"This mail belongs to proof {facts.edition} of {order}: it quotes our letter"
    if two:
        about = f"This mail holds two answers that differ, {two}"
    if not words:
        return Outcome(
            status=Taken.REFUSED,
            sentence=about
            + ("" if two else ", and holds no answer and no word beside it")
            + ": nothing was recorded.",
            order=order,
            edition=facts.edition,
            cure=WHICH if two else "ask the customer for their answer",
        )
    said = _keep(records, facts, words, now, day)
    if set(words) <= set(facts.words):
        return Outcome(
            status=Taken.NOTHING_NEW,
            sentence=f"{about}. Its words were recorded before: {said}.",
            order=order,
            edition=facts.edition,
        )
    return Outcome(
        status=Taken.WORDS,
        sentence=about
        + (", so neither counts" if two else ", and holds no slip and no code")
        + f". The customer wrote: {said}. {_KEPT}",
        order=order,
        edition=facts.edition,
        cure=f"{WHICH}; then give their code: proofgen answer CODE"
        if two
        else f"if it is a yes: proofgen answer {order} --in-person NAME; if nothing is to change: "
        f"proofgen answer --read {order}; else "
        + CHANGE_IT.format(order=order, file=file_of(order)),
    )


def keep_refused(
    records: Records,
    given: Given,
    outcomes: Sequence[Outcome],
    ours: Ours,
    *,
    now: datetime,
    day: date,
) -> list[Outcome]:
    """Of answers that were refused, keep what a person said with them: it holds the press like any
    words. Where the answer names no order, the mail's sender or the title of a slip may."""
    kept = []
    for one in outcomes:
        if one.status is not Taken.REFUSED or one.mistyped:
            kept.append(one)
            continue
        about = [one.order] if one.order else _orders_of(records, given, ours)
        can = [o for o in about if records.heads(o) and not records.is_forgotten(o)]
        told = [_held(records, replace(one, order=o), given, ours, now, day) for o in can]
        kept += told or [one]
    return kept


def _held(
    records: Records, one: Outcome, given: Given, ours: Ours, now: datetime, day: date
) -> Outcome:
    facts = read_facts(records, one.order)
    words = one.wrote or _words(
        given, _surroundings(records, one.order, ours), records.heads(one.order)
    )
    if not words:
        return one
    said = _keep(records, facts, words, now, day)
    read = f"if nothing is to change for it: proofgen answer --read {one.order}"
    return replace(
        one,
        sentence=one.sentence.replace("nothing was recorded.", "no answer was recorded.")
        + f" The customer of {one.order} wrote: {said}. {_KEPT}",
        cure="; ".join(filter(None, (one.cure, read))),
    )


def _surroundings(records: Records, order: str, ours: Ours) -> Known:
    """What is ours in a mail whose slip was damaged; a yes that cannot be believed is no word."""
    known, says = ours(order), sentences()
    return replace(
        known,
        texts=(
            *known.texts,
            *_titles(records, order),
            *(words[key] for words in slip.words_everywhere() for key in ("leave", "paste")),
        ),
        choices=tuple(says),
        chosen=[text for text, kind in says.items() if kind is AnswerKind.OK],
    )


def _titles(records: Records, order: str) -> list[str]:
    return [title for head in records.heads(order) for title in slip.titles(head["edition"], order)]


def _orders_of(records: Records, given: Given, ours: Ours) -> list[str]:
    """The orders a mail speaks of: by the title of a slip, else those of its sender that wait."""
    text = " ".join("\n".join((*given.beside, *given.texts)).split())
    named = [
        order
        for order in records.orders()
        if any(re.search(re.escape(t) + r"(?![\w-])", text) for t in _titles(records, order))
    ]
    if named or not given.sender:
        return named
    sender = given.sender.casefold()
    mine = [o for o in records.orders() if ours(o).address.casefold() == sender]
    return [o for o in mine if not read_facts(records, o).rules.closed]
