"""Check layout/words-fit."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import mm, quoted
from proofgen.checks.registry import Said, check, note, stop
from proofgen.checks.subjects import LayerSubject, placed_words
from proofgen.model import PlacedWords


def _called(subject: LayerSubject[PlacedWords]) -> str:
    """What the design's maker calls the slot."""
    slot = subject.placed.slot
    names = {line.number: line.design for line in subject.given.order.lines}
    design = subject.given.shop.designs.get(names.get(subject.line or 0, ""))
    return design.label(slot) if design else slot


@check(
    "layout/words-fit",
    over=placed_words,
    why="Words are fitted by their size and by lines, never squashed; a long name comes out small "
    "beside the others.",
    source="the design's own box and size",
    codes={
        "too-long": "the words do not fit their place at any size",
        "made-smaller": "the words were set smaller than asked",
    },
)
def words_fit(subject: LayerSubject[PlacedWords]) -> Iterator[Said]:
    """All words fit their place at the size asked."""
    placed = subject.placed
    if not placed.fits:
        yield stop(
            "too-long",
            f"{quoted(placed.text)} does not fit its place in this design.",
            "Please shorten it, or choose a design with more room for words.",
        )
    elif placed.size_asked_mm - placed.size_mm > 0.005:
        yield note(
            "made-smaller",
            # Not the words nor their size: twenty long names of a list are one finding.
            f"The words of “{_called(subject)}” are set smaller than the "
            f"{mm(placed.size_asked_mm)} of the design, so that they fit."
            if placed.slot
            else f"Words of this design are set {mm(placed.size_mm)} high instead of "
            f"{mm(placed.size_asked_mm)}, so that they fit.",
            measure=placed.size_mm,
            limit=placed.size_asked_mm,
        )
