"""The grid of an older JPEG, made larger with the picture.

JPEG works in squares of 8 px, and at their sides the picture bends a little. Made k times as large,
those bends stand 8k px apart, and a later compression adds bends of its own at every 8 px. So the
mean bend of each column is asked for lines at 1/8k cycles per px and its multiples, but for those
that are eighths. (Bends tell of enlarging: Gallagher 2005, Detection of linear and cubic
interpolation in JPEG compressed images, CRV 2005, from memory; that the old grid tells is our own.)
"""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

_LINES = 512  # rows, and columns, that are asked
_LOUD = 24  # codes of 255 above which a bend counts no more: an edge is no grid
_SIDE = 1024  # px of a stretch that is asked at once; all stretches count alike
_BINS = 1024  # points over half a cycle per px
_AROUND = 64  # points whose middle is the ground
_SHADE = 17  # px over which bends are compared
_LEAST = 0.05  # cycles per px: slower than this is shading
_FREE = 0.005  # cycles per px left out around each eighth
_WEAK = 0.25  # the share of a comb's lines that may stand lower than its height

Spectrum = NDArray[np.float64]


def old_grid(plane: NDArray[np.uint8]) -> float:
    """How high the best comb stands over the ground, in natural logs.

    Of a grey plane; 0.0 below 256 px. Nothing stands as high as 1 by chance. Which k it was is not
    told: the lines of twice are also some of those of four times.
    """
    if min(plane.shape) < 256:
        return 0.0
    upright = np.ascontiguousarray(plane[:, :: max(1, plane.shape[1] // _LINES)].T)
    heights = _heights(plane[:: max(1, plane.shape[0] // _LINES)]) + _heights(upright)
    near = np.maximum(np.maximum(heights[:-2], heights[1:-1]), heights[2:]) / 2
    places, weak = _combs()
    lines = np.sort(np.append(near, np.inf)[places], axis=1)
    return round(float(np.take_along_axis(lines, weak, axis=1).max()), 3)


def _heights(rows: NDArray[np.uint8]) -> Spectrum:
    """(_BINS,): how high each frequency of the mean bends along the rows stands over those around
    it, in logs of its amplitude."""
    few = rows.astype(np.int16)
    bends = 2 * few[:, 1:-1]
    bends -= few[:, :-2]
    bends -= few[:, 2:]
    np.abs(bends, out=bends)
    mean = np.minimum(bends, _LOUD, out=bends).sum(axis=0, dtype=np.int32) / len(few)
    shade = np.convolve(np.pad(mean, _SHADE // 2, "reflect"), np.ones(_SHADE) / _SHADE, "valid")
    even = np.clip((mean - shade) / (shade + 0.05), -1.5, 1.5)
    side = min(_SIDE, len(even))
    window = np.hanning(side)
    starts = np.linspace(0, len(even) - side, -(-2 * len(even) // side) - 1).astype(int)
    power = np.zeros(_BINS)
    for start in starts:
        stretch = np.fft.rfft(even[start : start + side] * window, 2 * _BINS)
        power += np.abs(stretch[:_BINS]) ** 2
    logs = 0.5 * np.log(power + 1e-12)
    ground = np.median(logs.reshape(-1, _AROUND), axis=1)
    middles = np.arange(len(ground)) * _AROUND + _AROUND / 2
    return np.asarray(logs - np.interp(np.arange(_BINS), middles, ground))


@functools.cache
def _combs() -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """For each k from 1.15 to 4.6 a row: the points (less one) of its lines, filled up with that
    after the last, and the number of its lines that may stand lower. What was made smaller has
    every second or third line of some k alone."""
    combs, weak = [], []
    for k in np.exp(np.arange(np.log(1.15), np.log(4.6), 0.0015)):
        lines = np.arange(1, int(4 * k) + 1) / (8 * k)
        away = np.abs(lines * 8 - np.round(lines * 8)) / 8
        lines = lines[(lines >= _LEAST) & (lines < 0.4985) & (away > _FREE)]
        if len(lines) >= 3:
            combs.append(np.round(lines * 2 * _BINS).astype(np.intp) - 1)
            weak.append([int(len(lines) * _WEAK)])
    places = np.full((len(combs), max(map(len, combs))), _BINS - 2)
    for row, comb in zip(places, combs, strict=True):
        row[: len(comb)] = comb
    return places, np.array(weak)
