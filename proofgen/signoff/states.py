"""Where an order stands: one table of states, and all that each of them allows."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import Enum, StrEnum
from typing import NamedTuple

from proofgen.say import capital
from proofgen.say.tongue import to_say
from proofgen.signoff.kinds import EventKind


class State(StrEnum):
    """Where an order stands, in the word that `orders` prints; the trade's own where it has one."""

    DRAFT = "draft"
    STOPPED = "stopped"
    READY = "ready"
    OUT = "out"
    CHANGES = "changes"
    TWO_ANSWERS = "two answers"
    WORDS = "words"
    SIGNED = "signed"
    VOIDED = "voided"
    PRESSED = "pressed"
    HANDED_OVER = "handed over"
    EXPIRED = "expired"
    WITHDRAWN = "withdrawn"
    FORGOTTEN = "forgotten"


class When(Enum):
    """When something is made of an order."""

    NEVER = "never"
    NAMED = "only when the maker names the order"
    UNASKED = "by itself as well, but never again what the customer was sent"


class Page(Enum):
    """What is written at an order's link while no plain notice takes its place."""

    FORM = "the latest proof with its form, set again when anything on it changed"
    UNTOUCHED = "nothing: what may lie there is of other artwork, and stays as it is"


@dataclass(frozen=True, slots=True)
class Notice:
    """The plain page that takes a proof's place: why it no longer shows, as marked sentences."""

    title: str
    says: str


class Refusal(NamedTuple):
    """Why something is not done, and the cure; {order} and {edition} are filled."""

    problem: str
    cure: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """All that depends on a state. In the sentences {order}, {edition}, {next} and {day} are
    filled: the order, its latest edition, the one after it, the last day for an answer; and {file}:
    where the order's words are written."""

    proof: When  # a new edition is made; of stops, once they are mended
    press: When | Refusal  # sheets and tickets are made, or why they are not
    no_answer: str  # why an answer counts no more; '' where it counts
    page: Page | Notice
    notes: Collection[EventKind]  # what the maker may record
    # What leads here, whatever else is so; of several states the one that is last of all counts.
    after: EventKind | None = None
    unchanged: Refusal | None = None  # why nothing that did not change is shown once more
    waits: bool = False  # the customer is to move
    sent_back: bool = False  # the customer asked for a change, so one made since is shown unnamed
    # The first sentence of the receipt for an answer that left the order here, marked.
    thanks: str = to_say(
        "thank you for your answer. We change what you wrote and show you a new proof; nothing is "
        "pressed before you have said yes to it."
    )
    banner: str = ""  # what the top of the proof's page tells the customer, as a marked sentence
    stops: bool = False  # a build that leaves it so ends with a finding
    stands: str  # why it is not elsewhere, after a colon: 'its proof is not answered yet'
    step: str  # the one thing to do next
    own: str = ""  # the same for the shop's own order, where that is another
    ready: str = ""  # the same while its press sheets lie in the workroom

    @property
    def closed(self) -> bool:
        """Whether it is out of the daily commands: no change in its folder brings it back."""
        return self.after is not None

    @property
    def names_file(self) -> bool:
        """Whether the next step says where the order's words are written."""
        return "{file}" in self.step

    @property
    def answerable(self) -> bool:
        """Whether the page that lies at the link still asks for an answer."""
        return not self.no_answer and self.page is Page.FORM

    @property
    def has_letter(self) -> bool:
        """Whether there is a proof at the link that a letter could bring somebody to."""
        return EventKind.SENT in self.notes

    @property
    def has_link(self) -> bool:
        """Whether the link is given out: it leads, or may lead once more, to a proof."""
        return not (self.closed and isinstance(self.page, Notice))

    @property
    def can_be_shown(self) -> bool:
        """Whether `proof`, with the order's name, puts anything at the link."""
        return self.proof is not When.NEVER or self.page is Page.FORM


