"""How ink really comes out on a cloth, worked out from swatches that were pressed and read."""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from proofgen.colour.basis import cloth_matrix
from proofgen.colour.difference import ciede2000
from proofgen.colour.spaces import (
    Floats,
    hex_to_rgb8,
    lab_of,
    linear_to_lab,
    srgb_to_linear,
)

LEAST_SWATCHES = 4  # beside the bare cloth
_SPREAD = 0.02  # least singular value: swatches that differ in lightness alone fix no colour
# Linear sRGB to the wide primaries of ITU-R BT.2020 (ITU-R BT.2087-0): there no printed colour
# is negative, and another ink takes light from every channel.
_WIDE = np.array([[0.6274, 0.3293, 0.0433], [0.0691, 0.9195, 0.0114], [0.0164, 0.0880, 0.8956]])
NARROW = np.linalg.inv(_WIDE)
# Which of cyan, magenta, yellow lie on the cloth, for each of eight overprints.
_LAID = np.array([[c, m, y] for c in (0, 1) for m in (0, 1) for y in (0, 1)], dtype=np.float64)
_OVER = np.flatnonzero(_LAID.sum(axis=1) > 1)
_DARKEST = 0.15  # root of the least light of solid ink before it is read: 2 %, as real blacks read
# How far a press is taken to lie from the plain law, as standard deviations of logarithms: each
# ink's root of light, what overprints add to their inks, the inks' curves. Set on the presses of
# tests/data/press_readings.csv; they decide where few swatches were read.
_INK, _OVERPRINT, _CURVE = 1.2, 1.0, 0.3
_DOUBT = 2.0  # of a reading, in differences
# Of all inks together something is known unread: CIE Lab near that of printed blacks.
_BLACK, _BLACK_DOUBT = (15.0, 0.0, 0.0), 6.0
_STEPS = tuple(s for s in (40.0, 20.0, 10.0, 5.0) for _ in range(5))


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """Three inks on a cloth: a curve for each, then eight overprints mixed by area.

    An ink's cover is a = (1 − √light asked)^curve; the eight overprints (none, yellow, magenta,
    both, cyan, …) lie beside each other by Demichel's shares, and the roots of their light add up:
    the Neugebauer equations with Yule and Nielsen's n = 2. `inks` are these roots in wide
    primaries, `curves` the exponents of cyan, magenta and yellow. No ink is always the bare cloth,
    and more ink never lighter in any channel. `off` says in CIEDE2000 how far each swatch read,
    no ink left out, from what is shown. Source: Yule & Nielsen (1951), TAGA Proc. 3:65-76;
    Viggiano (1985), TAGA Proc. 37:647-661 (both from memory).
    """

    inks: tuple[tuple[float, ...], ...]
    curves: tuple[float, ...]
    off: tuple[float, ...]

    @property
    def swatches(self) -> int:
        return len(self.off)

    @property
    def mean(self) -> float:
        return float(np.mean(self.off))

    @property
    def worst(self) -> float:
        return max(self.off)

    def covers(self, ink: ArrayLike) -> Floats:
        """Share of the cloth (…, 3) that cyan, magenta, yellow cover, of linear ink (…, 3)."""
        return np.asarray((1 - np.sqrt(np.asarray(ink))) ** np.array(self.curves))

    def mixed(self, covers: NDArray[np.floating]) -> NDArray[np.floating]:
        """Linear sRGB (n, 3), which may leave 0..1, of covers (n, 3), in their precision."""
        return _mixed(covers, np.array(self.inks, dtype=covers.dtype))

    def light(self, ink: ArrayLike) -> Floats:
        """Linear ink (n, 3) on the cloth, in linear sRGB that may leave 0..1."""
        return np.asarray(self.mixed(self.covers(ink)))


def _mixed(covers: NDArray[np.floating], inks: NDArray[np.floating]) -> NDArray[np.floating]:
    """Linear sRGB (…, n, 3) of covers (…, n, 3) with roots of overprints (…, 8, 3)."""
    c, m, y = (np.stack([1 - a, a], axis=-1) for a in np.moveaxis(covers, -1, 0))
    shares = np.einsum("...i,...j,...k->...ijk", c, m, y).reshape(*covers.shape[:-1], 8)
    light: NDArray[np.floating] = (shares @ inks) ** 2 @ NARROW.T.astype(covers.dtype)
    return light


class _Press:
    """The law of a cloth with what is unknown of a press as one vector, noughts the plain law."""

    def __init__(self, cloth: str) -> None:
        wide = np.maximum((1 - _LAID) @ cloth_matrix(cloth).T @ _WIDE.T, _DARKEST**2)
        wide[0] = np.maximum(_WIDE @ srgb_to_linear(np.array(hex_to_rgb8(cloth)) / 255), 1e-12)
        self.plain = np.log(wide) / 2
        self.doubt = np.repeat([_INK, _OVERPRINT, _CURVE], [9, 3 * len(_OVER), 3])

    def inks(self, unknown: Floats) -> Floats:
        """Roots of the light (…, 8, 3) of each overprint, never lighter than with an ink less."""
        alone = unknown[..., :9].reshape(*unknown.shape[:-1], 3, 3)
        logs = self.plain + _LAID @ alone
        logs[..., _OVER, :] += unknown[..., 9:-3].reshape(*unknown.shape[:-1], len(_OVER), 3)
        cube = np.exp(logs).reshape(*unknown.shape[:-1], 2, 2, 2, 3)
        for axis in (-4, -3, -2):
            cube = np.minimum.accumulate(cube, axis=axis)
        return np.asarray(cube.reshape(logs.shape))

    def light(self, unknown: Floats, steps: Floats) -> Floats:
        """Linear sRGB (…, n, 3); `steps` are 1 − √light asked (n, 3)."""
        covers = steps ** np.exp(unknown[..., None, -3:])
        return np.asarray(_mixed(covers, self.inks(unknown)))


