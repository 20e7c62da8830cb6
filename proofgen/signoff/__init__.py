"""Records answers, and admits to the press only artwork that was signed as it stands."""

from proofgen.signoff.answers import take_answer, take_in_person
from proofgen.signoff.codes import three_codes
from proofgen.signoff.differences import changes
from proofgen.signoff.digests import canonical
from proofgen.signoff.door import Signed, admit
from proofgen.signoff.editions import Edition
from proofgen.signoff.kinds import AnswerKind, EventKind
from proofgen.signoff.outcome import Outcome
from proofgen.signoff.records import Records
from proofgen.signoff.slip import SLIP_WORDS
from proofgen.signoff.states import (
    RULES,
    Notice,
    OrderFacts,
    Page,
    State,
    When,
    read_facts,
    words_key,
)
from proofgen.signoff.wording import Known

__all__ = [
    "RULES",
    "SLIP_WORDS",
    "AnswerKind",
    "Edition",
    "EventKind",
    "Known",
    "Notice",
    "OrderFacts",
    "Outcome",
    "Page",
    "Records",
    "Signed",
    "State",
    "When",
    "admit",
    "canonical",
    "changes",
    "read_facts",
    "take_answer",
    "take_in_person",
    "three_codes",
    "words_key",
]
