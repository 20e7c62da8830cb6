"""Check layout/bleed."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import SIDES, beyond, edges
from proofgen.checks.phrases import joined, mm
from proofgen.checks.registry import PRACTICE, Said, check, warn
from proofgen.checks.subjects import LayerSubject, layers
from proofgen.geometry import Rect
from proofgen.model import Placed

NEAR_MM = 1.0  # closer to an edge than this is meant to reach it
_NAMES = {"photo": "photo", "art": "picture", "pattern": "pattern", "colour": "colour"}


@check(
    "layout/bleed",
    over=layers,
    why="Cloth moves by a millimetre or two under the press; what ends at the edge leaves a bare "
    "strip there, so it has to go on past it (the bleed).",
    source=f"the blank's own bleed; {PRACTICE}",
    codes={"short": "reaches an edge but not far enough past it"},
)
def bleed(subject: LayerSubject[Placed]) -> Iterator[Said]:
    """What reaches an edge goes on past it."""
    placed = subject.placed
    if placed.fill or placed.kind not in _NAMES:
        return
    size = subject.plan.canvases[placed.face].size
    reach = beyond(Rect(0, 0, size.width, size.height), placed.rect)
    asked = edges(subject.layout, placed.face)
    short = {
        side: asked[side] - reach[side]
        for side in SIDES
        if side in asked and -NEAR_MM <= reach[side] < asked[side] - 1e-6
    }
    if short:
        worst = max(short, key=lambda side: short[side])
        names = joined(s for s in SIDES if s in short)
        yield warn(
            "short",
            f"The {_NAMES[placed.kind]} reaches the {names} edge{'s' * (len(short) > 1)} of the "
            f"{placed.face} but stops {mm(short[worst])} too early; a bare strip may show there.",
            f"Let it go {mm(asked[worst])} past the edge, or write “at: fill” in the design.",
            measure=reach[worst],
            limit=asked[worst],
        )
