"""What the records tell of an order, and where that puts it in the table of states."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.documents import WaitsFor
from proofgen.say import capital, pieces, quoted, sentences
from proofgen.signoff.digests import digest_of
from proofgen.signoff.earlier import Earlier, earlier_of
from proofgen.signoff.editions import Answer, AskedChange
from proofgen.signoff.kinds import ANSWERS, EventKind
from proofgen.signoff.records import Records
from proofgen.signoff.states import (
    APPLY,
    ASK_WHAT,
    CHANGE_IT,
    OR_CHANGE,
    RULES,
    SWAP,
    Rules,
    State,
    When,
    file_of,
)

_SEEN = frozenset({"answer", EventKind.SENT, EventKind.WROTE})  # a customer saw the edition
_MOST_NAMED = 40  # characters of a name in a sentence


def words_key(text: str) -> str:
    """What the records call a person's words by once they were read."""
    return digest_of(text.encode("utf-8", "surrogatepass"))


def what_to_do(asked: Sequence[AskedChange]) -> str:
    """The next step for words that are to change."""
    return APPLY if any(one.new for one in asked) else ASK_WHAT


def verdict_of(
    answers: Sequence[Answer],
    edition: int,
    read: Collection[str] = (),
    wrote: Sequence[str] = (),
) -> State | None:
    """Where the answers to an edition put its order; None while there is none.

    An OK that marks anything as wrong asks for changes; one with words that nobody has read
    (`read`: those that were, by `words_key`; `wrote`: what came without an answer) opens nothing.
    """
    given = [a for a in answers if a.edition == edition]
    words = [*wrote, *(text for a in given for text in a.words)]
    unread = any(words_key(text) not in read for text in words)
    if not given:
        return State.WORDS if unread else None
    if not all(a.agrees(b) for a in given for b in given):
        return State.TWO_ANSWERS
    if all(a.plain_ok for a in given):
        return State.WORDS if unread else State.SIGNED
    return State.CHANGES


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFacts:
    """What the table asks about an order, and what it says.

    `edition` is the number of its latest edition (0: none), `answer_by` that edition's last day,
    `happened` what was recorded since. Without `today` no day has passed. Left at their defaults,
    `has_stop` and `is_current` (the folder holds what the edition shows) give the state as far as
    the records alone tell it: right for what is closed, and for what the customer said.
    """

    order: str
    today: date | None = None
    edition: int = 0
    answer_by: date | None = None
    answers: Sequence[Answer] = ()
    wrote: Sequence[str] = ()  # about the latest edition, without an answer
    before: int = 0  # the number of the edition before that the customer saw last
    wrote_before: Sequence[str] = ()  # about that one, without an answer
    read: Collection[str] = ()  # words beside answers that the maker read, by `words_key`
    happened: Collection[EventKind] = ()
    is_own: bool = False  # the shop's own order, which it signs in person
    has_stop: bool = False
    is_current: bool = True
    has_sheets: bool = False  # they lie in the workroom
    spoiled: Collection[int] = ()  # pieces, to be pressed again
    where: str = ""  # file and lines of its words; '' where only the records are known
    swap: str = ""  # the command that changes what the customer's own words ask for

    @property
    def state(self) -> State:
        """First what cannot be undone, then what the customer said, then what the files say."""
        for state in reversed(State):
            if RULES[state].after in self.happened:
                return state
        verdict = verdict_of(self.answers, self.edition, self.read, self.wrote)
        if verdict and verdict is not State.SIGNED:
            return verdict
        if self.has_stop:
            return State.STOPPED
        if not self.edition:
            return State.DRAFT
        if verdict:
            return verdict if self.is_current else State.VOIDED
        if not self.is_current:
            return State.DRAFT  # the proof shows what would no longer be pressed
        if self.today and self.answer_by and self.today > self.answer_by:
            return State.EXPIRED
        return State.OUT if EventKind.SENT in self.happened else State.READY

    @property
    def said_yes(self) -> bool:
        """Whether the customer said OK to the latest edition."""
        return any(a.plain_ok for a in self.answers if a.edition == self.edition)

    @property
    def is_promised(self) -> bool:
        """Whether it is signed, by its records, and not pressed yet: what nobody ends by
        accident."""
        return self.said_yes and not self.rules.closed

    @property
    def answered(self) -> bool:
        """Whether anything came back for the latest edition."""
        return bool(self.wrote) or any(a.edition == self.edition for a in self.answers)

    @property
    def words(self) -> tuple[str, ...]:
        """What people wrote about the latest edition, each once."""
        given = (a for a in self.answers if a.edition == self.edition)
        beside = (text for a in given for text in a.words)
        return tuple(dict.fromkeys([*beside, *self.wrote]))

    @property
    def unmarked(self) -> str:
        """What was not ticked as right before the latest OK; '' once it is closed."""
        given = [a for a in self.answers if a.edition == self.edition and a.plain_ok]
        return given[-1].unmarked if given and not self.rules.closed else ""

    @property
    def asked(self) -> tuple[AskedChange, ...]:
        """The words that the latest edition's customer wants otherwise, each once."""
        given = (a for a in self.answers if a.edition == self.edition)
        return tuple(dict.fromkeys(one for a in given for one in a.changes))

    def beside(self, done: Collection[AskedChange]) -> list[str]:
        """What else was said of the latest edition than the words that `done` holds."""
        said = earlier_of(self.answers, self.wrote, self.edition, None)
        return [one.asked.said if one.asked else one.said for one in said if one.asked not in done]

    @property
    def change_it(self) -> str:
        """The sentence of how to put what was asked for into the order, as far as it is known."""
        return self.filled(capital(SWAP if self.swap else CHANGE_IT))

    @property
    def has_earlier(self) -> bool:
        """Whether anything was said of the edition that was seen before."""
        return bool(self.wrote_before) or any(a.edition == self.before for a in self.answers)

    def earlier(self, document: ArtworkDocument | None) -> list[Earlier]:
        """What was said of the edition that was seen before, and what the latest, of this
        description, makes of it."""
        return earlier_of(self.answers, self.wrote_before, self.before, document)

    @property
    def rules(self) -> Rules:
        return RULES[self.state]

    @property
    def waits_for(self) -> WaitsFor:
        """Who is to move."""
        if self.rules.closed and EventKind.HANDED_OVER not in self.rules.notes:
            return ""
        return "customer" if self.rules.waits and not self.is_own else "maker"

    @property
    def is_dated(self) -> bool:
        """Whether the records tell when it came to where it stands; what changed in a folder
        nobody noted."""
        return self.state not in (State.DRAFT, State.STOPPED, State.VOIDED)

    @property
    def step(self) -> str:
        """The sentence of the next step, with the command to type."""
        rules = self.rules
        if self.state is State.CHANGES and self.asked:
            return self.filled(capital(what_to_do(self.asked)))
        if self.swap and self.state in (State.CHANGES, State.WORDS):
            said = rules.step.replace(capital(CHANGE_IT), capital(SWAP))
            return self.filled(said.replace(OR_CHANGE, f"else, {SWAP}"))
        step = (self.is_own and rules.own) or (self.has_sheets and rules.ready) or rules.step
        if not self.spoiled or EventKind.HANDED_OVER in self.happened:
            return self.filled(step)
        were, them = ("was", "it") if len(self.spoiled) == 1 else ("were", "them")
        again = f"{pieces(self.spoiled, capital=True)} {were} spoiled; press {them} again, unless "
        again += "you did."
        return sentences(again, self.filled(step))

    def filled(self, sentence: str) -> str:
        """A sentence of the table, about this order."""
        return sentence.format(
            order=self.order,
            file=self.where or file_of(self.order),
            swap=self.swap,
            edition=self.edition,
            next=self.edition + 1,
            day=self.answer_by.isoformat() if self.answer_by else "it comes",
            both=" or ".join(map(_said, _different(self.answers, self.edition))),
        )

    def new_edition_is_due(self, *, named: bool) -> bool:
        """Whether a new edition is to be made; `named`: the maker asked for this very order."""
        if self.rules.proof is When.UNASKED:
            return named or EventKind.SENT not in self.happened
        return named and self.rules.proof is When.NAMED


