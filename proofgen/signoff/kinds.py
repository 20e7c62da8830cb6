"""What can be answered, ticked and noted: the words of slips, codes and records."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Literal, NamedTuple, get_args


class AnswerKind(StrEnum):
    """What a customer can answer, in the word of slips, codes and records."""

    OK = "ok"
    CORRECTIONS = "corrections"
    AGAIN = "again"


class AnswerWords(NamedTuple):
    """How an answer is told to the maker, how a slip says it, and what to do once it is kept."""

    called: str
    on_slip: str
    to_do: str  # {order} is filled


ANSWERS: Mapping[AnswerKind, AnswerWords] = {
    AnswerKind.OK: AnswerWords(
        "OK",
        "OK: press it exactly as shown.",
        "proofgen press {order}",
    ),
    AnswerKind.CORRECTIONS: AnswerWords(
        "OK with corrections",
        "OK with corrections: please change what I wrote, then show me a new proof.",
        "put the corrections into the order, then: proofgen proof {order}",
    ),
    AnswerKind.AGAIN: AnswerWords(
        "show it again",
        "Show it again: please change it and send me a new proof.",
        "change what is asked for, then: proofgen proof {order}",
    ),
}


class EventKind(StrEnum):
    """What the journal notes of an order, beside proofs, links and answers."""

    SENT = "sent"
    PRESSED = "pressed"
    HANDED_OVER = "handed-over"
    WITHDRAWN = "withdrawn"
    ACCEPTED = "accepted"
    READ = "read"  # the maker read what a person wrote beside an OK, and nothing is to change
    FORGOTTEN = "forgotten"


Tick = Literal["spelling", "crop", "colour", "quantity", "photo"]
TICKS: tuple[Tick, ...] = get_args(Tick)
Way = Literal["slip", "code", "person"]
DayFrom = Literal["mail", "given", "received"]
