"""Where an order stands: one table of states, and the one next step of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from proofgen.signoff.editions import Answer, Edition, standing


@dataclass(frozen=True, slots=True)
class State:
    """What a state means, and what to do next; {order}, {edition}, {next} and {day} are filled."""

    meaning: str
    step: str


STATES: dict[str, State] = {
    "draft": State(
        "There is no proof of this order as it stands.",
        "Make proof {next}: proofgen proof {order}",
    ),
    "stopped": State(
        "A check found what would spoil a piece.",
        "See what stops it: proofgen check {order}",
    ),
    "ready": State(
        "The proof is made and waits to be sent.",
        "Send the letter, then note it: proofgen letter {order} --sent",
    ),
    "out": State(
        "The customer has the proof.",
        "Wait for the answer until {day}; when it comes: proofgen answer FILE",
    ),
    "corrections": State(
        "The customer wants something put right.",
        "Put the corrections into the order, then: proofgen proof {order}",
    ),
    "again": State(
        "The customer wants to see it once more.",
        "Change what was asked for, then: proofgen proof {order}",
    ),
    "two answers": State(
        "There are two answers that differ, so neither counts.",
        "Ask which one holds, then make a new proof: proofgen proof {order}",
    ),
    "signed": State(
        "The customer's OK stands for exactly this.",
        "Make the press sheets: proofgen press {order}; "
        "once pressed: proofgen press {order} --done",
    ),
    "voided": State(
        "Something that is pressed changed after the OK.",
        "Put it back, or make a new proof: proofgen proof {order}",
    ),
    "pressed": State(
        "The pieces are pressed.",
        "Hand them over, then note it: proofgen orders --handed-over {order}",
    ),
    "handed over": State(
        "The customer has the pieces.",
        "Nothing is left to do; to remove the customer's data: proofgen forget {order}",
    ),
    "expired": State(
        "The day for an answer has passed.",
        "Ask whether it is still wanted; a new proof sets a new day: proofgen proof {order}",
    ),
    "withdrawn": State(
        "The proof was taken back.",
        "If it is wanted after all, make a new proof: proofgen proof {order}",
    ),
    "forgotten": State(
        "The customer's data was removed.",
        "Nothing is left to do.",
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFacts:
    """What the table asks about an order; `sent` and `answers` are of its latest edition.

    `pressed`, `handed` and `withdrawn` count while no newer edition was made. `answer_by` is the
    latest edition's own when not given.
    """

    order: str
    today: date
    has_stop: bool = False
    edition: Edition | None = None
    current_fingerprint_matches: bool = True
    sent: bool = False
    answers: Sequence[Answer] = ()
    answer_by: date | None = None
    pressed: bool = False
    handed: bool = False
    withdrawn: bool = False
    forgotten: bool = False


def state_of(facts: OrderFacts) -> tuple[str, str]:
    """The state's name, and the sentence of the next step with the command to type."""
    state = _state(facts)
    number = facts.edition.number if facts.edition else 0
    day = _answer_by(facts)
    step = STATES[state].step.format(
        order=facts.order,
        edition=number,
        next=number + 1,
        day=day.isoformat() if day else "it comes",
    )
    return state, step


def _answer_by(facts: OrderFacts) -> date | None:
    return facts.answer_by or (facts.edition.answer_by if facts.edition else None)


def _state(facts: OrderFacts) -> str:
    """First what cannot be undone, then what the customer said, then what the files say."""
    closed = (
        ("forgotten", facts.forgotten),
        ("withdrawn", facts.withdrawn),
        ("handed over", facts.handed),
        ("pressed", facts.pressed),
    )
    for state, holds in closed:
        if holds:
            return state
    said = standing(facts.answers, facts.edition.number) if facts.edition else ""
    if said in ("two answers", "corrections", "again"):
        return said
    if facts.has_stop:
        return "stopped"
    if facts.edition is None:
        return "draft"
    if said == "ok":
        return "signed" if facts.current_fingerprint_matches else "voided"
    if not facts.current_fingerprint_matches:
        return "draft"  # the proof shows what would no longer be pressed
    day = _answer_by(facts)
    if day and facts.today > day:
        return "expired"
    return "out" if facts.sent else "ready"
