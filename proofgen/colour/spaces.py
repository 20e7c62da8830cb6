"""sRGB, linear light, CIE XYZ and CIE Lab, and colours written as #rrggbb."""

from __future__ import annotations

import re

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

_HEX = re.compile(r"#?([0-9a-fA-F]{6}|[0-9a-fA-F]{3})")


def _matrix_from_primaries() -> Floats:
    """Linear sRGB to XYZ from the chromaticities of IEC 61966-2-1:1999 (D65 .3127, .3290)."""
    xy = np.array([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06], [0.3127, 0.3290]])
    xyz = np.column_stack([xy[:, 0] / xy[:, 1], np.ones(4), (1 - xy.sum(axis=1)) / xy[:, 1]]).T
    primaries, white = xyz[:, :3], xyz[:, 3]
    return np.asarray(primaries * np.linalg.solve(primaries, white), dtype=np.float64)


# Full precision rather than the standard's four digits, and the white of the same matrix below:
# only so are greys exactly neutral in Lab.
XYZ_FROM_LINEAR = _matrix_from_primaries()
LINEAR_FROM_XYZ = np.linalg.inv(XYZ_FROM_LINEAR)
WHITE_D65 = XYZ_FROM_LINEAR.sum(axis=1)


def srgb_to_linear(encoded: ArrayLike) -> Floats:
    """sRGB values (0..1, any shape) to linear light. IEC 61966-2-1:1999."""
    v = np.asarray(encoded, dtype=np.float64)
    return np.where(v <= 0.04045, v / 12.92, ((np.maximum(v, 0.04045) + 0.055) / 1.055) ** 2.4)


def linear_to_srgb(linear: ArrayLike) -> Floats:
    """Linear light (0..1, any shape) to sRGB values. IEC 61966-2-1:1999."""
    v = np.asarray(linear, dtype=np.float64)
    curve = 1.055 * np.maximum(v, 0.0031308) ** (1 / 2.4) - 0.055
    return np.where(v <= 0.0031308, v * 12.92, curve)


def srgb_to_xyz(encoded: ArrayLike) -> Floats:
    """sRGB (…, 3) 0..1 to CIE XYZ (…, 3) under D65, Y of white = 1."""
    return np.asarray(srgb_to_linear(encoded) @ XYZ_FROM_LINEAR.T)


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = WHITE_D65) -> Floats:
    """CIE XYZ (…, 3) to CIE 1976 L*a*b* (…, 3) for a white; by default the white of sRGB.

    ISO/CIE 11664-4:2019.
    """
    t = np.asarray(xyz, dtype=np.float64) / np.asarray(white, dtype=np.float64)
    d = 6 / 29
    f = np.where(t > d**3, np.cbrt(t), t / (3 * d * d) + 4 / 29)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def srgb_to_lab(encoded: ArrayLike) -> Floats:
    """sRGB (…, 3) 0..1 to CIE 1976 L*a*b* (…, 3) under D65."""
    return xyz_to_lab(srgb_to_xyz(encoded))


def hex_to_rgb8(text: str) -> tuple[int, int, int]:
    """'#6fb7e9' or '#fff' as (111, 183, 233). ValueError says what to write."""
    found = _HEX.fullmatch(text.strip())
    if not found:
        raise ValueError(f"“{text}” is not a colour; write it like #6fb7e9")
    digits = found[1] if len(found[1]) == 6 else "".join(c * 2 for c in found[1])
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


def rgb8_to_hex(rgb: ArrayLike) -> str:
    """Three whole numbers 0..255 as '#rrggbb'. ValueError for anything else."""
    values = [int(v) for v in np.asarray(rgb).ravel()]
    if len(values) != 3 or not all(0 <= v <= 255 for v in values):
        raise ValueError(f"{values} is not a colour: three numbers from 0 to 255 are needed")
    return "#{:02x}{:02x}{:02x}".format(*values)
