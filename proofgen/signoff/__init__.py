"""Records answers, and admits to the press only artwork that was signed as it stands."""

from proofgen.signoff.admit import Signed, admit
from proofgen.signoff.answers import Outcome, take_answer, take_in_person
from proofgen.signoff.canonical import canonical, fingerprint
from proofgen.signoff.codes import read_code, three_codes
from proofgen.signoff.differences import changes
from proofgen.signoff.editions import (
    ANSWER_WORDS,
    ANSWERS,
    EVENTS,
    TICKS,
    Answer,
    Edition,
    Event,
    is_order_id,
    shown,
    standing,
)
from proofgen.signoff.mail import read_mail
from proofgen.signoff.records import Records
from proofgen.signoff.slip import SLIP_WORDS, compose_slip, read_blocks
from proofgen.signoff.states import STATES, OrderFacts, State, state_of

__all__ = [
    "ANSWERS",
    "ANSWER_WORDS",
    "EVENTS",
    "SLIP_WORDS",
    "STATES",
    "TICKS",
    "Answer",
    "Edition",
    "Event",
    "OrderFacts",
    "Outcome",
    "Records",
    "Signed",
    "State",
    "admit",
    "canonical",
    "changes",
    "compose_slip",
    "fingerprint",
    "is_order_id",
    "read_blocks",
    "read_code",
    "read_mail",
    "shown",
    "standing",
    "state_of",
    "take_answer",
    "take_in_person",
    "three_codes",
]
