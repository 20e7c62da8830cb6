"""The plan of each construction: a blank's measures in, a Plan in finished mm out.

Raw measures are those of the new blank; shrink happens in the press, so finished = raw x (1 - s)
per axis. Every length a tape can take on the blank is raw (width, height, seam, fold, hem, base,
gap, closure width, corner); bleed, safe and the shortest overlap are asked of the finished piece.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from proofgen.geometry.allowance import rounded_down, rounded_up
from proofgen.geometry.plan import (
    BOTH_FACES,
    Canvas,
    EndOnTop,
    Face,
    FaceName,
    Hole,
    Part,
    Plan,
    Shape,
    Turn,
    Zone,
    ZoneKind,
)
from proofgen.geometry.plane import Rect, Size

_TWO: tuple[FaceName, ...] = ("front", "back")
_HAIR = 1e-9  # mm: a float's last digit is no reason to refuse a blank


def way_round(diameter: float, thickness: float) -> float:
    """Length of cloth that goes once round a can of `diameter`, on the neutral line, in mm."""
    return math.pi * (diameter + thickness)


def _whole(
    name: FaceName, panel: str, rect: Rect, fill: Rect, aim_x: float, turn: Turn = 0
) -> Canvas:
    """A canvas that lands on its panel in one piece."""
    target = fill.moved(rect.x, rect.y)
    if turn == 180:
        target = target.turned_half(rect)
    return Canvas(
        name=name,
        size=Size(rect.width, rect.height),
        fill=fill,
        aim=(aim_x, fill.centre_y),
        parts=(Part(panel=panel, source=fill, target=target, turn=turn),),
    )


def _all_round(front: Canvas, back: Canvas) -> Canvas:
    """Both faces of a piece as one, two faces wide, with the front in its middle: it begins and
    ends in the middle of the back."""
    half, part = front.size.width / 2, back.parts[0]
    own = part.source
    left = Rect(own.x, own.y, half - own.x, own.height)
    right = Rect(half, own.y, own.right - half, own.height)

    def moved(piece: Rect, by: float) -> Part:
        target = part.to_panel(piece)
        return Part(panel=part.panel, source=piece.moved(by, 0), target=target, turn=part.turn)

    middle = replace(front.parts[0], source=front.parts[0].source.moved(half, 0))
    fill = Rect(0, own.y, 4 * half, own.height)
    return Canvas(
        name="round",
        size=Size(4 * half, front.size.height),
        fill=fill,
        aim=(fill.centre_x, fill.centre_y),
        parts=(moved(right, -half), middle, moved(left, 3 * half)),
    )


def with_holes(plan: Plan, holes: Sequence[Hole], shrink: tuple[float, float]) -> Plan:
    """The plan with its holes as zones, finished mm; one through a sewn blank is in both faces."""
    across, down = 1 - shrink[0], 1 - shrink[1]
    zones = []
    for hole in holes:
        wide, high = hole.diameter * across, hole.diameter * down
        for panel, size in plan.panels.items():
            x = hole.x * across if panel != "back" else size.width - hole.x * across
            rect = Rect(x - wide / 2, hole.y * down - high / 2, wide, high)
            on = (f.name for f in plan.faces if f.panel == panel and f.rect.overlap(rect))
            zones.append(Zone(kind="hole", panel=panel, rect=rect, face=next(on, None)))
    return replace(plan, zones=(*plan.zones, *zones)) if zones else plan


def from_the_seam(plan: Plan) -> Plan:
    """The plan with what goes all the way round two faces as it once was laid: the front, then the
    back, so that it begins in a seam and has its middle in the other. Proofs made so stay so."""
    if plan.construction not in ("fold", "sewn"):
        return plan
    front, back = (plan.canvases[name].parts[0] for name in _TWO)
    wide, high = plan.canvases["front"].size.width, plan.canvases["front"].size.height
    fill = Rect(front.source.x, front.source.y, front.source.width + wide, front.source.height)
    both = Canvas(
        name="round",
        size=Size(2 * wide, high),
        fill=fill,
        aim=(wide, fill.centre_y),
        parts=(front, replace(back, source=back.source.moved(wide, 0))),
    )
    return replace(plan, canvases={**plan.canvases, "round": both})


def plan_wrap(
    *,
    length: float,
    height: float,
    diameter: float,
    thickness: float,
    closure_width: float,
    shortest: float,
    on_top: EndOnTop,
    bleed: float,
    safe: float,
    shrink: tuple[float, float] = (0.0, 0.0),
) -> Plan:
    """A flat piece closed round a can by hook-and-loop; raw mm in.

    Where no end lies on top they meet edge to edge, and a strip as wide as the closure lies over
    both: the cloth itself is then the way round, and its face reaches under the strip.
    """
    across = 1 - shrink[0]
    full, high = length * across, height * (1 - shrink[1])
    around = way_round(diameter, thickness)
    widest = closure_width * across
    if on_top == "neither":
        problems, covered = _meets(full, around, shortest, widest, across)
        overlap, around = None, full
        face = Rect(0.0, 0.0, full, high)
        hidden = [Rect(x, 0.0, covered, high) for x in (0.0, full - covered) if covered > 0]
    else:
        problems = _closes(full, around, shortest, widest, across)
        overlap = full - around
        face = Rect(overlap if on_top == "right" else 0.0, 0.0, around, high)
        hidden = [Rect(0.0 if on_top == "right" else around, 0.0, max(overlap, 0.0), high)]
    start = face.x
    front = Rect(face.centre_x - around / 4, 0.0, around / 2, high)
    # In the face's frame the cloth runs from -start to full - start.
    whole_cloth = Rect(-start, 0.0, full, high).grown(bleed, bleed, bleed, bleed)
    front_fill = Rect(0.0, 0.0, front.width, high).grown(bleed, bleed, bleed, bleed)
    return Plan(
        construction="wrap",
        panels={"round": Size(full, high)},
        faces=(
            Face(name="round", panel="round", rect=face),
            Face(name="front", panel="round", rect=front),
        ),
        zones=tuple(Zone(kind="closure", panel="round", rect=r, face="round") for r in hidden),
        canvases={
            "round": _whole("round", "round", face, whole_cloth, around / 2),
            "front": _whole("front", "round", front, front_fill, front.width / 2),
        },
        bleed=bleed,
        safe=safe,
        way_round=around,
        overlap=overlap,
        on_top=on_top,
        front_centre=face.centre_x,
        problems=problems,
    )


# mm by which ends that are said to meet may be measured too long: a can taken a millimetre too
# narrow is that much less round. Common practice, no source.
_PRESSED_IN = math.pi


def _meets(
    full: float, around: float, shortest: float, widest: float, across: float
) -> tuple[tuple[tuple[str, str, str], ...], float]:
    """Whether the ends of a wrap meet under a strip `widest` wide that holds `shortest` of each,
    and how much of each it covers; lengths of cures are those of a new blank."""
    apart = around - full
    covered = (widest - max(apart, 0.0)) / 2
    told = (
        f"the cloth is {full:.1f} mm long after the press and the way round is {around:.1f} mm, so "
    )
    most = rounded_down((around + _PRESSED_IN) / across)
    least = rounded_up((around - widest + 2 * shortest) / across)
    if -apart > _PRESSED_IN + _HAIR:
        problem = f"{told}its ends would lie {-apart:.1f} mm on one another instead of meeting"
        cure = f"use a blank at most {most:.1f} mm long, or say which end lies on top"
        return (("length", problem, cure),), max(covered, 0.0)
    if covered < shortest - _HAIR:
        problem = (
            f"{told}its ends stand {max(apart, 0.0):.1f} mm apart, and a strip {widest:.1f} mm "
            f"wide covers {max(covered, 0.0):.1f} mm of each; {shortest:.1f} mm is the least that "
            "holds"
        )
        return (
            ("length", problem, f"use a blank at least {least:.1f} mm long, or a wider strip"),
        ), max(covered, 0.0)
    return (), covered


def _closes(
    full: float, around: float, shortest: float, widest: float, across: float
) -> tuple[tuple[str, str, str], ...]:
    """Whether a wrap's ends meet as they should; lengths of cures are those of a new blank."""
    overlap = full - around
    least, most = rounded_up((around + shortest) / across), rounded_down((around + widest) / across)
    if overlap < shortest - _HAIR:
        meet = (
            f"the ends overlap by {overlap:.1f} mm"
            if overlap >= 0
            else f"the ends do not meet: {-overlap:.1f} mm are missing"
        )
        return (
            (
                "length",
                f"the cloth is {full:.1f} mm long after the press and the way round is "
                f"{around:.1f} mm, so {meet}; {shortest:.1f} mm of overlap is the least that "
                f"holds, so it is {rounded_up(shortest - overlap):.1f} mm too short",
                f"use a blank at least {least:.1f} mm long",
            ),
        )
    if overlap > widest + _HAIR:
        fits = f"{least:.1f} to {most:.1f} mm" if most >= least else f"about {most:.1f} mm"
        return (
            (
                "length",
                f"the ends overlap by {overlap:.1f} mm but the closure is only {widest:.1f} mm "
                f"wide, so the loose end has nothing to hold on to: the cloth is "
                f"{rounded_up(overlap - widest):.1f} mm too long",
                f"use a blank {fits} long, or a wider closure",
            ),
        )
    return ()


