"""Traces of enlarging: pixels that follow from their neighbours by a rule that comes and goes.

An enlarged picture holds fewer numbers than pixels, so each pixel is a sum of its neighbours, and
which sum depends on where it falls between the old pixels: for twice the size every second pixel
follows another rule, for 1.5 times every third, for k times the rule swings 1/k times a pixel. In
a photo as it was taken one rule serves everywhere. So one linear rule is fitted to all pixels of a
tile, and then asked how much of what it leaves unexplained a swing of its weights would explain, at
each frequency (a score test). That sees also exactly twice the size, on which a fixed predictor's
error does not swing. (Popescu and Farid 2005, Exposing digital forgeries by detecting traces of
resampling, IEEE Trans. Signal Processing 53(2), for the rules; the test is our own.)
"""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Swings
from proofgen.photo.measures.tiles import Plane

BINS = 256  # points over one cycle per px
_NEAR = 2  # points by which a line may miss its place
_GRID = 0.0135  # cycles per px left out around each eighth: lines of the 8 px grid of JPEG
_LEAST = 0.05  # cycles per px: slower than this is shading
_REACH = 3  # neighbours on each side
_AT_ONCE = 8  # tiles: few enough to stay in the processor's cache
_ROUNDING = 1 / 12  # squared codes a pixel that rounding leaves in any picture


def swing_lines(tiles: Plane) -> Swings:
    """The lines of the spectrum of swings; all zero below four tiles."""
    if len(tiles) < 4:
        return Swings()
    share = swings(tiles)
    ground = max(float(np.median(share)), 1e-4)
    free = off_grid(share)
    line = float(free.max())
    tops = [i for i in range(_NEAR, len(free) - _NEAR) if free[i] >= 0.5 * line > 0]
    return Swings(
        line=short(line),
        over=short(line / ground),
        many=int(sum(share[i] == share[max(0, i - 3) : i + 4].max() for i in tops)),
        comb=short(_comb(share) / ground),
        eighth=_near(share, 1 / 8),
        quarter=_near(share, 1 / 4),
        three_eighths=_near(share, 3 / 8),
        half=_near(share, 1 / 2),
    )


def short(value: float) -> float:
    """Four digits: more would only make the store differ between machines."""
    return float(f"{value:.4g}")


def off_grid(share: NDArray[np.float64]) -> NDArray[np.float64]:
    """The swings without those that are too slow and those on the grid of JPEG."""
    return share * _is_free(np.arange(len(share)) / BINS, _GRID)


def _is_free(frequency: NDArray[np.float64], room: float) -> NDArray[np.bool_]:
    """Which frequencies are fast enough and none of the eighths."""
    away = np.abs(frequency[:, None] - np.arange(1, 5) / 8).min(axis=1)
    return np.asarray((frequency >= _LEAST) & (away > room))


def _near(share: NDArray[np.float64], frequency: float) -> float:
    """The highest share within a few points of a frequency."""
    at = round(frequency * BINS)
    return short(float(share[max(0, at - _NEAR) : at + _NEAR + 1].max()))


def _comb(share: NDArray[np.float64]) -> float:
    """The lowest line of the comb that stands out most, of factors from 1.2 to 4.3."""
    around = np.maximum(np.maximum(share[:-2], share[1:-1]), share[2:])  # of points 1, 2, ...
    return max(float(around[lines].min()) for lines in _combs())


@functools.cache
def _combs() -> tuple[NDArray[np.intp], ...]:
    """For each factor, the points (less one) where lines lie that are none of the eighths."""
    combs = []
    for factor in np.arange(1.2, 4.3, 0.02):
        step = 1 / (8 * factor)
        lines = step * np.arange(1, int(0.47 / step) + 1)
        lines = lines[_is_free(lines, 0.02)]
        if len(lines) >= 3:
            combs.append(np.round(lines * BINS).astype(np.intp) - 1)
    return tuple(combs)


def swings(tiles: Plane) -> NDArray[np.float64]:
    """(BINS / 2 + 1,): the share of the error that a swing explains, at 0 to 0.5 cycles per px.

    The median of the tiles, the lower of both directions.
    """
    upright = np.ascontiguousarray(tiles.swapaxes(1, 2))
    return np.minimum(_middle_share(tiles), _middle_share(upright))


def _middle_share(tiles: Plane) -> NDArray[np.float64]:
    some = range(0, len(tiles), _AT_ONCE)
    shares = np.concatenate([_along_rows(tiles[start : start + _AT_ONCE]) for start in some])
    return np.asarray(np.median(shares, axis=0), dtype=np.float64)


def _products(even: NDArray[np.float64], inner: int) -> NDArray[np.float64]:
    """(n, 2 _REACH + 1 twice): of each tile, the sums of products of its px, `inner` of each row,
    begun at each place of the reach, by those begun at each other."""
    count, taps = len(even), 2 * _REACH + 1
    products = np.empty((count, taps, taps))
    for lag in range(taps):  # of each lag once: begun one px farther, one column is another
        columns = np.einsum("tij,tij->tj", even[:, :, : even.shape[2] - lag], even[:, :, lag:])
        for start in range(taps - lag):
            total = columns[:, start : start + inner].sum(axis=1)
            products[:, start, start + lag] = products[:, start + lag, start] = total
    return products


def _along_rows(tiles: Plane) -> NDArray[np.float64]:
    """(n, BINS / 2 + 1): of each tile, the share of its rows' error that a swing explains."""
    even = (tiles - tiles.mean(axis=(1, 2), keepdims=True)).astype(np.float64)
    _, high, wide = even.shape
    inner = wide - 2 * _REACH
    middle = even[:, :, _REACH : _REACH + inner]
    shifts = [shift for shift in range(2 * _REACH + 1) if shift != _REACH]
    others = [even[:, :, shift : shift + inner] for shift in shifts]
    taps = len(others)
    all_products = _products(even, inner)
    products = all_products[:, shifts][:, :, shifts]
    wanted = all_products[:, shifts, _REACH]
    products += np.eye(taps) * (1e-9 * np.trace(products, axis1=1, axis2=2)[:, None, None] + 1e-3)
    rule = np.linalg.solve(products, wanted[..., None])[..., 0]
    error = middle.copy()
    for i, one in enumerate(others):
        error -= rule[:, i, None, None] * one
    left = np.einsum("tij,tij->t", error, error) / inner + _ROUNDING * high
    window = np.hanning(inner + 2)[1:-1]
    columns = np.stack([np.einsum("tij,tij->tj", error, one) for one in others], axis=1)
    swing = np.fft.rfft(columns * window, BINS) / window.sum()
    weights = np.linalg.solve(products / inner, swing)
    share = 2 * (swing.conj() * weights).real.sum(axis=1) / left[:, None]
    share[:, -1] /= 2  # at half a cycle per px there is no sine beside the cosine
    return np.asarray(share, dtype=np.float64)
