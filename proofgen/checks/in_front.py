"""What a design draws over a part of a photo."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from proofgen.artwork.covering import hidden_by
from proofgen.checks.areas import on_panels
from proofgen.checks.subjects import LaidLayer
from proofgen.geometry import Rect
from proofgen.model import Placed, PlacedPhoto, PlacedWords
from proofgen.say import quoted

_SPOTS = 8  # places looked at across a spot, and down


def in_front(laid: LaidLayer[PlacedPhoto], spot: Rect, least: float) -> str:
    """What is drawn over more than a share `least` of a spot (mm, face frame) of a photo; '' for
    nothing."""
    layers = laid.layout.layers
    above = layers[next(i for i, one in enumerate(layers) if one is laid.placed) + 1 :]
    parts = list(on_panels(laid.plan, laid.placed.face, spot))
    for words in (one for one in above if isinstance(one, PlacedWords) and one.ink):
        ink = list(on_panels(laid.plan, words.face, words.ink or spot))
        if _shared(parts, ink) > least * spot.width * spot.height:
            return f"the words of {quoted(words.slot)}" if words.slot else quoted(words.text)
    others = [one for one in above if not isinstance(one, PlacedWords)]
    return "what the design draws over it" if _hidden(laid, parts, others) > least else ""


def _shared(these: Iterable[tuple[str, Rect]], those: Iterable[tuple[str, Rect]]) -> float:
    """How much (mm²) parts of panels have in common."""
    common = [one.overlap(other) for p, one in these for q, other in those if p == q]
    return sum(both.width * both.height for both in common if both)


def _hidden(
    laid: LaidLayer[PlacedPhoto], parts: Iterable[tuple[str, Rect]], above: Iterable[Placed]
) -> float:
    """The largest share of a part (mm on its panel) that the layers `above` hide."""
    shares = (np.arange(_SPOTS) + 0.5) / _SPOTS
    pictures = laid.line.materials.pictures
    most = 0.0
    for panel, rect in parts:
        xs, ys = rect.x + shares * rect.width, rect.y + shares * rect.height
        most = max(most, float(hidden_by(above, laid.plan, panel, xs, ys, pictures).mean()))
    return most