def _settled(press: _Press, steps: Floats, labs: Floats) -> Floats:
    """The unknowns that explain the readings best: Gauss and Newton's steps, in Lab.

    Differences of strong colours count less (as in CIE 94). A reading that lies far off counts
    little: Cauchy's weights, first wide, then narrow (Geman & Reynolds 1992, Holland & Welsch
    1977; from memory), so that one slip does not bend the rest.
    """
    steps, labs = np.vstack([steps, np.ones(3)]), np.vstack([labs, _BLACK])
    sure = np.append(np.full(len(labs) - 1, _DOUBT), _BLACK_DOUBT) ** -2.0
    chroma = 1 + 0.03 * np.hypot(labs[:, 1:2], labs[:, 2:3])
    scale = 1 / np.hstack([np.ones_like(chroma), chroma, chroma])
    unknown = np.zeros(len(press.doubt))

    def wrong(tried: Floats) -> Floats:
        return np.asarray((linear_to_lab(press.light(tried, steps)) - labs) * scale)

    def cost(tried: Floats, wide: float) -> float:
        told = wide**2 * np.log1p((wrong(tried) ** 2).sum(axis=-1) / wide**2)
        return float(sure @ told + ((tried / press.doubt) ** 2).sum())

    nudge = 1e-4 * np.eye(len(unknown))
    for wide in _STEPS:
        now = wrong(unknown)
        slope = np.moveaxis(wrong(unknown + nudge) - now, 0, -1) / 1e-4
        weight = sure / (1 + (now**2).sum(axis=-1) / wide**2)
        square = np.einsum("n,nci,ncj->ij", weight, slope, slope) + np.diag(press.doubt**-2.0)
        down = np.einsum("n,nci,nc->i", weight, slope, now) + unknown / press.doubt**2
        step, before = np.linalg.solve(square, down), cost(unknown, wide)
        for part in (1.0, 0.5, 0.25, 0.1, 0.03):
            if cost(unknown - part * step, wide) < before:
                unknown = unknown - part * step
                break
    return unknown


def _judge(asked: Floats) -> None:
    inks = srgb_to_linear(asked[(asked < 255).any(axis=1)] / 255)
    if len(inks) < LEAST_SWATCHES:
        raise ValueError(f"{len(inks)} swatches are too few; {LEAST_SWATCHES} is the least")
    if np.linalg.svd(inks - 1, compute_uv=False)[-1] < _SPREAD:
        raise ValueError("the swatches are too much alike; take strong reds, greens and blues")


def fit_correction(asked: ArrayLike, read_lab: ArrayLike, cloth: str) -> Correction:
    """The correction that fits best and robustly.

    `asked` are the swatches' colours in 8-bit sRGB (n, 3), `read_lab` what an instrument read on
    the pressed cloth: CIE Lab (n, 3) under D65. Swatches asked for in white are left out, since
    the bare cloth is '#rrggbb' of the blank. Errors: ValueError for too few swatches, or swatches
    too much alike to tell red, green and blue apart.
    """
    codes = np.asarray(asked, dtype=np.float64).reshape(-1, 3)
    labs = np.asarray(read_lab, dtype=np.float64).reshape(-1, 3)
    _judge(codes)
    inked = (codes < 255).any(axis=1)
    steps, labs = 1 - np.sqrt(srgb_to_linear(codes[inked] / 255)), labs[inked]
    press = _Press(cloth)
    unknown = _settled(press, steps, labs)
    shown = np.clip(press.light(unknown, steps), 0, 1)
    return Correction(
        inks=tuple(map(tuple, press.inks(unknown).tolist())),
        curves=tuple(np.exp(unknown[-3:]).tolist()),
        off=tuple(ciede2000(linear_to_lab(shown), labs).tolist()),
    )


def _codes(readings: tuple[tuple[str, str], ...]) -> Floats:
    codes = [[hex_to_rgb8(c) for c in pair] for pair in readings]
    return np.array(codes, dtype=np.float64).reshape(-1, 2, 3)


def judge_readings(readings: tuple[tuple[str, str], ...]) -> None:
    """ValueError where pairs of '#rrggbb', asked and read, cannot fix a correction."""
    _judge(_codes(readings)[:, 0])


@functools.lru_cache(maxsize=64)
def correction_from(readings: tuple[tuple[str, str], ...], cloth: str) -> Correction:
    """The correction from pairs of '#rrggbb', asked and read. Errors: as `fit_correction`."""
    codes = _codes(readings)
    return fit_correction(codes[:, 0], lab_of(codes[:, 1]), cloth)
