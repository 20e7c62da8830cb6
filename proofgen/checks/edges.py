"""Checks of what lies at an edge: what ends there goes on past it, letters keep away from it."""

from __future__ import annotations

from proofgen.checks.areas import (
    SIDES,
    beyond,
    edges_of,
    nearest_hole,
    nearest_strip,
    past_shape,
)
from proofgen.checks.frame import Remarks, check, stop, warn
from proofgen.checks.mending import photo_as
from proofgen.checks.subjects import InkedWords, LaidLayer, inked_words, layers
from proofgen.geometry import Rect
from proofgen.model import Limits, Placed, PlacedPhoto
from proofgen.model.limits import PRACTICE
from proofgen.say import joined, mm, quoted
from proofgen.say.parts import STRIPS

_NEAR_MM = 1.0  # closer to an edge than this is meant to reach it
_NAMES = {"photo": "photo", "art": "picture", "pattern": "pattern", "colour": "colour"}


@check(
    "layout/bleed",
    layers,
    why="Cloth moves by a millimetre or two under the press; what ends at the edge leaves a bare "
    "strip there, so it has to go on past it (the bleed).",
    source=f"the blank's own bleed; {PRACTICE}",
    codes={"short": "reaches an edge but not far enough past it"},
)
def bleed(laid: LaidLayer[Placed], _: Limits) -> Remarks:
    """What reaches an edge goes on past it."""
    placed = laid.placed
    if placed.fill or placed.kind not in _NAMES:
        return
    size = laid.plan.canvases[placed.face].size
    reach = beyond(Rect(0, 0, size.width, size.height), placed.rect)
    asked = edges_of(laid.layout, placed.face)
    short = {
        side: asked[side] - reach[side]
        for side in SIDES
        if side in asked and -_NEAR_MM <= reach[side] < asked[side] - 1e-6
    }
    if short:
        worst = max(short, key=lambda side: short[side])
        names = joined(s for s in SIDES if s in short)
        yield warn(
            "short",
            f"The {_NAMES[placed.kind]} reaches the {names} edge{'s' * (len(short) > 1)} of the "
            f"{placed.face} but stops {mm(short[worst])} too early; a bare strip may show there.",
            _within(laid)
            or f"Let it go {mm(asked[worst])} past the edge, or write “at: fill” in the design.",
            measure=reach[worst],
            limit=asked[worst],
        )


def _within(laid: LaidLayer[Placed]) -> str:
    """What mends it where the order, not the design, says how large a photo is; '' otherwise."""
    placed = laid.placed
    slot = placed.slot if isinstance(placed, PlacedPhoto) else ""
    use = laid.line.line.photos.get(slot)
    if use is None or use.size_mm is None:
        return ""
    whole = photo_as(laid.line.line, slot, use.file, size_mm=None)
    return f"Write a smaller size: for the photo; or let it fill its place, {whole}"


@check(
    "layout/safe",
    inked_words,
    why="Cloth moves under the press and edges are cut, turned or curved away; letters near an "
    "edge look crowded at best and are cut at worst.",
    source=f"the blank's own safe distance; {PRACTICE}",
    codes={
        "near-edge": "letters are nearer to an edge than the safe distance",
        "near-hidden": "letters are nearer to a hidden strip than the safe distance",
        "near-hole": "letters are nearer to a hole than the safe distance",
        "off-edge": "letters run over an edge",
    },
)
def safe(words: InkedWords, _: Limits) -> Remarks:
    """All letters keep their distance from the edges and from what is hidden."""
    plan, placed = words.laid.plan, words.laid.placed
    off = past_shape(plan, placed.face, words.ink, 0.0)
    near = past_shape(plan, placed.face, words.ink, plan.safe)
    text = quoted(placed.text)
    cure = "Make the words smaller, or move them further in."
    if off > 1e-6:
        yield stop(
            "off-edge", f"{text} would run {mm(off)} over the edge.", cure, measure=-off, limit=0.0
        )
    elif near > 1e-6:
        left = plan.safe - near
        yield warn(
            "near-edge",
            f"{text} would end {mm(max(left, 0.0))} from the edge; {mm(plan.safe)} is safe.",
            cure,
            measure=left,
            limit=plan.safe,
        )
    hole = nearest_hole(plan, placed.face, words.ink)
    if hole is not None and 0 <= hole < plan.safe - 1e-6:
        yield warn(
            "near-hole",
            f"{text} would end {mm(hole)} from the hole; {mm(plan.safe)} is safe.",
            cure,
            measure=hole,
            limit=plan.safe,
        )
    strip = nearest_strip(plan, placed.face, words.ink)
    if strip and strip[1] < plan.safe - 1e-6:
        yield warn(
            "near-hidden",
            f"{text} would end {mm(strip[1])} from {STRIPS[strip[0]]}; {mm(plan.safe)} is safe.",
            cure,
            measure=strip[1],
            limit=plan.safe,
        )
