"""Maps of a picture in a grid of cells, remembered by the picture's content."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.model import PhotoFacts
from proofgen.photo.exchange import Part
from proofgen.photo.opening import Pictures

GRID = 48  # cells each way

Map = NDArray[np.float64]


def cells_of(shares: Map, start: float, length: float, whole: float) -> NDArray[np.int_]:
    """In which cells of a map places of a crop lie: `shares` of its side, which starts at `start`
    and is `length` long, of a picture `whole` px long."""
    cells = ((start + shares * length) / whole * GRID).astype(int)
    inside: NDArray[np.int_] = np.clip(cells, 0, GRID - 1)
    return inside


def remember_map(
    pictures: Pictures,
    kind: str,
    facts: PhotoFacts,
    wanted: tuple[int, int],
    draw: Callable[[Image.Image], Map],
    *,
    fitted: bool = False,
) -> Map:
    """The (48, 48) map that `draw` makes of a picture, opened at the size `wanted` (px) or larger;
    `fitted`: at just that size, whatever its proportions.

    Errors: what opening the picture raises.
    """

    def make() -> Map:
        whole: Part = {"box": (0.0, 0.0, 1.0, 1.0), "size": wanted}
        opened = pictures.open_part(facts, wanted, whole) if fitted else None
        return draw(opened or pictures.open_pixels(facts, wanted))

    def load(content: bytes) -> Map:
        return np.frombuffer(content, dtype="<f8").reshape(GRID, GRID)

    def dump(cells: Map) -> bytes:
        return cells.astype("<f8").tobytes()

    return pictures.store.remember(kind, facts.pixels, make, load, dump)
