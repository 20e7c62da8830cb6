"""What can be answered and noted: the words of slips, codes and records."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Literal, NamedTuple

from proofgen.say.tongue import to_say


class AnswerKind(StrEnum):
    """What a customer can answer, in the word of slips, codes and records."""

    OK = "ok"
    CHANGE = "change"


CHOICES = (AnswerKind.OK, AnswerKind.CHANGE)  # as the page lists them
# Older editions offered two answers that mean the same; their slips, codes and records have them.
_ONCE: Mapping[str, AnswerKind] = {"corrections": AnswerKind.CHANGE, "again": AnswerKind.CHANGE}
OLD_WORDS = (AnswerKind.OK.value, *_ONCE)


def answer_of(word: str) -> AnswerKind:
    """The answer by its word of today or of an older record. Errors: ValueError."""
    return _ONCE.get(word) or AnswerKind(word)


class AnswerWords(NamedTuple):
    """How an answer is told to the maker, how the customer says it, and what to do once kept."""

    called: str
    says: str  # for the catalogues
    to_do: str  # {order} and {file}, where it is written, are filled


ANSWERS: Mapping[AnswerKind, AnswerWords] = {
    AnswerKind.OK: AnswerWords(
        "OK",
        to_say("Yes. Press it exactly as shown."),
        "proofgen press {order}",
    ),
    AnswerKind.CHANGE: AnswerWords(
        "change it",
        to_say("Not yet. Change what I write and show me again."),
        "change what is asked for in {file}, then: proofgen proof {order}",
    ),
}


class EventKind(StrEnum):
    """What the journal notes of an order, beside proofs, links and answers."""

    SHOWN = "shown"  # an edition's page was set; with the digests of its files
    SENT = "sent"
    SHEETS = "sheets"  # its press sheets were numbered; with what lies on which
    PRESSED = "pressed"
    HANDED_OVER = "handed-over"
    WITHDRAWN = "withdrawn"
    ACCEPTED = "accepted"
    WROTE = "wrote"  # a person, without any answer
    READ = "read"  # the maker read what a person wrote beside an OK, and nothing is to change
    FORGOTTEN = "forgotten"
    SPOILED = "spoiled"  # pieces of it, at the press
    NOT_PRESSED = "not-pressed"  # takes back that it was pressed, and so handed over
    NOT_HANDED_OVER = "not-handed-over"  # takes back that alone; it stays pressed
    NOT_ACCEPTED = "not-accepted"  # takes back that a finding was let through
    CLEARED = "cleared"  # what must not be seen any more was deleted where the site is


# What did not happen after all, once this is noted.
TAKES_BACK: Mapping[EventKind, frozenset[EventKind]] = {
    EventKind.NOT_PRESSED: frozenset({EventKind.PRESSED, EventKind.HANDED_OVER}),
    EventKind.NOT_HANDED_OVER: frozenset({EventKind.HANDED_OVER}),
    # Whatever was cleared before, its page has just become another.
    EventKind.WITHDRAWN: frozenset({EventKind.CLEARED}),
    EventKind.FORGOTTEN: frozenset({EventKind.CLEARED}),
}

Way = Literal["slip", "code", "person"]
DayFrom = Literal["mail", "given", "received"]
