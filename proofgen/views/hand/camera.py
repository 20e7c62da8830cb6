"""Where a point of the thing lands in the picture, and back.

The camera is far away (parallel rays) and looks down by ELEVATION. So every thing of a page has
one scale whatever its depth, and a column of a can sleeve shows one angle from top to bottom:

    across  X = R sin θ
    down    Y = -z cos e + R cos θ sin e        (z: height above the ground, e: ELEVATION)

X, Y in mm from the foot of the thing's axis, X to the right, Y down; θ from the side that faces
the camera, to the right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

ELEVATION = math.radians(12.0)
SIN, COS = math.sin(ELEVATION), math.cos(ELEVATION)

Floats = NDArray[Any]  # of float32, but for a few numbers a column


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A picture's part of the world: `left` and `top` (mm) are its corner, `per_mm` its scale."""

    left: float
    top: float
    per_mm: float
    width_px: int
    height_px: int

    @classmethod
    def about(cls, wide: float, top: float, bottom: float, width_px: int) -> Frame:
        """The frame of a picture `width_px` wide that shows `wide` mm, as much to the left of the
        thing's middle as to its right, from Y `top` to `bottom` (mm)."""
        per_mm = width_px / wide
        return cls(
            left=-wide / 2,
            top=top,
            per_mm=per_mm,
            width_px=width_px,
            height_px=round((bottom - top) * per_mm),
        )

    def xs(self) -> Floats:
        """Middle of each column, mm."""
        return (self.left + (np.arange(self.width_px) + 0.5) / self.per_mm).astype(np.float32)

    def ys(self) -> Floats:
        """Middle of each row, mm."""
        return (self.top + (np.arange(self.height_px) + 0.5) / self.per_mm).astype(np.float32)

    def between(self, low: float, high: float) -> tuple[int, Frame]:
        """The rows that show Y from `low` to `high` (mm): the first's number, and their frame."""
        first = max(0, math.floor((low - self.top) * self.per_mm))
        last = min(self.height_px, math.ceil((high - self.top) * self.per_mm))
        top = self.top + first / self.per_mm
        return first, replace(self, top=top, height_px=max(0, last - first))

    def finer(self, times: int) -> Frame:
        """The same part of the world in smaller pixels."""
        return Frame(
            left=self.left,
            top=self.top,
            per_mm=self.per_mm * times,
            width_px=self.width_px * times,
            height_px=self.height_px * times,
        )


def lands(radius: float, angle: float, height: float) -> tuple[float, float]:
    """X and Y (mm) of a point of a turned body: its radius and height (mm), its angle (radians)."""
    return radius * math.sin(angle), radius * math.cos(angle) * SIN - height * COS