_PROVE = "make a new proof and have it answered: proofgen proof {order}"
_UNANSWERED = Refusal(
    "proof {edition} of {order} is not answered yet",
    "wait for the answer, then: proofgen answer FILE; or, with the customer before you: "
    "proofgen answer {order} --in-person NAME",
)
# What is to be done where anything of an order is to read otherwise.
CHANGE_IT = (
    "put what was asked for into {file}, or one word: proofgen change {order} OLD NEW; "
    "then: proofgen proof {order}"
)
OR_CHANGE = "else change {file}, then: proofgen proof {order}"
WORDS_CURE = (
    "`proofgen orders` shows it; if nothing is to change: proofgen answer --read {order}; "
    f"{OR_CHANGE}"
)
_AGAIN = "to show the same once more all the same: proofgen proof {order} --again"
APPLY = (
    "put them into the order, once you have looked: proofgen answer --apply {order}; "
    "then: proofgen proof {order}"
)
ASK_WHAT = f"ask the customer what it should be, then {CHANGE_IT}"
# The first where the customer's own words seem to say which word.
SWAP = (
    "if this is what was asked for, type it: {swap}; or put it into {file}; "
    "then: proofgen proof {order}"
)


def file_of(order: str) -> str:
    """Where an order is written, in the shop's folder."""
    return f"orders/{order}/order.yaml"


_SIGN_OWN = (
    "Look at proof {edition}, then sign it yourself: proofgen answer {order} --in-person NAME"
)
_NEVER, _NAMED, _UNASKED = When.NEVER, When.NAMED, When.UNASKED
_SENT = frozenset({EventKind.SENT})

