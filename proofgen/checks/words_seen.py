"""Checks of words as they are set: do they fit, can they be read, has the font their letters."""

from __future__ import annotations

import numpy as np

from proofgen.checks.areas import on_panels
from proofgen.checks.frame import Remarks, check, note, skipped, stop, warn
from proofgen.checks.mending import paler_cloth
from proofgen.checks.other_fonts import WordsInFont, words_in_fonts
from proofgen.checks.phrases import letter
from proofgen.checks.subjects import InkedWords, LaidLayer, inked_words, placed_words
from proofgen.colour import hex_to_rgb8, luminance
from proofgen.model import Limits, Placed, PlacedColour, PlacedPhoto, PlacedWords
from proofgen.model.limits import PRACTICE
from proofgen.say import at_most, joined, mm, number, quoted
from proofgen.views.grounds import Bytes, Contrast, contrast_on, ground_of


@check(
    "layout/words-fit",
    placed_words,
    why="Words are fitted by their size and by lines, never squashed; a long name comes out small "
    "beside the others.",
    source="the design's own box and size",
    codes={
        "too-long": "the words do not fit their place at any size",
        "made-smaller": "the words were set smaller than asked",
    },
)
def words_fit(laid: LaidLayer[PlacedWords], _: Limits) -> Remarks:
    """All words fit their place at the size asked."""
    words, design = laid.placed, laid.line.design
    if not words.fits:
        yield stop(
            "too-long",
            f"{quoted(words.text)} does not fit its place in this design.",
            "Please shorten it, or choose a design with more room for words.",
        )
    elif words.size_asked_mm - words.size_mm > 0.005:
        label = design.label(words.slot) if design else words.slot
        yield note(
            "made-smaller",
            # Not the words nor their size: twenty long names of a list are one finding.
            f"“{label}” is set smaller than the design’s {mm(words.size_asked_mm)} so that it fits."
            if words.slot
            else f"Words of this design are set {mm(words.size_mm)} high instead of "
            f"{mm(words.size_asked_mm)} so that they fit.",
            measure=words.size_mm,
            limit=words.size_asked_mm,
            furthest=f"The smallest is {quoted(words.text)}, {mm(words.size_mm)}.",
        )


@check(
    "words/letter-height",
    placed_words,
    why="Fine strokes drown in the weave; a name has to be read at arm's length.",
    source=f"{PRACTICE}; letter_height in shop.yaml, height of a capital",
    codes={
        "small": "letters lower than the limit",
        "tiny": "letters lower than half the limit",
    },
)
def letter_height(laid: LaidLayer[PlacedWords], limits: Limits) -> Remarks:
    """All letters are high enough to be read on cloth."""
    high, limit = laid.placed.letter_mm, limits.letter_height_mm
    if high <= 0 or high >= limit:
        return
    hard = (
        f"The capitals would be {at_most(high, 1)} mm high; below {number(limit, 2)} mm letters "
        "are hard to read on cloth"
    )
    cure = "Use fewer words here, or a design with more room for them."
    if laid.placed.size_mm >= laid.placed.size_asked_mm:  # as the design asks: room was enough
        cure = "Write a larger size: for these words in the design, or choose another design."
    if high < limit / 2:
        says = f"{hard}, and these are less than half of that."
        yield stop("tiny", says, cure, measure=high, limit=limit / 2)
    else:
        yield warn("small", f"{hard}.", cure, measure=high, limit=limit)


_MOST_LETTERS = 8  # that are named


@check(
    "words/missing-letters",
    words_in_fonts,
    why="A letter that the font lacks is drawn as an empty box, without a word.",
    source="the font's own table of letters (cmap); names from the Unicode Character Database",
    codes={"missing": "the font lacks some of the letters"},
)
def missing_letters(words: WordsInFont, _: Limits) -> Remarks:
    """The fonts have every letter."""
    placed = words.laid.placed
    lacking = list(dict.fromkeys(placed.missing))
    if lacking:
        names = [letter(char) for char in lacking[:_MOST_LETTERS]]
        if len(lacking) > _MOST_LETTERS:
            names.append(f"{len(lacking) - _MOST_LETTERS} more")
        font = placed.font or "The font of this design"
        yield stop(
            "missing",
            f"{font} has no {joined(names, 'or')}.",
            words.cure,
            measure="".join(lacking),
        )


_VANISHING_RATIO, _VANISHING_DIFFERENCE = 1.3, 10.0
_BARE = "#ffffff"  # no ink: what is white in a design
_PICTURE = "picture"  # what lies behind words, where it is no plain colour


