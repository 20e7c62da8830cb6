"""What a page's script must know to turn a can sleeve by the four pictures of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from proofgen.views.hand.camera import COS, SIN, Floats
from proofgen.views.hand.cloth import LIGHT, ROLLED, sheen_of, turning
from proofgen.views.hand.sleeve import Sleeve, columns, frame_of, rounded

_ANGLES = np.radians(np.arange(-90.0, 90.1, 5.0))
_FINER = 4  # columns to a pixel, of which those at the angles are read
_SOLES = 0.75  # of the lower edge's rounding: above that a print lies as on a plain cylinder
_REACH = 2.0  # of the roundings: as far in their light goes at the limbs


@dataclass(frozen=True, slots=True, kw_only=True)
class Turntable:
    """Numbers of all views of one sleeve, px of a picture. The lists hold a value for every 5
    degrees from the left limb to the right one: `brim`, `first` and `low` are the rows in which
    what is printed of the upper edge, the wall and the ground begin, `top` that in which the wall
    would if its edge were sharp; `light` is what is left of the middle's, `sheen` what the cloth
    mirrors (both 0..1). `fin` is how far the seams of two faces stand out at the limbs, 0 of a
    wrap, `bead` half of how wide they look from in front; `sole` the height of the part above the
    lower edge that rounds away, `edge` how far in the roundings reach at the limbs."""

    width: int
    height: int
    middle: float
    radius: float
    fin: float
    bead: float
    sole: int
    edge: int
    brim: tuple[float, ...]
    top: tuple[float, ...]
    first: tuple[float, ...]
    low: tuple[float, ...]
    light: tuple[float, ...]
    sheen: tuple[float, ...]


def turntable_of(sleeve: Sleeve, width_px: int, width_mm: float | None = None) -> Turntable:
    """The turntable of the views that `frame_of` frames with the same numbers."""
    frame = frame_of(sleeve, width_px, width_mm)
    fine = frame.finer(_FINER)
    x = sleeve.radius * np.sin(_ANGLES)

    def rows(y: Floats) -> tuple[float, ...]:
        return tuple(round(float(v), 1) for v in (y - frame.top) * frame.per_mm)

    top = sleeve.radius * np.cos(_ANGLES) * SIN - sleeve.top * COS
    seen = columns(sleeve, fine, 0.0)
    first, low = (np.interp(x, fine.xs(), y) for y in (seen.first, seen.last))
    rolled = sleeve.radius - ROLLED[sleeve.finish] * sleeve.thickness
    corner = rounded(x, sleeve.radius, sleeve.crest, sleeve.crest_deep) * COS
    brim = np.maximum(np.sqrt(np.maximum(rolled**2 - x**2, 0)) * SIN, corner) - sleeve.top * COS
    sheen = sheen_of(sleeve, _ANGLES)
    light = np.minimum(turning(sleeve, _ANGLES), 1 - sheen) / LIGHT
    return Turntable(
        width=frame.width_px,
        height=frame.height_px,
        middle=round(-frame.left * frame.per_mm, 3),
        radius=round(sleeve.radius * frame.per_mm, 3),
        fin=round(sleeve.fin * frame.per_mm, 2) if sleeve.seams else 0.0,
        bead=round(sleeve.bead * frame.per_mm, 2) if sleeve.seams else 0.0,
        sole=math.ceil(_SOLES * sleeve.sole * COS * frame.per_mm),
        edge=math.ceil(_REACH * max(sleeve.sole, sleeve.crest) * frame.per_mm / 2),
        brim=rows(brim),
        top=rows(top),
        first=rows(first),
        low=rows(low),
        light=tuple(round(float(v), 4) for v in light),
        sheen=tuple(round(float(v), 4) for v in sheen),
    )
