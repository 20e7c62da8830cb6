"""An ICC printer profile made here (ICC.1:2001-04, lut16Type): weak in colour, known by a formula.

Device RGB is linear. What it gives is the sRGB linear light drawn towards grey: a printer whose
strongest colours are `STRENGTH` as strong as sRGB's.
"""

from __future__ import annotations

import struct

import numpy as np
from numpy.typing import NDArray

from proofgen.colour.spaces import XYZ_FROM_LINEAR

STRENGTH = 0.6
_GRID = 33
# D65 to D50 (Bradford), as the ICC's sRGB profiles have it in their chad tag; and D50 itself.
_CHAD = np.array(
    [
        [1.047886, 0.022919, -0.050216],
        [0.029582, 0.990484, -0.017079],
        [-0.009252, 0.015073, 0.751678],
    ]
)
_D50 = np.array([0.9642, 1.0, 0.8249])
Floats = NDArray[np.float64]


def weaken(linear: Floats) -> Floats:
    """What the printer gives for linear sRGB in its reach (…, 3)."""
    grey = (linear @ XYZ_FROM_LINEAR[1])[..., None]
    return np.asarray(grey + STRENGTH * (linear - grey))


def device_for(linear: Floats) -> Floats:
    """The printer's own colours that give linear sRGB (…, 3); outside 0..1: out of its reach."""
    grey = (linear @ XYZ_FROM_LINEAR[1])[..., None]
    return np.asarray(grey + (linear - grey) / STRENGTH)


def _lab(linear: Floats) -> Floats:
    t = (linear @ XYZ_FROM_LINEAR.T @ _CHAD.T) / _D50
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.stack(
        [116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])],
        axis=-1,
    )


def _linear(lab: Floats) -> Floats:
    y = (lab[..., 0] + 16) / 116
    f = np.stack([y + lab[..., 1] / 500, y, y - lab[..., 2] / 200], axis=-1)
    d = 6 / 29
    xyz = np.where(f > d, f**3, 3 * d * d * (f - 4 / 29)) * _D50
    return np.asarray(xyz @ np.linalg.inv(_CHAD).T @ np.linalg.inv(XYZ_FROM_LINEAR).T)


def _grid() -> Floats:
    axis = np.linspace(0, 1, _GRID)
    return np.stack(np.meshgrid(axis, axis, axis, indexing="ij"), axis=-1).reshape(-1, 3)


def _lut(values: Floats, curve: Floats | None) -> bytes:
    """lut16Type of three channels; `curve` (n,) goes before the table, values are 0..65535."""
    straight = np.array([0.0, 65535.0])
    first = straight if curve is None else curve
    head = b"mft2" + bytes(4) + bytes([3, 3, _GRID, 0])
    head += struct.pack(">9i", *(65536 if i % 4 == 0 else 0 for i in range(9)))
    head += struct.pack(">2H", len(first), 2)
    tables = [np.tile(first, 3), values.ravel(), np.tile(straight, 3)]
    return head + b"".join(np.clip(np.rint(t), 0, 65535).astype(">u2").tobytes() for t in tables)


def made_profile(kind: bytes = b"prtr", tags: tuple[str, ...] = ("A2B0", "B2A0")) -> bytes:
    """The profile's bytes; `kind` is its device class, `tags` the tables it has."""
    device = _grid() ** 2.2  # a table in even steps of light would be coarse in the dark
    lab = _lab(weaken(device))
    there = np.stack([lab[:, 0] * 652.8, (lab[:, 1] + 128) * 256, (lab[:, 2] + 128) * 256], axis=-1)
    codes = _grid() * 65535
    asked = np.stack(
        [codes[:, 0] / 652.8, codes[:, 1] / 256 - 128, codes[:, 2] / 256 - 128], axis=-1
    )
    back = np.clip(device_for(_linear(asked)), 0, 1) ** (1 / 2.2) * 65535
    body = {
        "desc": b"desc" + bytes(4) + struct.pack(">I", 5) + b"made\0" + bytes(12 + 67),
        "cprt": b"text" + bytes(4) + b"ours\0",
        "wtpt": b"XYZ " + bytes(4) + struct.pack(">3i", *(round(v * 65536) for v in _D50)),
        "A2B0": _lut(there, None),
        "B2A0": _lut(back, None),
    }
    body = {k: v for k, v in body.items() if k in ("desc", "cprt", "wtpt", *tags)}
    table, data = struct.pack(">I", len(body)), b""
    start = 128 + 4 + 12 * len(body)
    for name, value in body.items():
        value += bytes(-len(value) % 4)
        table += name.encode() + struct.pack(">2I", start + len(data), len(value))
        data += value
    head = struct.pack(">I", start + len(data)) + bytes(4) + struct.pack(">I", 0x02400000)
    head += kind + b"RGB Lab " + struct.pack(">6H", 2026, 11, 25, 0, 0, 0) + b"acsp" + bytes(28)
    head += struct.pack(">3i", *(round(v * 65536) for v in _D50))
    return head + bytes(128 - len(head)) + table + data