def _fold_zones(
    sheet: Size, front: Rect, back: Rect, *, seam: float, fold: float, hem: float, base: float
) -> tuple[Zone, ...]:
    """The strips of a fold's sheet that mean something; a strip of no width is none."""
    wide, high = sheet.width, sheet.height
    strips: list[tuple[ZoneKind, Rect, FaceName | None]] = [
        ("seam", Rect(0, 0, seam, high), None),
        ("seam", Rect(wide - seam, 0, seam, high), None),
        ("fold", Rect(0, front.bottom, wide, fold), None),
        ("hem", Rect(0, 0, wide, hem), "front"),
        ("hem", Rect(0, back.bottom, wide, hem), "back"),
        ("base", Rect(front.x, front.bottom - base, front.width, base), "front"),
        ("base", Rect(back.x, back.y, back.width, base), "back"),
    ]
    return tuple(
        Zone(kind=kind, panel=BOTH_FACES, rect=rect, face=face)
        for kind, rect, face in strips
        if rect.width > 0 and rect.height > 0
    )


def plan_fold(
    *,
    width: float,
    height: float,
    seam: float,
    fold: float,
    hem: float,
    base: float,
    bleed: float,
    safe: float,
    shrink: tuple[float, float] = (0.0, 0.0),
) -> Plan:
    """A flat sheet folded right sides together, sewn at both sides and turned; raw mm in."""
    across, down = 1 - shrink[0], 1 - shrink[1]
    wide, high = width * across, height * down
    seam, fold, hem, base = seam * across, fold * down, hem * down, base * down
    face_wide, face_high = wide - 2 * seam, (high - fold) / 2 - hem
    front = Rect(seam, hem, face_wide, face_high)
    back = Rect(seam, hem + face_high + fold, face_wide, face_high)
    panel = BOTH_FACES
    zones = _fold_zones(Size(wide, high), front, back, seam=seam, fold=fold, hem=hem, base=base)
    # Toward the fold both bleeds end in the middle of the strip.
    fill = Rect(0, 0, face_wide, face_high).grown(bleed, bleed, bleed, fold / 2)
    canvases: dict[FaceName, Canvas] = {
        "front": _whole("front", panel, front, fill, face_wide / 2),
        "back": _whole("back", panel, back, fill, face_wide / 2, turn=180),
    }
    canvases["round"] = _all_round(canvases["front"], canvases["back"])
    return Plan(
        construction="fold",
        panels={panel: Size(wide, high)},
        faces=(
            Face(name="front", panel=panel, rect=front),
            Face(name="back", panel=panel, rect=back, turn=180),
        ),
        zones=zones,
        canvases=canvases,
        bleed=bleed,
        safe=safe,
        way_round=2 * face_wide,
    )


