"""How wide the sharpest edges of a picture are: one in focus is enough to call a photo sharp.

An edge blurred by sigma and then by a known a and b (all Gaussian) has slopes whose ratio gives
sigma back: r = slope(a) / slope(b), sigma^2 = (b^2 - r^2 a^2) / (r^2 - 1). Only the tops of clear
edges are asked, so noise and even areas do not count, and blurred surroundings do no harm. (The
ratio of slopes after blurring again: Zhuo and Sim 2011, Defocus map estimation from a single image,
Pattern Recognition 44(9), from memory.)

That holds for a step from dark to light. Both flanks of a line, blurred again, take from each other
as well, so that r grows to its square and a line of sigma 2 reads as 0.9: tops with a slope the
other way close by are therefore not asked, but for `lines`, which tell whether fine lines are
sharp where steps are not.

The same is asked of the picture at half and at quarter size, where a wide edge stands as steep as
before and grain half as high.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

WAYS = ((1, 0), (0, 1), (1, 1), (1, -1))  # rows and columns to the next px along a slope
_OTHER = (1, 0, 3, 2)  # the way that runs across it
_FIRST, _SECOND = 1.0, 2.0  # px of the two known blurs
_STEP = 1 / 3  # px squared: what a difference over two px blurs by itself
_SLOPE = 0.02  # of full scale a px, after the first blur: less is no clear edge
_STEEP = 0.1  # the same: this is always one, whatever noise there seems to be
_BESIDE = 5  # px each way, within which
_BACK = 0.3  # of a top's slope, the other way, makes it the flank of a line
SIDE = 48  # px of a square that is judged by itself
_ENOUGH = 10  # tops of edges in a square
_SQUARES = 3  # squares with enough edges; fewer tell nothing about the whole
_SHARPEST = 0.02  # share of squares that stands for the sharpest part
_WIDEST = 12.0  # px; wider than this is called this

_EDGE = 4  # px at the picture's own edge that are not asked
_BAND = 4 * SIDE  # rows worked at a time: few enough to stay in the processor's cache
_MARGIN = 16  # rows beyond them that blurs and slopes reach into

_PATCH = 12  # every second px of 24: a patch whose slopes are told apart from their mean
_EVENEST = 0.05  # share of patches, the most even ones, that show what noise there is
_CLIPPED = 0.06  # of full scale: nearer to black or white than this, noise is cut off
_TOLD = 0.25  # share of patches that must tell of noise; fewer are the strokes of a drawing

Slopes = NDArray[np.float32]
_Places = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Squares:
    """Squares with enough edges: where they lie, and the middle width (px) of their edges."""

    rows: _Places
    columns: _Places
    widths: NDArray[np.float32]

    def sharpest(self, least: int = _SQUARES) -> float | None:
        """Width (px) of the sharpest few; None if fewer than `least` squares have edges."""
        if len(self.widths) < least:
            return None
        widths = np.sort(self.widths)
        return round(float(widths[min(len(widths) - 1, max(1, int(len(widths) * _SHARPEST)))]), 3)

    def inside(self, shape: tuple[int, int], share: float) -> Squares:
        """Those whose middles lie farther than `share` of the sides from the picture's edge."""
        keep = np.ones(len(self.widths), dtype=bool)
        for places, size in ((self.rows, shape[0]), (self.columns, shape[1])):
            middle = (places + 0.5) * SIDE / size
            keep &= (middle > share) & (middle < 1 - share)
        return Squares(self.rows[keep], self.columns[keep], self.widths[keep])


