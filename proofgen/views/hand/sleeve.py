"""A can sleeve as numbers: what its picture depends on, and where each column of it looks."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from proofgen.geometry import Construction, EndOnTop
from proofgen.model import Layout
from proofgen.model.blank import Finish
from proofgen.render.mood import USUAL_MOOD, Mood
from proofgen.views.hand.camera import COS, SIN, Floats, Frame
from proofgen.views.hand.cans import Can, can_for, lift_of
from proofgen.views.hand.light import smooth


@dataclass(frozen=True, slots=True, kw_only=True)
class Sleeve:
    """What the picture of a can sleeve depends on but for what is printed; mm. `height` is the
    cloth's that is seen, `seams` and `join` angles from the front's middle (radians), `strip` how
    wide what lies over a join is whose ends meet, `mood` the theme's light and framing."""

    construction: Construction
    finish: Finish
    radius: float
    thickness: float
    height: float
    can: Can
    lift: float
    base: float = 0.0
    hem: float = 0.0
    gap: float = 0.0
    overlap: float = 0.0
    on_top: EndOnTop | None = None
    strip: float = 0.0
    seams: tuple[float, ...] = ()
    join: float | None = None
    mood: Mood = USUAL_MOOD

    @property
    def top(self) -> float:
        """Height of its upper edge above the ground."""
        return self.lift + self.height

    @property
    def crest(self) -> float:
        """How far in (mm) the upper edge rounds: it is drawn in towards the can it grips."""
        return self.thickness * 0.85

    @property
    def crest_deep(self) -> float:
        """How far down (mm) that rounding goes: foam is soft, thin cloth turns sharply."""
        return self.thickness * (0.95 if self.finish == "foam" else 0.6)

    @property
    def sole(self) -> float:
        """Radius of the lower edge's rounding: large where the cloth turns under the can."""
        if self.base or self.construction == "fold":
            return 6.5 if self.finish == "foam" else 4.5
        return self.thickness * 0.5 if self.finish == "foam" else min(0.7, self.thickness * 0.3)

    @property
    def fin(self) -> float:
        """How far (mm) the bound seam of two faces stands out."""
        return min(2.0, 0.4 + 0.38 * self.thickness)

    @property
    def bead(self) -> float:
        """Half of how wide (mm) that seam looks from in front."""
        return 0.22 + 0.20 * self.thickness


_STRIP_THICK = 1.4  # mm: hook-and-loop, both halves pressed together; from memory


def sleeve_of(layout: Layout, mood: Mood = USUAL_MOOD) -> Sleeve:
    """The sleeve of a layout in a theme's light. ValueError for a flat piece."""
    plan, blank = layout.plan, layout.blank
    if plan.way_round is None:
        raise ValueError("a flat piece goes round no can")
    neutral = plan.way_round / (2 * math.pi)
    thick = max(blank.thickness_mm, 0.5)
    can_across = min(blank.vessel_mm or 2 * neutral - thick, 2 * neutral)
    base = plan.base_mm
    height = plan.canvases["round"].size.height - base
    can = can_for(can_across, height)
    wrap = plan.construction == "wrap"
    return Sleeve(
        construction=plan.construction,
        finish=blank.cloth.finish,
        radius=neutral + thick / 2,
        thickness=thick,
        height=height,
        can=can,
        lift=lift_of(can, height),
        base=base,
        hem=blank.hem_mm,
        gap=blank.gap_mm,
        overlap=plan.overlap or 0.0,
        on_top=plan.on_top,
        strip=sum(rect.width for rect in plan.under_strip),
        seams=() if wrap else (-math.pi / 2, math.pi / 2),
        join=math.pi if wrap else None,
        mood=mood,
    )


def natural_width(sleeve: Sleeve) -> float:
    """Width (mm) of a picture that just holds it with its margin."""
    return 2 * (sleeve.radius + sleeve.mood.margin)