def plan_sewn(
    *,
    width: float,
    height: float,
    gap: float,
    bleed: float,
    safe: float,
    shrink: tuple[float, float] = (0.0, 0.0),
) -> Plan:
    """An already sewn sleeve: two faces, each pressed by itself; raw mm in."""
    across = 1 - shrink[0]
    wide, high, gap = width * across, height * (1 - shrink[1]), gap * across
    rect = Rect(0, 0, wide, high)
    fill = rect.grown(bleed, bleed, bleed, bleed)
    zones = [
        Zone(kind="gap", panel=name, rect=Rect(x, 0, gap, high), face=name)
        for name in _TWO
        for x in (0.0, wide - gap)
        if gap > 0
    ]
    canvases = {name: _whole(name, name, rect, fill, wide / 2) for name in _TWO}
    canvases["round"] = _all_round(canvases["front"], canvases["back"])
    return Plan(
        construction="sewn",
        panels={"front": Size(wide, high), "back": Size(wide, high)},
        faces=tuple(Face(name=n, panel=n, rect=rect) for n in _TWO),
        zones=tuple(zones),
        canvases=canvases,
        bleed=bleed,
        safe=safe,
        way_round=2 * wide,
    )


def plan_flat(
    *,
    width: float,
    height: float,
    bleed: float,
    safe: float,
    shape: Shape = "rectangle",
    corner: float = 0.0,
    gap: float = 0.0,
    shrink: tuple[float, float] = (0.0, 0.0),
) -> Plan:
    """One face: coaster, pouch, patch; raw mm in. A round one has its diameter both ways. `gap` is
    the rim that takes no ink, the same at each side; a round one has none."""
    rect = Rect(0, 0, width * (1 - shrink[0]), height * (1 - shrink[1]))
    across, down = gap * (1 - shrink[0]), gap * (1 - shrink[1])
    rims = [
        Rect(0, 0, across, rect.height),
        Rect(rect.width - across, 0, across, rect.height),
        Rect(0, 0, rect.width, down),
        Rect(0, rect.height - down, rect.width, down),
    ]
    zones = [Zone(kind="gap", panel="front", rect=rim, face="front") for rim in rims if gap > 0]
    fill = rect.grown(bleed, bleed, bleed, bleed)
    return Plan(
        construction="flat",
        panels={"front": Size(rect.width, rect.height)},
        faces=(Face(name="front", panel="front", rect=rect),),
        zones=tuple(zones),
        canvases={"front": _whole("front", "front", rect, fill, rect.width / 2)},
        bleed=bleed,
        safe=safe,
        shape=shape,
        corner=corner * (1 - shrink[0]),
    )
