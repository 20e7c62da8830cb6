"""How ink really comes out on a cloth, worked out from swatches that were pressed and read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from proofgen.colour.difference import ciede2000
from proofgen.colour.spaces import (
    Floats,
    hex_to_rgb8,
    lab_of,
    lab_to_linear,
    linear_to_lab,
    srgb_to_linear,
)

LEAST_SWATCHES = 4  # beside the bare cloth; three colours are always met exactly and prove nothing
_SPREAD = 0.02  # least singular value: swatches that differ in lightness alone fix no colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """seen = cloth + matrix · (ink − white), in linear light: no ink is always the bare cloth.

    `matrix` is three rows of three; `cloth` the linear light of the bare cloth; `mean` and `worst`
    say in CIEDE2000 how far the swatches read from what the correction gives.
    """

    matrix: tuple[tuple[float, float, float], ...]
    cloth: tuple[float, float, float]
    mean: float
    worst: float
    swatches: int

    @property
    def rows(self) -> Floats:
        return np.array(self.matrix)

    @property
    def offset(self) -> Floats:
        """What is added after `rows @ ink`: (3,)."""
        return np.asarray(np.array(self.cloth) - self.rows.sum(axis=1))

    def light(self, ink: ArrayLike) -> Floats:
        """Linear ink (…, 3) on the cloth, in linear sRGB that may leave 0..1."""
        return np.asarray(np.asarray(ink, dtype=np.float64) @ self.rows.T + self.offset)


def fit_correction(asked: ArrayLike, read_lab: ArrayLike, cloth: str) -> Correction:
    """The correction that fits best, by least squares in linear light.

    `asked` are the swatches' colours in 8-bit sRGB (n, 3), `read_lab` what an instrument read on
    the pressed cloth: CIE Lab (n, 3) under D65. Swatches asked for in white are left out, since
    the bare cloth is '#rrggbb' of the blank. Errors: ValueError for too few swatches, or swatches
    too much alike to tell red, green and blue apart.
    """
    inks = srgb_to_linear(np.asarray(asked, dtype=np.float64).reshape(-1, 3) / 255)
    labs = np.asarray(read_lab, dtype=np.float64).reshape(-1, 3)
    if len(inks) != len(labs):
        raise ValueError(f"{len(inks)} swatches were asked for and {len(labs)} were read")
    inked = (inks < 1).any(axis=1)
    inks, labs = inks[inked], labs[inked]
    if len(inks) < LEAST_SWATCHES:
        raise ValueError(f"{len(inks)} swatches are too few; {LEAST_SWATCHES} is the least")
    bare = srgb_to_linear(np.array(hex_to_rgb8(cloth)) / 255)
    steps, seen = inks - 1, lab_to_linear(labs) - bare
    if np.linalg.svd(steps, compute_uv=False)[-1] < _SPREAD:
        raise ValueError("the swatches are too much alike; take strong reds, greens and blues")
    matrix = np.linalg.lstsq(steps, seen, rcond=None)[0].T
    predicted = bare + steps @ matrix.T
    off = ciede2000(linear_to_lab(predicted), labs)
    rows = [(float(r[0]), float(r[1]), float(r[2])) for r in matrix]
    return Correction(
        matrix=tuple(rows),
        cloth=(float(bare[0]), float(bare[1]), float(bare[2])),
        mean=float(off.mean()),
        worst=float(off.max()),
        swatches=len(inks),
    )


def correction_from(readings: tuple[tuple[str, str], ...], cloth: str) -> Correction:
    """The correction from pairs of '#rrggbb', asked and read. Errors: as `fit_correction`."""
    codes = np.array([[hex_to_rgb8(c) for c in pair] for pair in readings]).reshape(-1, 2, 3)
    return fit_correction(codes[:, 0], lab_of(codes[:, 1]), cloth)
