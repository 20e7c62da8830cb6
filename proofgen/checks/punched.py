"""The check of punched holes: what becomes of them where a wrap is closed."""

from __future__ import annotations

import math

from proofgen.checks.frame import Remarks, check, note
from proofgen.checks.subjects import blanks
from proofgen.geometry import Rect
from proofgen.model import Blank, Limits
from proofgen.model.limits import PRACTICE
from proofgen.say import mm, number

_MEET_MM = 1.0  # two holes whose middles are no further apart count as one: what a tape may be off


@check(
    "blank/holes",
    blanks,
    why="A ring or a cord goes through a hole of the closed sleeve only where nothing lies over "
    "it, or another hole does.",
    source=f"the blank's measures, closed round its can; that {number(_MEET_MM)} mm apart is one "
    f"hole is {PRACTICE}",
    codes={"under-closure": "a hole lies under the closure"},
)
def holes(blank: Blank, _: Limits) -> Remarks:
    """No punched hole lies under the closure."""
    try:
        plan = blank.plan()
    except ValueError:
        return  # blank/closes tells it
    hidden = [zone.rect for zone in plan.zones if zone.kind == "closure"]
    punched = [zone.rect for zone in plan.zones if zone.kind == "hole"]
    if plan.construction != "wrap":
        return
    under = [any(one.overlap(strip) for strip in hidden) for one in punched]
    over = [one for one, is_under in zip(punched, under, strict=True) if not is_under]
    # From a spot of the end that is hidden to the one that comes to lie on it.
    laps = plan.overlap is not None and plan.way_round is not None
    turn = (plan.way_round or 0.0) * (1 if plan.on_top == "right" else -1)
    for hole, rect, is_under in zip(blank.holes, punched, under, strict=True):
        if not is_under:
            continue
        apart = min((_apart(rect.moved(turn, 0), one) for one in over), default=math.inf)
        meets = laps and apart <= _MEET_MM
        yield note(
            "under-closure",
            f"{blank.name}: the hole {mm(hole.x)} from the left and {mm(hole.y)} from the top lies "
            f"under the closure{_met(rect, over, turn) if laps else ', covered by its strip'}.",
            ""
            if meets
            else "Measure it again: close one round its can and look; where the holes are to meet, "
            f"correct holes: in blanks/{blank.id}.yaml.",
            measure=apart if laps and math.isfinite(apart) else None,
            limit=_MEET_MM if laps and math.isfinite(apart) else None,
            where=str(blank.place_of("holes")),
            about=f"{blank.id}-holes-{number(hole.x)}-{number(hole.y)}",
        )


def _met(hole: Rect, over: list[Rect], turn: float) -> str:
    """What of the holes in the end on top comes to lie on one in the end below."""
    closed = hole.moved(turn, 0)
    nearest = min(over, key=lambda one: _apart(closed, one), default=None)
    if nearest is None:
        return "; no other hole comes to lie on it"
    apart = _apart(closed, nearest)
    if apart <= _MEET_MM:
        return f"; closed, it meets the hole over it, their middles {mm(apart)} apart"
    if apart < (closed.width + nearest.width) / 2:
        return f"; closed, it meets the hole over it in part, their middles {mm(apart)} apart"
    return f"; closed, no other hole meets it: the nearest has its middle {mm(apart)} from its own"


def _apart(one: Rect, other: Rect) -> float:
    return math.hypot(one.centre_x - other.centre_x, one.centre_y - other.centre_y)
