"""The flat net of a tapered cup: a piece of a ring. Measures only; nothing is pressed from it."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Frustum:
    """A tapered wall laid flat, mm and degrees.

    The net is the part of a ring between the radii `inner` and `outer` that `angle` spans; its
    long edge `outer_arc` goes round the wide end. `width` x `height` is the smallest upright
    rectangle that holds it.
    """

    slant: float
    inner: float
    outer: float
    angle: float
    inner_arc: float
    outer_arc: float
    width: float
    height: float


def frustum(wide: float, narrow: float, height: float) -> Frustum:
    """The net of a cup `wide` and `narrow` mm across at its ends and `height` mm high.

    slant s = sqrt(h^2 + (R1 - R2)^2), outer radius R1 s / (R1 - R2), angle 2 pi (R1 - R2) / s:
    plane geometry of a cone cut off. ValueError for a wall that is straight, or no cup at all.
    """
    if not (wide > narrow > 0 and height > 0):
        raise ValueError("a tapered cup is wider at one end, and higher than nothing")
    step = (wide - narrow) / 2
    slant = math.hypot(height, step)
    outer = wide / 2 * slant / step
    inner = outer - slant
    angle = 2 * math.pi * step / slant
    half = angle / 2
    # Past a half circle the ring is widest at its level diameter and its ends turn back up.
    width = 2 * outer * (math.sin(half) if half < math.pi / 2 else 1.0)
    lowest = (inner if half < math.pi / 2 else outer) * math.cos(half)
    return Frustum(
        slant=slant,
        inner=inner,
        outer=outer,
        angle=math.degrees(angle),
        inner_arc=math.pi * narrow,
        outer_arc=math.pi * wide,
        width=width,
        height=outer - lowest,
    )
