"""What a customer is told of a finding: a sentence of its own for each code, never the cure.

The sentences stand in `finding_sentences`. A finding without one stays with the maker.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from proofgen.model import Design, Finding
from proofgen.proof.finding_sentences import IN_A_LETTER, SAYS
from proofgen.say import visible
from proofgen.say.tongue import Tongue

_TOLD = ("stop", "warn", "note")
# What nobody could look for, and the customer can.
_LOOK_YOURSELF = frozenset({"layout/faces:not-looked", "layout/faces:way-up-unknown"})
_LONGEST = 40  # letters of a text that is quoted before its sentence

_KNOWN = "{known}"  # in a sentence: how the same is written elsewhere, which the finding measured


# What is said beside the word as well, in the list that is read and ticked.
_BESIDE_WORDS = (
    "words/names:",
    "words/look-alikes:",
    "words/ordered:",
    "words/quotes:",
    "words/weekday:",
)
_ALIKE = "words/repeated:alike"


@dataclass(frozen=True, slots=True)
class BesideWord:
    """A sentence for the word of a line (1, 2 …) in a slot, on the pieces that show it."""

    line: int
    slot: str
    pieces: tuple[int, ...]
    says: str


@dataclass(frozen=True, slots=True)
class CustomerFinding:
    """What a customer reads of a finding; `accepted` is why the maker went on all the same."""

    says: str
    accepted: str = ""
    word: BesideWord | None = None


def code_of(finding: Finding) -> str:
    """Check and code, as the tables here have them."""
    return f"{finding.check}:{finding.code}"


def _about(finding: Finding, designs: Mapping[int, Design]) -> str:
    """The words it is about, or what people call their place; of photos only one of several."""
    if finding.text:
        text = visible(finding.text)
        return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
    design = designs.get(finding.line or 0)
    if design is None:
        return ""
    photos = design.slots("photo")
    slot = _slot(finding, (*design.slots("words"), *(photos if len(photos) > 1 else ())))
    return design.label(slot) if slot else ""


def _slot(finding: Finding, slots: Iterable[str]) -> str:
    """Which of the slots it is about, '' for none."""
    meant = (s for s in slots if finding.about == s or finding.about.startswith(f"{s}-"))
    return max(meant, key=len, default="")


def _beside(finding: Finding, tongue: Tongue, design: Design | None) -> BesideWord | None:
    """What is said beside the very word, where it is one of a design's."""
    code = code_of(finding)
    slot = _slot(finding, design.slots("words")) if design else ""
    if not (finding.line and slot and (code == _ALIKE or code.startswith(_BESIDE_WORDS))):
        return None
    says = _sentence(finding, SAYS[code], tongue)
    return BesideWord(finding.line, slot, finding.pieces, says)


def _said(
    finding: Finding, says: str, tongue: Tongue, designs: Mapping[int, Design], quantity: int
) -> str:
    """The sentence, after the words and the pieces it is about."""
    sentence = _sentence(finding, says, tongue)
    word = _about(finding, designs)
    pieces = tongue.pieces(finding.pieces, quantity) if finding.some else ""
    if word and pieces:
        return tongue("{pieces}, “{word}”: {sentence}", pieces=pieces, word=word, sentence=sentence)
    if word:
        return tongue("“{word}”: {sentence}", word=word, sentence=sentence)
    if pieces:
        return tongue("{pieces}: {sentence}", pieces=pieces, sentence=sentence)
    return sentence


def _sentence(finding: Finding, says: str, tongue: Tongue) -> str:
    known = _KNOWN in says
    return tongue(says, known=visible(str(finding.measure))) if known else tongue(says)


def for_customer(
    findings: Iterable[Finding],
    tongue: Tongue,
    designs: Mapping[int, Design] | None = None,
    quantity: int = 0,
    *,
    letter: bool = False,
) -> list[CustomerFinding]:
    """What a customer is told of findings, each thing once, in their order; `designs` are those of
    the order's lines by number, whose labels tell which place is meant; `quantity` is how many
    pieces the order has. A letter shows no photo, so it bids nobody look at one."""
    table = {**SAYS, **IN_A_LETTER} if letter else SAYS
    of = designs or {}
    told = (
        CustomerFinding(
            _said(one, table[code_of(one)], tongue, of, quantity),
            one.accepted,
            _beside(one, tongue, of.get(one.line or 0)),
        )
        for one in findings
        if code_of(one) in SAYS and (one.status in _TOLD or code_of(one) in _LOOK_YOURSELF)
    )
    return list(dict.fromkeys(told))
