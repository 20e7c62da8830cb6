"""Records answers, and admits to the press only artwork that was signed as it stands."""

from proofgen.signoff.answers import take_answer, take_in_person
from proofgen.signoff.asked import came_with
from proofgen.signoff.codes import looks_like_code, spelled, spoken_codes
from proofgen.signoff.differences import Difference, changes, differences, in_words
from proofgen.signoff.digests import canonical
from proofgen.signoff.documents import EditionHead, Tally, UsedLine
from proofgen.signoff.door import Signed, admit
from proofgen.signoff.earlier import Earlier
from proofgen.signoff.editions import Answer, AskedChange, Edition, drafted
from proofgen.signoff.facts import OrderFacts, read_facts, seen_before, words_key
from proofgen.signoff.kinds import ANSWERS, CHOICES, AnswerKind, EventKind
from proofgen.signoff.leave import leave_given
from proofgen.signoff.names import new_key
from proofgen.signoff.outcome import Outcome
from proofgen.signoff.records import Records
from proofgen.signoff.since import press_changes, promises, terms_changes
from proofgen.signoff.slip import words_in
from proofgen.signoff.stand import since, stand
from proofgen.signoff.states import RULES, Notice, Page, Refusal, Rules, State, When
from proofgen.signoff.used import InStock, Used, spoiled_since, times_spoiled, used
from proofgen.signoff.wording import Known

__all__ = [
    "ANSWERS",
    "CHOICES",
    "RULES",
    "Answer",
    "AnswerKind",
    "AskedChange",
    "Difference",
    "Earlier",
    "Edition",
    "EditionHead",
    "EventKind",
    "InStock",
    "Known",
    "Notice",
    "OrderFacts",
    "Outcome",
    "Page",
    "Records",
    "Refusal",
    "Rules",
    "Signed",
    "State",
    "Tally",
    "Used",
    "UsedLine",
    "When",
    "admit",
    "came_with",
    "canonical",
    "changes",
    "differences",
    "drafted",
    "in_words",
    "leave_given",
    "looks_like_code",
    "new_key",
    "press_changes",
    "promises",
    "read_facts",
    "seen_before",
    "since",
    "spelled",
    "spoiled_since",
    "spoken_codes",
    "stand",
    "take_answer",
    "take_in_person",
    "terms_changes",
    "times_spoiled",
    "used",
    "words_in",
    "words_key",
]
