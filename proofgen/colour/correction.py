"""How ink really comes out on a cloth, worked out from swatches that were pressed and read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from proofgen.colour.difference import ciede2000
from proofgen.colour.spaces import (
    LINEAR_FROM_XYZ,
    WHITE_D65,
    XYZ_FROM_LINEAR,
    Floats,
    hex_to_rgb8,
    srgb_to_lab,
    srgb_to_linear,
    xyz_to_lab,
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
        return np.array(self.cloth) - self.rows.sum(axis=1)

    def light(self, ink: ArrayLike) -> Floats:
        """Linear ink (…, 3) on the cloth, in linear sRGB that may leave 0..1."""
        return np.asarray(np.asarray(ink, dtype=np.float64) @ self.rows.T + self.offset)


def lab_to_linear(lab: ArrayLike) -> Floats:
    """CIE Lab (…, 3) under D65 to linear sRGB (…, 3), which may leave 0..1 (ISO/CIE 11664-4)."""
    values = np.asarray(lab, dtype=np.float64)
    y = (values[..., 0] + 16) / 116
    f = np.stack([y + values[..., 1] / 500, y, y - values[..., 2] / 200], axis=-1)
    d = 6 / 29
    xyz = np.where(f > d, f**3, 3 * d * d * (f - 4 / 29)) * WHITE_D65
    return np.asarray(xyz @ LINEAR_FROM_XYZ.T)


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
    off = ciede2000(xyz_to_lab(predicted @ XYZ_FROM_LINEAR.T), labs)
    rows = [(float(r[0]), float(r[1]), float(r[2])) for r in matrix]
    return Correction(
        matrix=tuple(rows),
        cloth=(float(bare[0]), float(bare[1]), float(bare[2])),
        mean=float(off.mean()),
        worst=float(off.max()),
        swatches=len(inks),
    )


@lru_cache(maxsize=64)
def correction_from(readings: tuple[tuple[str, str], ...], cloth: str) -> Correction:
    """The correction from pairs of '#rrggbb', asked and read. Errors: as `fit_correction`."""
    asked, read = _rgb([a for a, _ in readings]), _rgb([r for _, r in readings])
    return fit_correction(asked, srgb_to_lab(read / 255), cloth)


def _rgb(colours: Sequence[str]) -> Floats:
    return np.array([hex_to_rgb8(c) for c in colours], dtype=np.float64).reshape(-1, 3)
