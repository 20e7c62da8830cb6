"""Check layout/pattern."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import mm
from proofgen.checks.registry import Said, check, note, warn
from proofgen.checks.subjects import LayerSubject, layers
from proofgen.model import Placed, PlacedPattern
from proofgen.units import number

_WAYS = {"mirrored": "every other repeat turned over", "half-drop": "every other column lower"}


@check(
    "layout/pattern",
    over=layers,
    why="A pattern that meets itself across the closure needs a whole number of repeats (an even "
    "one where every other column differs); making it so changes its size a little.",
    source="the way round the can, worked out from the blank's measures",
    codes={
        "scaled": "the repeat was changed so that the pattern meets itself",
        "does-not-meet": "the pattern does not meet itself across the closure",
        "both-upright": "on a folded blank the pattern stands upright on the back too",
        "may-shift": "sewing may shift a pattern that meets in the side seams",
    },
)
def pattern(subject: LayerSubject[Placed]) -> Iterator[Said]:
    """Every pattern meets itself and keeps its size."""
    placed, plan = subject.placed, subject.plan
    if not isinstance(placed, PlacedPattern):
        return
    asked, repeat = placed.repeat_asked_mm, placed.repeat_mm
    if asked > 0 and abs(repeat / asked - 1) >= 0.0005:
        yield note("scaled", _scaled(placed), measure=repeat, limit=asked)
    way = plan.canvases[placed.face].size.width
    goes_round = placed.rect.x <= 0 and placed.rect.right >= way and placed.face == "round"
    if plan.construction == "wrap" and goes_round and repeat > 0:
        step = repeat * (2 if placed.lay in _WAYS else 1)
        off = way - round(way / step) * step
        if abs(off) > subject.given.limits.pattern_gap_mm:
            times = "an even" if placed.lay in _WAYS else "a whole"
            yield warn(
                "does-not-meet",
                f"The pattern is out by {mm(abs(off))} where the ends meet.",
                f"Choose a repeat that goes into the way round {times} number of times "
                f"({mm(way)}).",
                measure=abs(off),
                limit=subject.given.limits.pattern_gap_mm,
            )
    if plan.construction in ("fold", "sewn") and goes_round:
        yield note(
            "may-shift",
            "The pattern is drawn to meet itself in the side seams; sewing may shift it by a "
            "millimetre there.",
        )
    if plan.construction == "fold" and placed.face in ("round", "back"):
        where = "on the front and on the back" if placed.face == "round" else "on the back"
        yield note(
            "both-upright",
            f"The pattern stands upright {where} when the piece is worn; it does not run on over "
            "the fold at the bottom, but starts again there the other way up.",
        )


def _scaled(placed: PlacedPattern) -> str:
    percent = (placed.repeat_mm / placed.repeat_asked_mm - 1) * 100
    change = "larger" if percent > 0 else "smaller"
    times = f": {placed.repeats_round} repeats go round" if placed.repeats_round else ""
    if times and placed.lay in _WAYS:
        times += f", an even number because it is laid {placed.lay} ({_WAYS[placed.lay]})"
    return (
        f"The pattern was made {number(abs(percent))} % {change} (a repeat of "
        f"{number(placed.repeat_mm, 2)} mm instead of {number(placed.repeat_asked_mm, 2)} mm), so "
        f"that it meets itself{times}."
    )
