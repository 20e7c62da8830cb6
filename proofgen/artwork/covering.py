"""What later layers lay over a photo: a board, a ribbon, a plain ground."""

from __future__ import annotations

from collections.abc import Iterable
from typing import assert_never

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.artwork.maps import GRID, Map, cells_of, remember_map
from proofgen.errors import ProofgenError
from proofgen.geometry import Part, Plan, Rect
from proofgen.model import (
    PhotoFacts,
    Placed,
    PlacedArt,
    PlacedColour,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
)
from proofgen.photo.opening import Pictures

_WORDS = 0.6  # letters hide a part of what is behind them, and want it calm
_KIND = "cover/1"  # raise when the map changes


def cover_map(facts: PhotoFacts, pictures: Pictures) -> Map:
    """How much each of (48, 48) cells of a picture hides, 0 clear to 1; ones when it has no clear
    parts or cannot be read (its own finding tells)."""
    if not facts.has_alpha or not facts.usable:
        return np.ones((GRID, GRID))
    try:
        return remember_map(pictures, _KIND, facts, (4 * GRID, 4 * GRID), _cover)
    except ProofgenError:
        return np.ones((GRID, GRID))


def _cover(image: Image.Image) -> Map:
    if image.mode != "RGBA":
        return np.ones((GRID, GRID))
    return np.asarray(image.getchannel("A").resize((GRID, GRID)), dtype=np.float64) / 255


def _hides(placed: Placed, across: Map, down: Map, pictures: Pictures) -> Map:
    """How much a layer hides at places given as shares of its own rectangle, inside it."""
    size = (len(down), len(across))
    match placed:
        case PlacedWords():
            return np.full(size, _WORDS)
        case PlacedColour():
            return np.ones(size)
        case PlacedPattern():
            return np.full(size, float(cover_map(placed.picture, pictures).mean()))
        case PlacedArt():
            picture, crop = placed.picture, placed.crop
        case PlacedPhoto(photo=PhotoFacts() as picture, crop=Rect() as crop):
            pass
        case PlacedPhoto():
            return np.zeros(size)
        case _:
            assert_never(placed)
    cells = cover_map(picture, pictures)
    rows = cells_of(down, crop.y, crop.height, picture.height_px)
    cols = cells_of(across, crop.x, crop.width, picture.width_px)
    return np.asarray(cells[rows][:, cols])


def _on_part(
    placed: Placed, part: Part, xs: Map, ys: Map, pictures: Pictures
) -> tuple[NDArray[np.bool_], NDArray[np.bool_], Map]:
    """Rows and columns of the panel's places that a layer lies on, and how much it hides there."""
    rect = part.to_panel(placed.rect)
    bound = rect.overlap(part.target)
    if bound is None:
        return np.zeros(len(ys), bool), np.zeros(len(xs), bool), np.zeros((0, 0))
    cols = (xs >= bound.x) & (xs < bound.right)
    rows = (ys >= bound.y) & (ys < bound.bottom)
    across = (xs[cols] - rect.x) / rect.width
    down = (ys[rows] - rect.y) / rect.height
    if part.turned:
        across, down = 1 - across, 1 - down
    return rows, cols, _hides(placed, across, down, pictures)


def hidden_by(
    above: Iterable[Placed], plan: Plan, panel: str, xs: Map, ys: Map, pictures: Pictures
) -> Map:
    """Share hidden by the layers `above` at each of the places xs × ys of a panel (mm), 0 to 1;
    shape (len(ys), len(xs))."""
    clear = np.ones((len(ys), len(xs)))
    for placed in above:
        for part in plan.canvases[placed.face].parts:
            if part.panel == panel:
                rows, cols, hides = _on_part(placed, part, xs, ys, pictures)
                if hides.size:
                    clear[np.ix_(rows, cols)] *= 1 - hides
    return 1 - clear
