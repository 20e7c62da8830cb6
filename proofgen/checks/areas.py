"""Where ink lies on a blank: what is seen, which zones it meets, how far it is from edges."""

from __future__ import annotations

import math
from collections.abc import Iterator

from proofgen.geometry import FaceName, Plan, Rect, Zone, ZoneKind
from proofgen.model import Layout

SIDES = ("left", "top", "right", "bottom")
_HAIR = 1e-6  # mm


def seen_area(plan: Plan, face: FaceName) -> Rect:
    """What can be seen of the cloth in one piece with `face`, in that face's frame, mm.

    The front of a wrap is part of the way round: its own left and right sides are no edges.
    """
    if plan.construction == "wrap" and face == "front":
        whole, front = plan.face("round").rect, plan.face("front").rect
        return whole.moved(-front.x, -front.y)
    size = plan.canvases[face].size
    return Rect(0, 0, size.width, size.height)


def beyond(outer: Rect, inner: Rect) -> dict[str, float]:
    """How far `inner` reaches past each side of `outer`, mm; negative where it stays inside."""
    return {
        "left": outer.x - inner.x,
        "top": outer.y - inner.y,
        "right": inner.right - outer.right,
        "bottom": inner.bottom - outer.bottom,
    }


def past_shape(plan: Plan, face: FaceName, ink: Rect, inset: float) -> float:
    """How far `ink` reaches past the face's shape moved inward by `inset`, mm; <= 0 is inside."""
    area = seen_area(plan, face)
    corners = [(x, y) for x in (ink.x, ink.right) for y in (ink.y, ink.bottom)]
    if plan.shape == "round":
        radius = min(area.width, area.height) / 2 - inset
        return max(math.hypot(x - area.centre_x, y - area.centre_y) for x, y in corners) - radius
    past = max(beyond(area.inset(inset), ink).values())
    if plan.shape == "rounded" and plan.corner > inset:
        arcs = area.inset(plan.corner)  # its corners are the centres of the round corners
        for x, y in corners:
            dx = max(arcs.x - x, x - arcs.right)
            dy = max(arcs.y - y, y - arcs.bottom)
            if dx > 0 and dy > 0:
                past = max(past, math.hypot(dx, dy) - (plan.corner - inset))
    return past


def crossed(plan: Plan, face: FaceName, ink: Rect) -> list[float]:
    """Where `ink` runs over the lines in which the two faces of a `round` meet, in a seam: mm from
    the face's left."""
    return [at for at in plan.canvases[face].meets if ink.x < at - 1e-6 and ink.right > at + 1e-6]


def on_panels(plan: Plan, face: FaceName, ink: Rect) -> Iterator[tuple[str, Rect]]:
    """Where `ink` (face frame) lies on the panels, once each."""
    for part, piece in plan.canvases[face].by_part(ink):
        yield part.panel, part.to_panel(piece)


def clear_areas(plan: Plan, face: FaceName) -> list[Rect]:
    """Where on `face` (its frame, mm) ink is seen: each of its parts less the strips along its
    sides that hide or lose ink."""
    seen = seen_area(plan, face)
    if plan.construction == "wrap":  # what one end hides lies beyond that; a strip lies on it
        whole, own = plan.face("round").rect, plan.face(face).rect
        return [plan.clear("round", whole).moved(-own.x, -own.y)]
    return plan.clear_of(plan.canvases[face], seen)


def shown_share(plan: Plan, face: FaceName, ink: Rect) -> float:
    """The share of `ink` that is seen, 0 to 1."""
    shared = [area.overlap(ink) for area in clear_areas(plan, face)]
    return sum(one.width * one.height for one in shared if one) / (ink.width * ink.height)


def nearest_strip(plan: Plan, face: FaceName, ink: Rect) -> tuple[ZoneKind, float] | None:
    """Of the strips that part or border what is seen of a face, and that `ink` stays out of, the
    nearest: its kind, and how far away it is, mm. None where the face has none."""
    seen, near = seen_area(plan, face), dict[ZoneKind, float]()
    for area in clear_areas(plan, face):
        piece = ink.overlap(area)
        if piece is None:
            continue
        inner = beyond(area, seen)  # above 0 at the sides that are no edge of the face
        for side, past in beyond(area, ink).items():
            if inner[side] <= 1e-6 or past > 1e-6:
                continue
            met: list[ZoneKind] = [*zones_met(plan, face, _beside(area, piece, side)), "seam"]
            kind = met[0]
            near[kind] = min(near.get(kind, math.inf), -past)
    return min(near.items(), key=lambda one: one[1], default=None)


def _beside(area: Rect, piece: Rect, side: str) -> Rect:
    """A hair of `piece` beyond a side of `area`."""
    hair = 1e-3
    if side in ("left", "right"):
        return Rect(area.x - hair if side == "left" else area.right, piece.y, hair, piece.height)
    return Rect(piece.x, area.y - hair if side == "top" else area.bottom, piece.width, hair)


def zones_met(plan: Plan, face: FaceName, ink: Rect) -> dict[ZoneKind, float]:
    """The kinds of zone that `ink` reaches into, and how far (mm, the worst place)."""
    met: dict[ZoneKind, float] = {}
    for panel, rect in on_panels(plan, face, ink):
        for zone in plan.zones_on(panel):
            if zone.kind == "hole":
                if (deep := -_from_hole(zone.rect, rect)) > _HAIR:
                    met["hole"] = max(met.get("hole", 0.0), deep)
                continue
            shared = rect.overlap(zone.rect)
            if shared is not None:
                met[zone.kind] = max(met.get(zone.kind, 0.0), _depth(zone, shared))
    return met


def nearest_hole(plan: Plan, face: FaceName, ink: Rect) -> float | None:
    """How far (mm) `ink` (face frame) is from the nearest hole; below 0 where it reaches into one,
    None where the blank has none there."""
    away = [
        _from_hole(zone.rect, rect)
        for panel, rect in on_panels(plan, face, ink)
        for zone in plan.zones_on(panel)
        if zone.kind == "hole"
    ]
    return min(away, default=None)


def _from_hole(hole: Rect, ink: Rect) -> float:
    x = max(ink.x - hole.centre_x, hole.centre_x - ink.right, 0.0)
    y = max(ink.y - hole.centre_y, hole.centre_y - ink.bottom, 0.0)
    return math.hypot(x, y) - hole.width / 2


def _depth(zone: Zone, shared: Rect) -> float:
    """How far into a strip: measured across it."""
    upright = zone.rect.height >= zone.rect.width
    return shared.width if upright else shared.height


def edges_of(layout: Layout, face: FaceName) -> dict[str, float]:
    """The sides of a face that are edges, and how far ink should reach past each (mm)."""
    canvas = layout.plan.canvases[face]
    area = Rect(0, 0, canvas.size.width, canvas.size.height)
    asked = beyond(area, canvas.fill)
    if layout.plan.construction == "wrap" and face == "front":
        asked = {side: asked[side] for side in ("top", "bottom")}
    # Under the overlap a fill covers more; the bleed is what is asked of everything else.
    return {side: min(reach, layout.plan.bleed) for side, reach in asked.items() if reach > 0}
