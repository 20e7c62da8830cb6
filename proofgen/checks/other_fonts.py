"""Which of the fonts that are here have the letters that a design's own font lacks. The fonts are
opened only where letters are missing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from proofgen.artwork.materials import Materials
from proofgen.checks.subjects import CheckInput, LaidLayer, Spot, placed_words
from proofgen.errors import Place
from proofgen.model import PlacedWords
from proofgen.render.fonts import FOLDER
from proofgen.say import joined, pieces

_MOST = 3  # fonts that are named


@dataclass(frozen=True, slots=True)
class WordsInFont:
    """Words as they are laid, and the cure where their font lacks letters of them."""

    laid: LaidLayer[PlacedWords]
    cure: str = ""


def words_in_fonts(given: CheckInput) -> Iterator[tuple[Spot, WordsInFont]]:
    """Every placed slot of words that says something. Words of one place in a design that lack
    letters are told once which font would serve all words of that place."""
    some = list(placed_words(given))
    by_place: dict[Place, list[tuple[Spot, PlacedWords]]] = defaultdict(list)
    for spot, laid in some:
        by_place[laid.placed.place].append((spot, laid.placed))
    serving = {
        place: _Serving(given.materials, there)
        for place, there in by_place.items()
        if any(placed.missing for _, placed in there)
    }
    for spot, laid in some:
        lacking = laid.placed.missing
        cure = serving[laid.placed.place].cure(lacking) if lacking else ""
        yield spot, WordsInFont(laid, cure)


class _Serving:
    """The fonts for one place in a design, out of all words of an order there."""

    def __init__(self, materials: Materials, there: Sequence[tuple[Spot, PlacedWords]]) -> None:
        self.materials, self.there = materials, there
        self.place, self.now = there[0][1].place, there[0][1].font
        self.first, placed = next((s, p) for s, p in there if p.missing)
        self.first_lacking = placed.missing
        self.for_all = self._fonts(p.text + p.missing for _, p in there)

    def cure(self, lacking: str) -> str:
        """What to do where these letters are missing; the same for the same letters."""
        if self.for_all and lacking != self.first_lacking:
            at = f", as at {pieces(self.first.pieces[:1])}" if self.first.pieces else ""
            return f"Please choose another design, or font: {self.for_all[0]}{at}."
        theirs = [p.text + p.missing for _, p in self.there if p.missing == lacking]
        named = self.for_all or self._fonts(theirs)
        letters = "this letter" if len(set(lacking)) == 1 else "these letters"
        here = f"in {self.place}" if self.place.file else "in the design"
        if not named:
            return (
                f"Please choose another design, or put a font that has {letters} into the shop’s "
                f"folder {FOLDER}/ and write its name {here}, as font: NAME; no font that is here "
                "has all letters of these words."
            )
        more = f" (so {'has' if len(named) == 2 else 'have'} {joined(named[1:])})"
        alone = len({placed.text for _, placed in self.there}) == 1
        what = "these words" if alone or not self.for_all else "all words of this order there"
        but = "" if alone or self.for_all else ", but not of all words of this order there"
        return (
            f"Please choose another design, or write font: {named[0]} {here}, which has all "
            f"letters of {what}{but}{more if named[1:] else ''}."
        )

    def _fonts(self, texts: Iterable[str]) -> list[str]:
        """A few fonts, of each family one, that have all letters of these texts."""
        whole = "".join(dict.fromkeys("".join(texts)))
        fonts, found = self.materials.fonts, list[str]()
        families: dict[Path, list[str]] = defaultdict(list)
        for name, file in sorted(fonts.files.items(), key=lambda one: not fonts.is_own(one[1])):
            families[file if fonts.is_own(file) else file.parent].append(name)
        for names in families.values():
            for name in sorted(names, key=self._unlike):
                file = fonts.files[name]
                if not fonts.fault(file) and not self.materials.typeface(file).missing(whole):
                    found.append(name)
                    break
            if len(found) == _MOST:
                break
        return found

    def _unlike(self, name: str) -> tuple[bool, int]:
        """How unlike in style a font is to that for which it would stand: bold for bold."""
        return name.rpartition(" ")[2] != self.now.rpartition(" ")[2], len(name)
