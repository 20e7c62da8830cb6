"""Traces of enlarging by any ratio: swings of a rule, a missing top octave, repeated rows."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Traces
from proofgen.photo.measures.periods import short, swing_lines
from proofgen.photo.measures.tiles import Plane, busiest


def traces_of(printed: NDArray[np.uint8]) -> Traces:
    """Of the printed part's grey plane, at the file's own pixels."""
    tiles = busiest(printed)
    return Traces(
        swings=swing_lines(tiles),
        repeats=round(repeated_lines(printed), 4),
        fine=short(fine_share(tiles)),
    )


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
    shares = []
    for lines in (plane[:, ::4], plane[::4].T):
        if len(lines) < 3:
            return 0.0
        same = (lines[1:] == lines[:-1]).mean(axis=1) > 0.995
        alive = np.ptp(lines[1:], axis=1) > 8
        shares.append(float((same & alive).sum() / max(1, alive.sum())))
    return min(shares)
