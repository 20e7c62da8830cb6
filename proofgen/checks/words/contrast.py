"""Check words/contrast."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from proofgen.checks.areas import on_panels
from proofgen.checks.phrases import at_most
from proofgen.checks.registry import PRACTICE, Said, check, skipped, stop, warn
from proofgen.checks.subjects import InkSubject, inked_words
from proofgen.colour import ciede2000, contrast_ratio, hex_to_rgb8, ink_on_cloth, lab_of
from proofgen.model import Layout, Placed, PlacedColour, PlacedPhoto, PlacedWords
from proofgen.units import number
from proofgen.views.grounds import Contrast, contrast_on, ground_of

VANISHING_RATIO, VANISHING_DIFFERENCE = 1.3, 10.0


def on_cloth(colour: str, layout: Layout) -> np.ndarray:
    """An ink colour as it looks on the cloth, 8-bit sRGB, shape (3,)."""
    ink = np.asarray(hex_to_rgb8(colour), dtype=np.uint8).reshape(1, 1, 3)
    return np.asarray(ink_on_cloth(ink, layout.cloth_hex, layout.correction)).reshape(3)


def as_hex(rgb: np.ndarray) -> str:
    """(3,) of 0..255 as '#rrggbb'."""
    return "#" + "".join(f"{int(v):02x}" for v in rgb)


def difference(first: np.ndarray, second: np.ndarray) -> float:
    """CIEDE2000 between two 8-bit sRGB colours."""
    return float(ciede2000(lab_of(first), lab_of(second)))


def beneath(layout: Layout, words: InkSubject) -> set[str]:
    """What lies behind the ink: colours ('#rrggbb'), '' for bare cloth, 'picture' for a picture."""
    found: set[str] = set()
    plan = layout.plan
    for panel, ink in on_panels(plan, words.placed.face, words.ink):
        behind = {""}
        for layer in layout.layers:
            if layer is words.placed:
                break
            for spot, rect in layout.on_panel(layer):
                if spot != panel or not _inks(layer) or rect.overlap(ink) is None:
                    continue
                what = layer.colour if isinstance(layer, PlacedColour) else "picture"
                # A layer that covers all of it hides what was there; another only adds itself.
                behind = {what} if rect.holds(ink) else behind | {what}
        found |= behind
    return found


def _inks(layer: Placed) -> bool:
    if isinstance(layer, PlacedPhoto):
        return layer.photo is not None and layer.crop is not None
    return not isinstance(layer, PlacedWords)


@check(
    "words/contrast",
    over=inked_words,
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
def contrast(subject: InkSubject) -> Iterator[Said]:
    """All words stand out from what is behind them."""
    layout, least = subject.layout, subject.given.limits.contrast
    behind = beneath(layout, subject)
    # Not the words themselves: forty names with one fault are one finding.
    says = f"The words of “{subject.placed.slot}”" if subject.placed.slot else "The words"
    if "picture" in behind:
        ground = ground_of(layout, subject.placed, subject.given.store)
        if ground is not None:
            yield from _over_picture(_seen(subject, ground), says, least)
            return
        yield skipped(
            "over-picture",
            "These words lie on a picture that cannot be read; look at the proof whether they "
            "stand out.",
        )
    words = on_cloth(subject.placed.colour, layout)
    worst: tuple[float, float] | None = None
    for colour in sorted(behind - {"picture"}):
        ground = on_cloth(colour or "#ffffff", layout)
        pair = (contrast_ratio(as_hex(words), as_hex(ground)), difference(words, ground))
        worst = min(worst, pair) if worst else pair
    if worst is None:
        return
    ratio, apart = worst
    cure = "Choose a darker colour for the words, or other cloth."
    if ratio < VANISHING_RATIO and apart < VANISHING_DIFFERENCE:
        yield stop(
            "vanishing",
            f"{says} would vanish on this cloth: their colour is nearly that of what is behind.",
            cure,
            measure=ratio,
            limit=VANISHING_RATIO,
        )
    elif ratio < least:
        yield warn(
            "weak",
            f"{says} stand out {at_most(ratio, 1)} to 1 from what is behind them on this "
            f"cloth; below {number(least)} to 1 words are hard to read.",
            cure,
            measure=ratio,
            limit=least,
        )


def _seen(subject: InkSubject, ground: np.ndarray) -> Contrast:
    layout = subject.layout
    return contrast_on(subject.placed.colour, ground, layout.cloth_hex, layout.correction)


def _over_picture(seen: Contrast, says: str, least: float) -> Iterator[Said]:
    """Words on a picture: measured against every half millimetre of it that lies behind them."""
    cure = "Put a plain ground behind the words, or choose another colour for them."
    if seen.middle < VANISHING_RATIO and seen.apart < VANISHING_DIFFERENCE:
        yield stop(
            "vanishing",
            f"{says} would vanish: their colour is nearly that of the picture behind them on this "
            "cloth.",
            cure,
            measure=seen.middle,
            limit=VANISHING_RATIO,
        )
    elif seen.low < least:
        yield warn(
            "weak",
            f"{says} stand out only {at_most(seen.low, 1)} to 1 from parts of the picture behind "
            f"them on this cloth; below {number(least)} to 1 words are hard to read.",
            cure,
            measure=seen.low,
            limit=least,
        )