# fmt: off
RULES: Mapping[State, Rules] = {
    State.DRAFT: Rules(
        proof=_UNASKED, page=Page.UNTOUCHED, notes=(), no_answer="",
        press=Refusal("{order} has no proof yet", "make one: proofgen proof {order}"),
        stands="it has no proof of how it is now",
        step="Make proof {next}: proofgen proof {order}",
    ),
    State.STOPPED: Rules(
        proof=_UNASKED, page=Page.UNTOUCHED, notes=(), no_answer="",
        press=Refusal("{order} has a finding in its way", "see it: proofgen check {order}"),
        stops=True,
        stands="a finding stands in its way",
        step="See what stops it: proofgen check {order}",
    ),
    State.READY: Rules(
        proof=_NEVER, page=Page.FORM, notes=_SENT, no_answer="",
        press=_UNANSWERED,
        stands="its proof is not answered yet",
        step="Send the letter, then note it: proofgen letter {order} --sent; "
        "or, with the customer before you: proofgen answer {order} --in-person NAME",
        own=_SIGN_OWN,
    ),
    State.OUT: Rules(
        proof=_NEVER, page=Page.FORM, notes=_SENT, no_answer="",
        press=_UNANSWERED,
        waits=True,
        stands="its customer has not answered yet",
        own=_SIGN_OWN,
        step="Wait for the answer until {day}; when it comes: proofgen answer FILE",
    ),
    State.CHANGES: Rules(
        proof=_NAMED, page=Page.FORM, notes=_SENT, no_answer="", sent_back=True,
        press=Refusal("the customer wants changes to proof {edition} of {order}", _PROVE),
        unchanged=Refusal(
            "nothing of {order} changed since proof {edition}, and its customer asked for a change",
            f"{CHANGE_IT}; {_AGAIN}",
        ),
        stands="its customer asked for a change",
        step=capital(CHANGE_IT),
        banner=to_say(
            "You asked us to change something, so nothing is pressed from this page. "
            "We make a new proof and send it to you."
        ),
    ),
    State.TWO_ANSWERS: Rules(
        thanks=to_say(
            "thank you for your answer. It differs from one that came before, so nothing is "
            "pressed until we have asked you which of them holds."
        ),
        proof=_NAMED, page=Page.FORM, notes=_SENT, no_answer="",
        press=Refusal(
            "proof {edition} of {order} has two answers that differ",
            "ask which one holds, then: proofgen proof {order}",
        ),
        stands="two answers to its proof came, and they differ",
        step="Ask which one holds, {both}; put a change into {file}; then make a new proof: "
        "proofgen proof {order}",
        banner=to_say(
            "Two answers to this proof reached us, and they differ, so nothing is pressed yet. "
            "We will ask you which one holds."
        ),
    ),
    State.WORDS: Rules(
        thanks=to_say(
            "thank you for your answer. You also wrote something to us; we read it before anything "
            "is pressed."
        ),
        proof=_NAMED, page=Page.FORM, no_answer="",
        notes=_SENT | {EventKind.READ},
        press=Refusal(
            "the customer wrote something about proof {edition} of {order} that you have not read",
            WORDS_CURE,
        ),
        unchanged=Refusal(
            "nothing of {order} changed since proof {edition}, about which the customer wrote "
            "something",
            "if nothing is to change: proofgen answer --read {order}; " + _AGAIN,
        ),
        stands="its customer wrote something you have not read",
        step="Read the words below. If nothing is to change: proofgen answer --read {order}; "
        f"{OR_CHANGE}",
        banner=to_say(
            "Your answer is here. We read what you wrote beside it before anything is pressed."
        ),
    ),
    State.SIGNED: Rules(
        thanks=to_say(
            "thank you for your answer. We press your order exactly as you saw it on proof "
            "{number}."
        ),
        proof=_NEVER, press=_UNASKED, page=Page.FORM, no_answer="",
        notes=_SENT | {EventKind.PRESSED},
        stands="it is signed and not pressed yet",
        step="Make the press sheets: proofgen press {order}; "
        "once pressed: proofgen press {order} --done",
        ready="Print its sheets and press; then: proofgen press {order} --done",
        banner=to_say(
            "You said yes, so it will be pressed exactly as shown here. "
            "If something is to change after all, tell us at once."
        ),
    ),
    State.VOIDED: Rules(
        proof=_NAMED, page=Page.UNTOUCHED, notes=(), no_answer="",
        press=Refusal(
            "{order} changed after proof {edition} was signed.",
            f"put it back as it was, or {_PROVE}",
        ),
        stands="it changed after it was signed",
        step="Put it back, or make a new proof: proofgen proof {order}",
        banner=to_say(
            "Something has changed since you said yes, so nothing is pressed from this page. "
            "A new proof will come to you."
        ),
    ),
    State.PRESSED: Rules(
        proof=_NEVER, press=_NAMED, page=Page.FORM, after=EventKind.PRESSED,
        notes=_SENT | {EventKind.HANDED_OVER, EventKind.NOT_PRESSED},
        no_answer="{order} is pressed already, so its proof takes no answer",
        stands="it is pressed and not handed over yet",
        own="Put it on the shelf, then note it: proofgen handed-over {order}",
        step="Hand them over, then note it: proofgen handed-over {order}",
        banner=to_say("This has been pressed, so it takes no more answers."),
    ),
    State.HANDED_OVER: Rules(
        proof=_NEVER, press=_NAMED, page=Page.FORM, after=EventKind.HANDED_OVER,
        notes=_SENT | {EventKind.NOT_PRESSED, EventKind.NOT_HANDED_OVER},
        no_answer="{order} is pressed already, so its proof takes no answer",
        stands="it is handed over",
        own="Nothing is left to do.",
        step="Nothing is left to do; to remove the customer's data: proofgen forget {order}",
        banner=to_say("This has been pressed and handed over, so it takes no more answers."),
    ),
    State.EXPIRED: Rules(
        # An answer that came in time still counts: its own day decides.
        proof=_NAMED, notes=_SENT, no_answer="",
        press=_UNANSWERED,
        page=Notice(
            to_say("This proof has run out"),
            to_say(
                "No answer came by its date, so nothing was pressed. "
                "Write to us and we make a new one."
            ),
        ),
        stands="the last day for its answer has gone by",
        own="A new proof sets a new day: proofgen proof {order}",
        step="Ask whether it is still wanted; a new proof sets a new day: proofgen proof {order}",
    ),
    State.WITHDRAWN: Rules(
        proof=_NAMED, notes=(), after=EventKind.WITHDRAWN,
        press=Refusal("the proof of {order} was withdrawn", _PROVE),
        no_answer="the proof of {order} was withdrawn, so it takes no answer",
        page=Notice(
            to_say("This proof was taken back"),
            to_say("Nothing will be pressed from it. A new one may be on its way to you."),
        ),
        stands="its proof was withdrawn",
        step="If it is wanted after all, make a new proof: proofgen proof {order}",
    ),
    State.FORGOTTEN: Rules(
        proof=_NEVER, notes=(), after=EventKind.FORGOTTEN,
        press=Refusal("the data of {order} was removed, so it cannot be pressed"),
        no_answer="the data of {order} was removed, so it cannot be answered",
        page=Notice(
            to_say("There is nothing here any more"),
            to_say("The pictures and words of this order were deleted, as they should be."),
        ),
        stands="its data was removed",
        step="Nothing is left to do.",
    ),
}
# fmt: on