def frame_of(sleeve: Sleeve, width_px: int, width_mm: float | None = None) -> Frame:
    """The picture's frame: the sleeve with its margin, or `width_mm` wide, the thing standing in
    its middle."""
    wide = width_mm or natural_width(sleeve)
    top = -(sleeve.can.height * COS) - sleeve.can.rim * SIN - 0.62 * sleeve.mood.margin
    bottom = sleeve.radius * SIN + 0.8 * sleeve.mood.margin
    return Frame.about(wide, top, bottom, width_px)


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Where a view's columns look on the cloth: `angle` from the view's middle (radians), `down`
    the Y (mm) of the sleeve's upper edge there, `first` and `last` the Y between which cloth is
    seen, `cover` how much of the column is cloth."""

    angle: Floats
    down: Floats
    first: Floats
    last: Floats
    cover: Floats


def wrapped(angle: Floats | float) -> Floats:
    """The same angle within half a turn of 0, radians."""
    return np.asarray((np.asarray(angle) + math.pi) % (2 * math.pi) - math.pi, dtype=np.float32)


def along(sleeve: Sleeve, angle: Floats) -> Floats:
    """mm of cloth from the front's middle at `angle` from it (radians, of any turn): the same for
    the same place in every view. It breaks where the cloth does, at a join or a seam."""
    cut = sleeve.seams[-1] if sleeve.join is None else sleeve.join
    back = cut - math.pi
    return np.asarray((wrapped(angle - back) + back) * sleeve.radius)


def bump_of(sleeve: Sleeve, angle: Floats, turn: float) -> Floats:
    """How far the cloth lies out (mm) over the covered end of a wrap; `angle` from the view's
    middle, the view turned by `turn` from the front."""
    if sleeve.join is None:
        return np.zeros_like(angle)
    if sleeve.on_top == "neither":
        from_join = np.abs(wrapped(angle + turn - sleeve.join)) * sleeve.radius
        lies = 1 - smooth(sleeve.strip / 2 - 0.8, sleeve.strip / 2 + 0.4, from_join)
        facing = smooth(0.12, 0.6, np.abs(np.cos(angle)))
        return np.asarray(_STRIP_THICK * lies * facing, dtype=np.float32)
    side = 1.0 if sleeve.on_top == "right" else -1.0
    # mm from the upper end's edge into it, along the cloth.
    into = -side * wrapped(angle + turn - sleeve.join) * sleeve.radius
    over = max(sleeve.overlap, 1.0)
    ends = 1 - smooth(over - 1.0, over + 9.0, into)
    # It is pressed down a little at its very edge.
    bump = sleeve.thickness * 0.62 * ends * (into >= 0) * (0.55 + 0.45 * smooth(0, 5.0, into))
    # At the limbs the outline stays the cylinder's, which the wall is drawn by.
    facing = smooth(0.12, 0.6, np.abs(np.cos(angle)))
    return np.asarray(bump * facing, dtype=np.float32)


def rounded(x: Floats, radius: float, corner: float, deep: float | None = None) -> Floats:
    """How far (mm) a rounded edge of a cylinder lies inside its end where the limb is at x; the
    rounding goes `corner` in and `deep` along."""
    past = np.clip(np.abs(x) - (radius - corner), 0, corner)
    # As float32 the corner may be a hair more than itself.
    inside = corner - np.sqrt(np.maximum(corner**2 - past**2, 0))
    return np.asarray(inside * ((deep or corner) / corner), dtype=np.float32)


def _lowest(x: Floats, radius: float, corner: float) -> Floats:
    """Y (mm, over the foot's middle) of the outline of a rounded lower edge in each column."""
    best = np.full_like(x, -1e3)
    for up in np.linspace(0, corner, 25):
        r = radius - corner + math.sqrt(corner**2 - (corner - up) ** 2)
        inside = r >= np.abs(x)
        down = np.sqrt(np.maximum(r**2 - x**2, 0)) * SIN - up * COS
        best = np.where(inside, np.maximum(best, down), best)
    return np.maximum(best, -rounded(x, radius, corner) * COS)


def columns(sleeve: Sleeve, frame: Frame, turn: float) -> Columns:
    """Where each column of a view looks that is turned by `turn` (radians) from the front."""
    x = frame.xs()
    share = np.clip(x / sleeve.radius, -1, 1)
    angle = np.arcsin(share)
    cosine = np.sqrt(np.maximum(1 - share**2, 0))
    bump = bump_of(sleeve, angle, turn)
    down = (sleeve.radius + bump) * cosine * SIN - sleeve.top * COS
    crest = rounded(x, sleeve.radius, sleeve.crest, sleeve.crest_deep) * COS - sleeve.top * COS
    low = _lowest(x, sleeve.radius, sleeve.sole) - sleeve.lift * COS + bump * cosine * SIN
    return Columns(
        angle=angle.astype(np.float32),
        down=down.astype(np.float32),
        first=np.maximum(down, crest).astype(np.float32),
        last=low.astype(np.float32),
        cover=np.clip((sleeve.radius - np.abs(x)) * frame.per_mm + 0.5, 0, 1).astype(np.float32),
    )