def _different(answers: Sequence[Answer], edition: int) -> list[Answer]:
    """The first of each kind of answer to an edition, where they differ."""
    found: list[Answer] = []
    for one in answers:
        if one.edition == edition and not any(one.agrees(other) for other in found):
            found.append(one)
    return found


def _said(answer: Answer) -> str:
    """'“OK” of 2026-11-03 (Gerda Quill)'."""
    who = f" ({quoted(answer.name.strip(), _MOST_NAMED)})" if answer.name.strip() else ""
    return f"“{ANSWERS[answer.answer].called}” of {answer.day.isoformat()}{who}"


def seen_before(records: Records, order: str, number: int) -> int:
    """The number of the edition before edition `number` that its customer saw last, as far as it is
    known: one that was sent or that something came back to; else the one before. 0 where there is
    none."""
    noted = [e.head["edition"] for e in records.entries(order) if e.head["kind"] in _SEEN]
    return max((n for n in noted if 0 < n < number), default=max(number - 1, 0))


def read_facts(records: Records, order: str, today: date | None = None) -> OrderFacts:
    """The facts about an order that its records tell. SignoffError where they are damaged."""
    heads = records.heads(order)
    before = seen_before(records, order, len(heads))
    return OrderFacts(
        order=order,
        today=today,
        edition=len(heads),  # they are numbered from 1
        answer_by=date.fromisoformat(heads[-1]["answer_by"]) if heads else None,
        answers=records.answers(order),
        wrote=records.wrote(order, len(heads)),
        before=before,
        wrote_before=records.wrote(order, before),
        read=records.read_words(order, len(heads)),
        happened=records.happened(order),
    )
