"""Traces of enlarging by any ratio: swings of a rule, a missing top octave, repeated rows."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Traces
from proofgen.photo.measures.before import COSINES, quality_before
from proofgen.photo.measures.grids import old_grid
from proofgen.photo.measures.periods import short, swing_lines
from proofgen.photo.measures.tiles import Plane, busiest

Spectra = NDArray[np.float32]

_A_WAVE = 4.0  # codes of 255


def traces_of(printed: NDArray[np.uint8]) -> Traces:
    """Of the printed part's grey plane, at the file's own pixels and from a corner of a block."""
    tiles = busiest(printed)
    energy = energy_of(tiles)
    return Traces(
        swings=swing_lines(tiles),
        repeats=round(repeated_lines(printed), 4),
        fine=short(fine_share(energy)),
        upper=detail_in(energy, 0.35, 0.5),
        middle=detail_in(energy, 0.175, 0.25),
        grid=old_grid(printed),
        before=quality_before(tiles),
        finest=short(finest_share(tiles)),
    )


def energy_of(tiles: Plane) -> Spectra:
    """(n, side, side / 2 + 1): of each tile at each frequency down and across, in units of what
    rounding to whole codes leaves. The half that rfft2 leaves out counts with the other."""
    side = tiles.shape[1]
    window = np.outer(np.hanning(side), np.hanning(side)).astype(np.float32)
    seen = (tiles - tiles.mean(axis=(1, 2), keepdims=True)) * window
    spectra = np.fft.rfft2(seen)
    energy = spectra.real**2 + spectra.imag**2
    energy[:, :, 1:-1] *= 2
    return np.asarray(energy / np.float32((window**2).sum() / 12))


def fine_share(energy: Spectra) -> float:
    """The share of energy finer than a quarter cycle per px in the finest tenth of the tiles.

    Doubling leaves that octave all but empty; so does a blur. 0.0 without tiles.
    """
    if len(energy) == 0:
        return 0.0
    side = energy.shape[1]
    far = np.hypot(np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)[None, :]) > 0.25
    shares = energy[:, far].sum(axis=1) / np.maximum(energy.sum(axis=(1, 2)), 1e-9)
    return float(np.quantile(shares, 0.9))


def detail_in(energy: Spectra, low: float, high: float) -> float:
    """How much the finest tenth of the tiles hold between two frequencies (cycles per px): powers
    of ten over what rounding leaves, of the direction that holds more. 9.0 without tiles.

    An enlarging filter that cuts well leaves 0.2 to 0.9 beyond the old picture's finest detail.
    """
    if len(energy) == 0:
        return 9.0
    side = energy.shape[1]
    across = energy.mean(axis=1) / 2, np.fft.rfftfreq(side)
    down = energy.sum(axis=2) / side, np.abs(np.fft.fftfreq(side))
    most = -9.0
    for powers, at in (across, down):
        band = powers[:, (at >= low) & (at <= high)]
        most = max(most, float(np.quantile(np.log10(band + 1e-3), 0.9, axis=0).mean()))
    return round(most, 3)


def finest_share(tiles: Plane) -> float:
    """The share of JPEG's squares (tiles begin with one) in which any of the finest waves, from
    0.375 cycles per px on, reaches four codes. 1.0 without tiles.

    What is four times as large has no such wave, and a later compression makes none: it keeps those
    alone that are as high as its steps, ten codes and more up to a quality of 90. What the rounding
    of colours leaves reaches three.
    """
    if len(tiles) == 0:
        return 1.0
    side = tiles.shape[1] // 8 * 8
    some = tiles[::2, :side, :side]
    each = np.eye(side // 8, dtype=np.float32)
    all_waves, finest = (np.kron(each, np.float32(waves)) for waves in (COSINES, COSINES[6:]))
    upright = np.abs(finest @ some @ all_waves.T).reshape(-1, side // 8, 2, side // 8, 8)
    level = np.abs(all_waves @ some @ finest.T).reshape(-1, side // 8, 8, side // 8, 2)
    most = np.maximum(upright.max(axis=(2, 4)), level.max(axis=(2, 4)))
    return float((most >= _A_WAVE).mean())


def repeated_lines(plane: NDArray[np.uint8]) -> float:
    """The share of rows, and of columns, that are the one before again; the lower of both.

    Enlarging without blending repeats 1 - 1/k of them. Lines without any detail do not count.
    """
    shares = []
    for lines in (plane[:, ::4], plane[::4].T):
        if len(lines) < 3:
            return 0.0
        same = (lines[1:] == lines[:-1]).mean(axis=1) > 0.995
        if not same.any():
            return 0.0
        alive = np.ptp(lines[1:], axis=1) > 8
        shares.append(float((same & alive).sum() / max(1, alive.sum())))
    return min(shares)
