"""Check words/letter-height."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import at_most
from proofgen.checks.registry import PRACTICE, Said, check, stop, warn
from proofgen.checks.subjects import LayerSubject, placed_words
from proofgen.model import PlacedWords
from proofgen.units import number


@check(
    "words/letter-height",
    over=placed_words,
    why="Fine strokes drown in the weave; a name has to be read at arm's length.",
    source=f"{PRACTICE}; letter_height in shop.yaml, height of a capital",
    codes={
        "small": "letters lower than the limit",
        "tiny": "letters lower than half the limit",
    },
)
def letter_height(subject: LayerSubject[PlacedWords]) -> Iterator[Said]:
    """All letters are high enough to be read on cloth."""
    high = subject.placed.letter_mm
    limit = subject.given.limits.letter_height_mm
    if high <= 0 or high >= limit:
        return
    tiny = high < limit / 2
    shown = at_most(high, 1)
    make = stop if tiny else warn
    yield make(
        "tiny" if tiny else "small",
        f"The capitals would be {shown} mm high; below {number(limit, 2)} mm letters are hard to "
        + ("read on cloth, and these are less than half of that." if tiny else "read on cloth."),
        "Use fewer words here, or a design with more room for them.",
        measure=high,
        limit=limit / 2 if tiny else limit,
    )
