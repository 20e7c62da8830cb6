"""The tab on a can's lid as surfaces."""

from __future__ import annotations

import math

import numpy as np

from proofgen.views.hand.camera import Floats
from proofgen.views.hand.cans import Can
from proofgen.views.hand.metal import PANEL
from proofgen.views.solid.plates import plate
from proofgen.views.solid.turned import MM, Part

_UNDER, _THICK = 0.4, 0.9  # mm: air below it, and what it measures
_LONG, _WIDE, _NARROW = 25.0, 15.4, 12.0  # mm; from memory
_POINTS = 40


def _outline() -> Floats:
    """Round both ends, wider at the rivet; mm, counter-clockwise seen from above (x, z)."""
    t = np.linspace(0, 2 * math.pi, _POINTS, endpoint=False)
    x = 0.5 * _WIDE * np.sign(np.cos(t)) * np.abs(np.cos(t)) ** 0.75
    y = 0.5 * _LONG * np.sign(np.sin(t)) * np.abs(np.sin(t)) ** 0.85
    narrower = 1 - (1 - _NARROW / _WIDE) * np.clip(0.5 + y / _LONG, 0, 1)
    return np.stack([x * narrower, y - 5.0], axis=1)


def tab_of(can: Can) -> list[Part]:
    """It lies on the panel, its rivet in the middle; none on a lid too small for it."""
    if can.rim - 5.0 < 0.5 * _LONG + 6.0:
        return []
    line, c, s = _outline(), math.cos(can.lid), math.sin(can.lid)
    # At 0 it lies behind: away from the one who looks.
    x, away = line.T
    flat = np.stack([c * x + s * away, c * away - s * x], axis=1)
    low = can.height - PANEL + _UNDER
    return plate("tab", "metal", flat * MM, low * MM, (low + _THICK) * MM, 0.25 * MM)