@check(
    "words/contrast",
    inked_words,
    why="Ink is see-through: on coloured cloth pale words vanish and dark ones shift. White words "
    "are bare cloth.",
    source="WCAG 2.2, 1.4.3 (3:1 for large text); CIEDE2000 (Sharma, Wu, Dalal 2005); that a "
    f"difference under 10 with a ratio under 1.3 vanishes is {PRACTICE}",
    codes={
        "weak": "words stand out too little",
        "vanishing": "words can hardly be told from what is behind them",
        "over-picture": "words lie on a picture that cannot be read",
    },
)
def contrast(words: InkedWords, limits: Limits) -> Remarks:
    """All words stand out from what is behind them."""
    placed, least = words.laid.placed, limits.contrast
    # Not the words themselves: forty names with one fault are one finding.
    name = f"The words of “{placed.slot}”" if placed.slot else "The words"
    least_said = f"{number(least)} to 1 is the least that reads well."
    behind, dark = _behind(words), _on_dark_cloth(words, limits)
    if _PICTURE in behind:
        ground = ground_of(words.laid.layout, placed, words.laid.line.materials)
        if ground is not None:
            seen = _stand_out(words, ground)
            yield from _weakness(
                seen,
                least,
                f"{name} would vanish: their colour is nearly that of the picture behind them on "
                "this cloth.",
                f"{name} are hard to read over parts of the picture: they stand out "
                f"{at_most(seen.low, 1)} to 1 on this cloth; {least_said}",
                dark or "Put a plain ground behind the words, or choose another colour for them.",
            )
            return
        yield skipped(
            "over-picture",
            "These words lie on a picture that cannot be read; look at the proof whether they "
            "stand out.",
        )
    plain = [
        _stand_out(words, np.array([hex_to_rgb8(colour)], dtype=np.uint8))
        for colour in sorted(behind - {_PICTURE})
    ]
    if plain:
        seen = min(plain, key=lambda one: (one.middle, one.apart))
        yield from _weakness(
            seen,
            least,
            f"{name} would vanish on this cloth: their colour is nearly that of what is behind.",
            f"{name} are hard to read: they stand out {at_most(seen.low, 1)} to 1 on this "
            f"cloth; {least_said}",
            dark or "Choose a darker colour for the words, or other cloth.",
        )


def _on_dark_cloth(words: InkedWords, limits: Limits) -> str:
    """The cure on a dark cloth, '' on another. Ink makes nothing paler there; bare cloth in a
    ground of black ink is the most that can be had, and named where it is enough."""
    layout, placed = words.laid.layout, words.laid.placed
    if luminance(hex_to_rgb8(layout.cloth_hex)) >= limits.dark_cloth:
        return ""
    black = np.zeros((1, 3), dtype=np.uint8)
    best = contrast_on(_BARE, black, layout.cloth_hex, layout.correction)
    if best.low < limits.contrast or (
        placed.colour.lower() == _BARE and _BARE not in _behind(words)
    ):
        return f"{paler_cloth(layout.blank, limits)}."
    return (
        f"{paler_cloth(layout.blank, limits)}, or leave the words bare (white) in a ground of dark "
        "ink."
    )


def _weakness(seen: Contrast, least: float, vanishing: str, weak: str, cure: str) -> Remarks:
    """What is to be said, if anything, of words that stand out so little."""
    if seen.middle < _VANISHING_RATIO and seen.apart < _VANISHING_DIFFERENCE:
        yield stop("vanishing", vanishing, cure, measure=seen.middle, limit=_VANISHING_RATIO)
    elif seen.low < least:
        yield warn("weak", weak, cure, measure=seen.low, limit=least)


def _behind(words: InkedWords) -> set[str]:
    """What lies behind the ink: colours ('#rrggbb', white for bare cloth), _PICTURE for others."""
    layout, placed = words.laid.layout, words.laid.placed
    everywhere: set[str] = set()
    for panel, ink in on_panels(layout.plan, placed.face, words.ink):
        behind = {_BARE}
        for layer in layout.layers:
            if layer is placed:
                break
            for spot, rect in layout.on_panel(layer):
                if spot != panel or not _inks(layer) or rect.overlap(ink) is None:
                    continue
                what = layer.colour if isinstance(layer, PlacedColour) else _PICTURE
                # A layer that covers all of it hides what was there; another only adds itself.
                behind = {what} if rect.holds(ink) else behind | {what}
        everywhere |= behind
    return everywhere


def _inks(layer: Placed) -> bool:
    if isinstance(layer, PlacedPhoto):
        return layer.photo is not None and layer.crop is not None
    return not isinstance(layer, PlacedWords)


def _stand_out(words: InkedWords, ground: Bytes) -> Contrast:
    """Of the words from the inks (n, 3) behind them."""
    layout = words.laid.layout
    return contrast_on(words.laid.placed.colour, ground, layout.cloth_hex, layout.correction)
