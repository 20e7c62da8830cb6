"""How wide the sharpest edges of a picture are: one in focus is enough to call a photo sharp.

An edge blurred by sigma and then by a known a and b (all Gaussian) has slopes whose ratio gives
sigma back: r = slope(a) / slope(b), sigma^2 = (b^2 - r^2 a^2) / (r^2 - 1). Only the tops of clear
edges are asked, so noise and even areas do not count, and blurred surroundings do no harm. (The
ratio of slopes after blurring again: Zhuo and Sim 2011, Defocus map estimation from a single image,
Pattern Recognition 44(9), from memory.)

That holds for a step from dark to light. Both flanks of a line, blurred again, take from each other
as well, so that r grows to its square and a line of sigma 2 reads as 0.9: tops with a slope the
other way close by are therefore not asked, but for `line`, which tells whether fine lines are
sharp where steps are not.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Sharpness
from proofgen.photo.measures.blur import Plane, blur_effect

_FIRST, _SECOND = 1.0, 2.0  # px of the two known blurs
_STEP = 1 / 3  # px squared: what a difference over two px blurs by itself
_SLOPE = 0.02  # of full scale a px, after the first blur: five times the slope of strong noise
_BESIDE = 5  # px each way, within which
_BACK = 0.3  # of a top's slope, the other way, makes it the flank of a line
_SIDE = 48  # px of a square that is judged by itself
_ENOUGH = 10  # tops of edges in a square
_SQUARES = 3  # squares with enough edges; fewer tell nothing about the whole
_SHARPEST = 0.02  # share of squares that stands for the sharpest part
_WIDEST = 12.0  # px; wider than this is called this

_EDGE = 4  # px at the picture's own edge that are not asked
_BAND = 4 * _SIDE  # rows worked at a time: few enough to stay in the processor's cache
_MARGIN = 16  # rows beyond them that blurs and slopes reach into

Slopes = NDArray[np.float32]
_Tops = tuple[NDArray[np.float32], NDArray[np.intp], NDArray[np.bool_]]  # sigma, square, a step


def sharpness_of(plane: Plane) -> Sharpness:
    """Of a grey plane (0 to 1)."""
    high, wide = plane.shape
    blur = round(blur_effect(plane), 5)
    if min(high, wide) < 32:
        return Sharpness(width_px=wide, blur=blur)
    tops: list[list[_Tops]] = [[], []]
    for top in range(0, high, _BAND):
        above, below = max(0, top - _MARGIN), min(high, top + _BAND + _MARGIN)
        first = _blurred(plane[above:below].astype(np.float32), _FIRST)
        second = _blurred(first, math.sqrt(_SECOND**2 - _FIRST**2))
        for axis in (0, 1):
            sigma, rows, columns, steps = _tops(first, second, axis)
            rows += above
            own = (rows >= top) & (rows < top + _BAND)
            square = rows[own] // _SIDE * wide + columns[own] // _SIDE
            tops[axis].append((sigma[own], square, steps[own]))
    level, upright = tops
    return Sharpness(
        width_px=wide,
        blur=blur,
        edge_px=_sharpest(level + upright),
        across_px=_sharpest(upright),
        down_px=_sharpest(level),
        line_px=_sharpest(level + upright, lines=True),
    )


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


def _slopes(plane: Slopes, axis: int) -> Slopes:
    """Central differences, without the outermost px."""
    keep, reach = slice(_EDGE, -_EDGE), slice(_EDGE - 1, 1 - _EDGE)
    inner = plane[reach, keep] if axis == 0 else plane[keep, reach]
    along = np.moveaxis(inner, axis, 0)
    return np.moveaxis((along[2:] - along[:-2]) * np.float32(0.5), 0, axis)


def _tops(
    first: Slopes, second: Slopes, axis: int
) -> tuple[NDArray[np.float32], NDArray[np.intp], NDArray[np.intp], NDArray[np.bool_]]:
    """Sigma, row and column of each clear edge that runs across `axis`, and whether it is a step
    or the flank of a line."""
    signed = _slopes(first, axis)
    slope = np.abs(signed)
    clear = slope > _SLOPE
    clear &= slope > 1.5 * np.abs(_slopes(first, 1 - axis))
    along, seen = np.moveaxis(slope, axis, 0), np.moveaxis(clear, axis, 0)
    seen[1:] &= along[1:] >= along[:-1]
    seen[:-1] &= along[:-1] > along[1:]
    rows, columns = np.nonzero(clear)
    places = (rows, columns) if axis == 0 else (columns, rows)
    steps = _is_step(np.moveaxis(signed, axis, 0), *places)
    after = np.abs(_slopes(second, axis)[rows, columns])
    ratio = (slope[rows, columns] / np.maximum(after, 1e-9)) ** 2
    square = (_SECOND**2 - ratio * _FIRST**2) / np.maximum(ratio - 1, 1e-3) - _STEP
    sigma = np.sqrt(np.clip(square, 0.01, _WIDEST**2)).astype(np.float32)
    return sigma, rows + _EDGE, columns + _EDGE, steps


def _is_step(
    signed: Slopes, along: NDArray[np.intp], beside: NDArray[np.intp]
) -> NDArray[np.bool_]:
    """Which tops, at places along and beside the way of `signed`, go one way alone."""
    top = signed[along, beside]
    most, last = _BACK * np.abs(top), len(signed) - 1
    steps = np.ones(len(top), dtype=bool)
    for away in (*range(-_BESIDE, 0), *range(1, _BESIDE + 1)):
        back = signed[np.clip(along + away, 0, last), beside]
        steps &= np.where(top > 0, -back, back) <= most
    return steps


def _sharpest(parts: list[_Tops], *, lines: bool = False) -> float | None:
    """The middle width of each square's edges, and of those the sharpest squares."""
    sigma, square, steps = (np.concatenate(all_) for all_ in zip(*parts, strict=True))
    asked = steps | lines
    sigma, square = sigma[asked], square[asked]
    order = np.lexsort((sigma, square))
    square, sigma = square[order], sigma[order]
    starts = np.flatnonzero(np.diff(square, prepend=-1))
    counts = np.diff(starts, append=len(square))
    kept = counts >= _ENOUGH
    if kept.sum() < _SQUARES:
        return None
    widths = np.sort(sigma[(starts + counts // 2)[kept]])
    return round(float(widths[min(len(widths) - 1, max(1, int(len(widths) * _SHARPEST)))]), 3)
