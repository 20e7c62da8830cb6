"""Repeats of a pattern: how many go round, where each lies, and what its neighbours are."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image

from proofgen.geometry import Rect

_HAIR = 1e-6  # mm
# Every other column differs from its neighbours, so an odd number would not meet itself.
_PAIRED = ("mirrored", "half-drop")


def whole_repeats(way_mm: float, repeat_mm: float, lay: str) -> int:
    """How many repeats go round `way_mm` when each is to stay nearest to `repeat_mm` wide; even
    where every other column differs (mirrored, half-drop)."""
    step = 2 if lay in _PAIRED else 1
    return step * max(1, round(way_mm / repeat_mm / step))


@dataclass(frozen=True, slots=True)
class Cell:
    """One repeat: where it lies (mm), and whether it is mirrored left to right, top to bottom."""

    rect: Rect
    across: bool = False
    down: bool = False


def cells(
    over: Rect, start: tuple[float, float], wide: float, high: float, lay: str
) -> Iterator[Cell]:
    """The repeats, `wide` × `high` mm, that lie on `over`; the first has its corner at `start`."""
    for row in _steps(over.y - start[1], over.bottom - start[1], high, spare=lay == "half-drop"):
        for col in _steps(over.x - start[0], over.right - start[0], wide, spare=lay == "brick"):
            drop = 0.5 if lay == "half-drop" and col % 2 else 0.0
            side = 0.5 if lay == "brick" and row % 2 else 0.0
            rect = Rect(start[0] + (col + side) * wide, start[1] + (row + drop) * high, wide, high)
            mirrored = lay == "mirrored"
            yield Cell(rect, mirrored and col % 2 == 1, mirrored and row % 2 == 1)


def _steps(first: float, last: float, size: float, *, spare: bool) -> range:
    # One more before the first where half of them start half a repeat later.
    return range(math.floor(first / size) - spare, math.ceil(last / size - _HAIR))


def with_neighbours(tile: Image.Image, lay: str) -> Image.Image:
    """Three by three repeats with `tile` in the middle: what its edges must be mixed with when it
    is made larger or smaller."""
    pixels = np.asarray(tile)
    high, wide = pixels.shape[:2]
    if lay == "mirrored":
        room = ((high, high), (wide, wide)) + ((0, 0),) * (pixels.ndim - 2)
        return Image.fromarray(np.pad(pixels, room, mode="symmetric"))
    column = np.concatenate([pixels] * 3)
    if lay == "half-drop":
        beside = np.roll(column, high // 2, axis=0)
        return Image.fromarray(np.concatenate([beside, column, beside], axis=1))
    row = np.concatenate([pixels] * 3, axis=1)
    other = np.roll(row, wide // 2, axis=1) if lay == "brick" else row
    return Image.fromarray(np.concatenate([other, row, other]))


def turned_over(tile: Image.Image, cell: Cell) -> Image.Image:
    """The tile as it lies in a cell."""
    if cell.across:
        tile = tile.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    return tile.transpose(Image.Transpose.FLIP_TOP_BOTTOM) if cell.down else tile
