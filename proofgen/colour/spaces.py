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
_KNEE = 6 / 29  # where the cube root of Lab gives way to a straight line


def srgb_to_linear(encoded: ArrayLike) -> Floats:
    """sRGB values (0..1, any shape) to linear light. IEC 61966-2-1:1999."""
    v = np.asarray(encoded, dtype=np.float64)
    return np.where(v <= 0.04045, v / 12.92, ((np.maximum(v, 0.04045) + 0.055) / 1.055) ** 2.4)


def linear_to_srgb(linear: ArrayLike) -> Floats:
    """Linear light (0..1, any shape) to sRGB values. IEC 61966-2-1:1999."""
    v = np.asarray(linear, dtype=np.float64)
    curve = 1.055 * np.maximum(v, 0.0031308) ** (1 / 2.4) - 0.055
    return np.where(v <= 0.0031308, v * 12.92, curve)


def linear_to_lab(linear: ArrayLike) -> Floats:
    """Linear sRGB (…, 3) to CIE 1976 L*a*b* (…, 3) under D65. ISO/CIE 11664-4:2019."""
    t = np.asarray(linear, dtype=np.float64) @ XYZ_FROM_LINEAR.T / WHITE_D65
    f = np.where(t > _KNEE**3, np.cbrt(t), t / (3 * _KNEE * _KNEE) + 4 / 29)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_to_linear(lab: ArrayLike) -> Floats:
    """The way back: CIE Lab (…, 3) under D65 to linear sRGB (…, 3), which may leave 0..1."""
    values = np.asarray(lab, dtype=np.float64)
    y = (values[..., 0] + 16) / 116
    f = np.stack([y + values[..., 1] / 500, y, y - values[..., 2] / 200], axis=-1)
    xyz = np.where(f > _KNEE, f**3, 3 * _KNEE * _KNEE * (f - 4 / 29)) * WHITE_D65
    return np.asarray(xyz @ LINEAR_FROM_XYZ.T)


def lab_of(rgb8: ArrayLike) -> Floats:
    """CIE 1976 L*a*b* (…, 3) under D65 of sRGB codes (…, 3), 0 to 255."""
    return linear_to_lab(srgb_to_linear(np.asarray(rgb8) / 255))


def hex_to_rgb8(text: str) -> tuple[int, int, int]:
    """'#6fb7e9' or '#fff' as (111, 183, 233). ValueError says what to write."""
    written = _HEX.fullmatch(text.strip())
    if not written:
        raise ValueError(f"“{text}” is not a colour; write it like #6fb7e9")
    digits = written[1] if len(written[1]) == 6 else "".join(c * 2 for c in written[1])
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


def rgb8_to_hex(rgb: ArrayLike) -> str:
    """Three whole numbers 0..255 as '#rrggbb'. ValueError for anything else."""
    values = [int(v) for v in np.asarray(rgb).ravel()]
    if len(values) != 3 or not all(0 <= v <= 255 for v in values):
        raise ValueError(f"{values} is not a colour: three numbers from 0 to 255 are needed")
    return "#{:02x}{:02x}{:02x}".format(*values)
