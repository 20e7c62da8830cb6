"""Ink on coloured cloth: the reflectance of the ink times that of the cloth, seen under D65.

Dye is clear: what the ink lets through, the cloth throws back. So the reflectances multiply,
wavelength by wavelength, and nothing can come out lighter than the cloth. Because the basis is
linear, all 81 wavelengths of one cloth collapse into one 3×3 matrix in linear light.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from proofgen.colour.basis import cloth_matrix
from proofgen.colour.correction import NARROW, Correction
from proofgen.colour.spaces import (
    XYZ_FROM_LINEAR,
    Floats,
    hex_to_rgb8,
    linear_to_srgb,
    srgb_to_linear,
)

Bytes = NDArray[np.uint8]
Singles = NDArray[np.float32]

LIGHT = srgb_to_linear(np.arange(256) / 255)  # linear light of each 8-bit code
_WHITE = (255, 255, 255)
_STEPS = 65535  # of the inverse table: fine enough that rounding moves a code by at most one
_BLOCK = 1 << 16  # pixels worked on at a time, so that the floats stay in the processor's cache
# The steepest step between neighbouring 8-bit codes, in linear light; how far rounding can lift.
_ROUNDING = 0.0046


@functools.cache
def _encode() -> Bytes:
    """8-bit code of each of 65,536 steps of the root of linear light.

    Steps of the root, since dark codes lie close together in linear light: with even steps of the
    light itself 3 % of colours on a black cloth come out a code off, with the root under 1 %.
    """
    light = (np.arange(_STEPS + 1) / _STEPS) ** 2
    return np.rint(linear_to_srgb(light) * 255).astype(np.uint8)


def keep_below(codes: Bytes, seen: Floats | Singles, cloth: tuple[int, int, int]) -> Bytes:
    """Darken the few colours that clipping and rounding lifted above the cloth's luminance.

    codes (n, 3) are the rounded `seen` (n, 3, linear). Scaled down, then rounded down, each code
    stays below its share, so their sum stays below the cloth.
    """
    weights = XYZ_FROM_LINEAR[1]
    top = float(LIGHT[np.array(cloth)] @ weights)
    near = np.flatnonzero(seen @ weights.astype(seen.dtype) > top - _ROUNDING)
    above = near[LIGHT[codes[near]] @ weights > top]
    if above.size:
        light = np.clip(seen[above].astype(np.float64), 0, 1)
        light *= np.minimum(top / (light @ weights), 1)[:, None]
        codes[above] = np.searchsorted(LIGHT, light, side="right") - 1
    return codes


@dataclass(frozen=True, slots=True, kw_only=True)
class Law:
    """What `ink_on_cloth` reckons with, for a page's script: linear ink times `matrix` (rows one
    after the other), or, where swatches were read, the roots of light of eight `inks` mixed by the
    covers that `curves` give (`colour.correction`), squared, times `matrix`. All empty for white
    cloth, which changes nothing."""

    matrix: tuple[float, ...] = ()
    inks: tuple[float, ...] = ()
    curves: tuple[float, ...] = ()


def law_of(cloth_hex: str, correction: Correction | None = None) -> Law:
    """The law of a cloth, to six places. ValueError for a bad colour."""

    def told(values: Iterable[float]) -> tuple[float, ...]:
        return tuple(round(float(value), 6) for value in values)

    if correction:
        return Law(
            matrix=told(NARROW.flat),
            inks=told(value for ink in correction.inks for value in ink),
            curves=told(correction.curves),
        )
    if hex_to_rgb8(cloth_hex) == _WHITE:
        return Law()
    return Law(matrix=told(cloth_matrix(cloth_hex).flat))


def ink_on_cloth(rgb8: Bytes, cloth_hex: str, correction: Correction | None = None) -> Bytes:
    """How 8-bit sRGB ink (…, 3) looks on a cloth: uint8 of the same shape; the input is kept.

    White ink returns the cloth's own code; nothing is lighter than the cloth in luminance (a
    single channel may be). At most one code off the integral over wavelengths; a `correction` from
    pressed swatches of this cloth takes the place of the integral.
    ValueError for a bad colour or another dtype. Source: Mallett & Yuksel (2019),
    doi:10.2312/SR.20191216; CIE 1931 2°, D65.
    """
    if rgb8.dtype != np.uint8 or rgb8.shape[-1:] != (3,):
        raise ValueError("ink must be 8-bit with three channels in its last axis")
    cloth = hex_to_rgb8(cloth_hex)
    if cloth == _WHITE and correction is None:
        return rgb8.copy()  # ink on white is what the numbers mean to begin with
    law = cloth_matrix(cloth_hex).T.astype(np.float32)
    covers = correction.covers(LIGHT[:, None]).astype(np.float32) if correction else None
    light = LIGHT.astype(np.float32)
    flat = rgb8.reshape(-1, 3)
    out = np.empty_like(flat)
    for start in range(0, len(flat), _BLOCK):
        ink = flat[start : start + _BLOCK]
        if correction is None or covers is None:
            seen = light.take(ink) @ law
        else:
            seen = correction.mixed(covers[ink, np.arange(3)])
        np.clip(seen, 0, 1, out=seen)
        steps = (np.sqrt(seen) * np.float32(_STEPS) + np.float32(0.5)).astype(np.uint16)
        codes = keep_below(_encode().take(steps), seen, cloth)
        bare = ink[:, 0] & ink[:, 1] & ink[:, 2]
        codes[bare == 255] = cloth  # white ink is no ink: the cloth's own code
        out[start : start + _BLOCK] = codes
    return out.reshape(rgb8.shape)
