"""Traces of enlarging by any ratio: the peak of a spectrum, a missing top octave, repeated rows."""

from __future__ import annotations

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from proofgen.photo.measures.tiles import Plane

_LONG = 1024  # px each way that are looked at for the peak
_BINS = 4096  # points of the spectrum over one cycle per px
_AROUND = 129  # points whose median is the ground a peak stands on
_GRID = 0.006  # cycles per px around each eighth that are left out: the 8 px grid of JPEG


def resampling_peak(plane: NDArray[np.uint8]) -> tuple[float, float]:
    """How high the resampling peak stands over its ground, and where (cycles per px).

    M. Kirchner (2008), Fast and reliable resampling detection by spectral analysis of fixed linear
    predictor residue, ACM MM&Sec, 11-20: fixed predictor and p-map. The spectrum is taken of the
    p-map's means over rows and over columns (those lines of the two-dimensional spectrum on which
    enlarging shows), the lower of both. Exactly twice the size shows no peak. (0.0, 0.0) for a
    plane below 64 px.
    """
    height, width = plane.shape
    if min(height, width) < 64:
        return 0.0, 0.0
    top, left = max(0, (height - _LONG) // 2), max(0, (width - _LONG) // 2)
    part = plane[top : top + _LONG, left : left + _LONG].astype(np.float32)
    chance = np.exp(-(_left_over(part) ** 2))
    over = np.minimum(*(_over_ground(chance.mean(axis=axis)) for axis in (0, 1)))
    frequency = np.arange(len(over)) / _BINS
    over[(frequency < 0.04) | (frequency > 0.485)] = 0
    for eighth in range(1, 4):
        over[np.abs(frequency - eighth / 8) < _GRID] = 0
    best = int(over.argmax())
    return float(over[best]), float(frequency[best])


def _left_over(part: Plane) -> Plane:
    """What the fixed predictor does not explain: [[-.25, .5, -.25], [.5, 0, .5], [-.25, .5, -.25]].

    The same as a second difference along both axes.
    """
    rows = part[:-2] - 2 * part[1:-1] + part[2:]
    return (rows[:, :-2] - 2 * rows[:, 1:-1] + rows[:, 2:]) / 4


def _over_ground(line: NDArray[np.floating]) -> NDArray[np.float64]:
    """The spectrum of a line, each point over the median around it."""
    spectrum = np.abs(np.fft.rfft((line - line.mean()) * np.hanning(len(line)), _BINS))
    wide = np.pad(spectrum, _AROUND // 2, mode="reflect")
    ground = np.median(sliding_window_view(wide, _AROUND), axis=-1)
    return spectrum / np.maximum(ground, 1e-9)


def fine_share(tiles: Plane) -> float:
    """The share of energy finer than a quarter cycle per px in the finest tenth of the tiles.

    Doubling leaves that octave all but empty; so does a blur. 0.0 without tiles.
    """
    if len(tiles) == 0:
        return 0.0
    side = tiles.shape[1]
    window = np.hanning(side).astype(np.float32)
    seen = (tiles - tiles.mean(axis=(1, 2), keepdims=True)) * np.outer(window, window)
    energy = np.abs(np.fft.rfft2(seen)) ** 2
    energy[:, 1:, 0] *= 0.5  # the half that rfft2 leaves out mirrors the other columns, not this
    far = np.hypot(np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)[None, :]) > 0.25
    shares = energy[:, far].sum(axis=1) / np.maximum(energy.sum(axis=(1, 2)), 1e-9)
    return float(np.quantile(shares, 0.9))


def repeated_lines(plane: NDArray[np.uint8]) -> float:
    """The share of rows, and of columns, that are the one before again; the lower of both.

    Enlarging without blending repeats 1 - 1/k of them. Lines without any detail do not count.
    """
    found = []
    for lines in (plane[:, ::4], plane[::4].T):
        if len(lines) < 3:
            return 0.0
        same = (lines[1:] == lines[:-1]).mean(axis=1) > 0.995
        alive = np.ptp(lines[1:], axis=1) > 8
        found.append(float((same & alive).sum() / max(1, alive.sum())))
    return min(found)