@dataclass(frozen=True)
class Edges:
    """The tops of a plane's edges: `sigma` in px, `slope` in full scale a px, `way` of WAYS, and
    whether each is a step or the flank of a line. `noise` is the slope that grain has by itself."""

    shape: tuple[int, int]
    noise: float
    sigma: NDArray[np.float32]
    slope: NDArray[np.float32]
    square: _Places
    step: NDArray[np.bool_]
    way: NDArray[np.int8]

    def squares(
        self, over: float, ways: Iterable[int] | None = None, *, lines: bool = False
    ) -> Squares:
        """Of the edges whose slope is more than `over` times that of the noise."""
        asked = self.slope > min(max(_SLOPE, over * self.noise), _STEEP)
        if not lines:
            asked &= self.step
        if ways is not None:
            asked &= np.isin(self.way, list(ways))
        sigma, square = self.sigma[asked], self.square[asked]
        order = np.lexsort((sigma, square))
        square, sigma = square[order], sigma[order]
        starts = np.flatnonzero(np.diff(square, prepend=-1))
        counts = np.diff(starts, append=len(square))
        kept = counts >= _ENOUGH
        middles = (starts + counts // 2)[kept]
        rows, columns = np.divmod(square[middles], self.shape[1] // SIDE + 1)
        return Squares(rows, columns, sigma[middles])


def edges_of(plane: Slopes, ways: int = len(WAYS)) -> Edges:
    """Of a grey plane (0 to 1) of at least 32 px each way, along the first few of WAYS."""
    high, wide = plane.shape
    found: list[tuple[NDArray[np.generic], ...]] = []
    patches = []
    for top in range(0, high, _BAND):
        above, below = max(0, top - _MARGIN), min(high, top + _BAND + _MARGIN)
        first = _blurred(plane[above:below], _FIRST)
        second = _blurred(first, math.sqrt(_SECOND**2 - _FIRST**2))
        slopes = [_slopes(first, way) for way in WAYS[:ways]]
        patches.append(_noise(first, slopes))
        for number in range(ways):
            sigma, slope, rows, columns, steps = _tops(slopes, second, number)
            own = (rows + above >= top) & (rows + above < top + _BAND)
            square = (rows[own] + above) // SIDE * (wide // SIDE + 1) + columns[own] // SIDE
            way = np.full(len(square), number, dtype=np.int8)
            found.append((sigma[own], slope[own], square, steps[own], way))
    sigma, slope, square, steps, way = (np.concatenate(one) for one in zip(*found, strict=True))
    spread = np.concatenate(patches)
    told = spread[~np.isnan(spread)]
    enough = len(told) and len(told) >= _TOLD * len(spread)
    noise = float(np.quantile(told, _EVENEST)) if enough else 0.0
    return Edges((high, wide), noise, sigma, slope, square, steps, way)


def halved(plane: Slopes) -> Slopes:
    """The plane at half size, by the mean of four px."""
    high, wide = plane.shape[0] // 2 * 2, plane.shape[1] // 2 * 2
    level = plane[:high:2, :wide] + plane[1:high:2, :wide]
    return (level[:, ::2] + level[:, 1::2]) * np.float32(0.25)


def _blurred(plane: Slopes, sigma: float) -> Slopes:
    """Gaussian blur to four sigma, edges mirrored."""
    reach = math.ceil(4 * sigma)
    steps = np.arange(-reach, reach + 1)
    kernel = np.exp(-(steps**2) / (2 * sigma**2))
    weights = [np.float32(w) for w in kernel / kernel.sum()]
    for axis in (0, 1):
        pad = [(reach, reach) if a == axis else (0, 0) for a in (0, 1)]
        wide = np.moveaxis(np.pad(plane, pad, mode="symmetric"), axis, 0)
        size = plane.shape[axis]
        total = weights[reach] * wide[reach : reach + size]
        for step in range(reach):
            total += weights[step] * (wide[step : step + size] + wide[2 * reach - step :][:size])
        plane = np.moveaxis(total, 0, axis)
    return plane


def _shifted(plane: Slopes, rows: int, columns: int) -> Slopes:
    """The plane without its outermost px, moved by so many."""
    high, wide = plane.shape
    return plane[_EDGE + rows : high - _EDGE + rows, _EDGE + columns : wide - _EDGE + columns]


def _slopes(plane: Slopes, way: tuple[int, int]) -> Slopes:
    """Central differences a px along a way, without the outermost px."""
    down, along = way
    step = _shifted(plane, down, along) - _shifted(plane, -down, -along)
    return step * np.float32(0.5 / math.hypot(down, along))


def _noise(first: Slopes, slopes: list[Slopes]) -> NDArray[np.float32]:
    """How much slopes differ in each patch; not a number where it is black or white."""
    high, wide = (size // 2 // _PATCH * _PATCH for size in slopes[0].shape)

    def patches(plane: Slopes) -> Slopes:
        few = plane[: 2 * high : 2, : 2 * wide : 2]
        return few.reshape(high // _PATCH, _PATCH, wide // _PATCH, _PATCH)

    spread = sum(patches(slope).var(axis=(1, 3)) for slope in slopes[:2]) / 2
    light = patches(_shifted(first, 0, 0)).mean(axis=(1, 3))
    clipped = (light <= _CLIPPED) | (light >= 1 - _CLIPPED)
    return np.where(clipped, np.nan, np.sqrt(spread)).astype(np.float32).ravel()


def _tops(
    slopes: list[Slopes], second: Slopes, number: int
) -> tuple[NDArray[np.float32], NDArray[np.float32], _Places, _Places, NDArray[np.bool_]]:
    """Sigma, slope, row and column of each clear edge whose slope runs a way, and whether it is a
    step or the flank of a line."""
    down, along = WAYS[number]
    slope = np.abs(slopes[number])
    clear = slope > _SLOPE
    clear &= slope > 1.5 * np.abs(slopes[_OTHER[number]])
    # Places are counted through all rows, which is twice as fast as by row and column.
    at = np.flatnonzero(np.pad(clear, _BESIDE))
    row = clear.shape[1] + 2 * _BESIDE
    signed = np.pad(slopes[number], _BESIDE, mode="edge").ravel()
    ahead = down * row + along
    top = np.abs(signed[at])
    highest = top >= np.abs(signed[at - ahead])
    highest &= top > np.abs(signed[at + ahead])
    at, top = at[highest], top[highest]
    steps = np.ones(len(top), dtype=bool)
    back, most = np.where(signed[at] > 0, np.float32(-1), np.float32(1)), _BACK * top
    for away in range(1, round(_BESIDE / math.hypot(down, along)) + 1):
        steps &= back * signed[at - away * ahead] <= most
        steps &= back * signed[at + away * ahead] <= most
    rows, columns = np.divmod(at, row)
    rows, columns = rows + (_EDGE - _BESIDE), columns + (_EDGE - _BESIDE)
    at, ahead = rows * second.shape[1] + columns, down * second.shape[1] + along
    after = np.abs(second.ravel()[at + ahead] - second.ravel()[at - ahead])
    after *= np.float32(0.5 / math.hypot(down, along))
    ratio = (top / np.maximum(after, 1e-9)) ** 2
    square = (_SECOND**2 - ratio * _FIRST**2) / np.maximum(ratio - 1, 1e-3)
    square -= _STEP * (down * down + along * along)
    sigma = np.sqrt(np.clip(square, 0.01, _WIDEST**2)).astype(np.float32)
    return sigma, top, rows, columns, steps
