"""Cans by their numbers: how high one of that diameter is, and its outline from wall to lid."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from proofgen.views.hand.camera import Floats

# Body diameter and finished height, mm. 66.1 x 122.7, 157.4, 168 and 53 x 134, 57 x 115: secondary
# pages, no standard; 66 x 115.2 and 58 x 145.5, 156.5: from memory.
_KNOWN = (
    (66.1, 115.2),
    (66.1, 122.7),
    (66.1, 157.4),
    (66.1, 168.0),
    (57.5, 115.0),
    (58.0, 145.5),
    (58.0, 156.5),
    (53.0, 134.0),
)
_SHOULDER = 17.5  # mm below the top where the wall begins to narrow; lid and seam from memory
_SHOWS = 19.0  # mm of a can that look out of its sleeve at least


@dataclass(frozen=True, slots=True)
class Can:
    """A drinks can, mm: diameter of its wall, height, and how far (radians) its lid is turned: at
    0 its tab lies behind, at a quarter to the right."""

    across: float
    height: float
    lid: float = math.radians(110)

    @property
    def rim(self) -> float:
        """Outer radius of the seam: 54 mm across on 66, little less than the wall on slim cans."""
        return min(27.1, 0.465 * self.across)

    @property
    def shoulder(self) -> float:
        """Height at which the wall begins to narrow."""
        return self.height - _SHOULDER


def can_for(across: float, sleeve: float) -> Can:
    """The can of that diameter that a sleeve so high (mm) is made for: the lowest known one that
    looks out of it; where none is known, one in proportion."""
    near = [high for wide, high in _KNOWN if abs(wide - across) < 3.0 and high >= sleeve + _SHOWS]
    return Can(across, min(near, default=sleeve + 10.0 + 0.2 * across))


def lift_of(can: Can, sleeve: float) -> float:
    """How high the sleeve's lower edge sits (mm): on the ground, but of a sleeve much lower than
    the wall as high as it is held."""
    return max(0.0, (can.shoulder - sleeve - 14.0) * 0.6)


def _outline(can: Can, foot: float) -> list[tuple[float, float]]:
    wall, rim, top = can.across / 2, can.rim, can.height
    neck = rim - 1.1
    turn = np.linspace(0, 1, 40)
    narrowing = turn**1.75 * (1 + 1.25 * (1 - turn)) / (1 + 0.2 * turn * (1 - turn))
    shoulder = [
        (wall - (wall - neck) * float(n), can.shoulder + (_SHOULDER - 4.9) * float(t))
        for t, n in zip(turn, np.clip(narrowing, 0, 1), strict=True)
    ]
    seam = [(neck, top - 3.3), (rim - 0.2, top - 2.9), (rim, top - 2.4), (rim, top - 0.7)]
    over = [(rim - 0.35, top - 0.12), (rim - 0.8, top), (rim - 1.25, top - 0.25)]
    sink = [(rim - 2.6, top - 5.9), (rim - 3.2, top - 6.5), (rim - 3.9, top - 6.4)]
    panel = [(rim - 4.5, top - 4.5), (rim - 5.2, top - 4.2), (0.0, top - 4.2)]
    return [(wall, foot), *shoulder, *seam, *over, *sink, *panel]


def profile(can: Can, foot: float, step: float) -> tuple[Floats, Floats, Floats, Floats]:
    """Radius and height (mm) along the can's outline from `foot` (height on its wall) over the rim
    to the middle of the lid, a point every `step` mm, and its normal outward and upward."""
    points = np.array(_outline(can, foot))
    length = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    fine = np.arange(0, length[-1], 0.02)
    radius, height = (np.interp(fine, length, points[:, i]) for i in (0, 1))
    soft = np.hanning(33)
    soft /= soft.sum()
    pad = len(soft) // 2
    radius, height = (
        np.convolve(np.pad(v, pad, mode="reflect", reflect_type="odd"), soft, "valid")
        for v in (radius, height)
    )
    along_r, along_z = np.gradient(radius), np.gradient(height)
    norm = np.hypot(along_r, along_z) + 1e-9
    every = max(1, round(step / 0.02))
    picked = (radius, height, along_z / norm, -along_r / norm)
    r, z, nr, nz = (v[::every].astype(np.float32) for v in picked)
    return np.maximum(r, 0), z, nr, nz
