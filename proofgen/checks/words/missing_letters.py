"""Check words/missing-letters."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import joined, letter
from proofgen.checks.registry import Said, check, stop
from proofgen.checks.subjects import LayerSubject, placed_words
from proofgen.model import PlacedWords

_TOLD = 8


@check(
    "words/missing-letters",
    over=placed_words,
    why="A letter that the font lacks is drawn as an empty box, without a word.",
    source="the font's own table of letters (cmap); names from the Unicode Character Database",
    codes={"missing": "the font lacks some of the letters"},
)
def missing_letters(subject: LayerSubject[PlacedWords]) -> Iterator[Said]:
    """The fonts have every letter."""
    placed = subject.placed
    lacking = list(dict.fromkeys(placed.missing))
    if lacking:
        told = [letter(c) for c in lacking[:_TOLD]]
        if len(lacking) > _TOLD:
            told.append(f"{len(lacking) - _TOLD} more")
        font = placed.font or "The font of this design"
        yield stop(
            "missing",
            f"{font} has no {joined(told, 'or')}.",
            "Please choose another design, or ask for a font that has "
            + ("this letter." if len(lacking) == 1 else "these letters."),
            measure="".join(lacking),
        )
