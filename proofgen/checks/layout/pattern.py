"""Check layout/pattern."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import mm
from proofgen.checks.registry import Said, check, note, warn
from proofgen.checks.subjects import LayerSubject, layers
from proofgen.units import number

TOLERANCE_MM = 0.5


@check(
    "layout/pattern",
    over=layers,
    why="A pattern that meets itself across the closure needs a whole number of repeats; making "
    "it so changes its size a little.",
    source="the way round the can, worked out from the blank's measures",
    codes={
        "scaled": "the repeat was changed so that the pattern meets itself",
        "does-not-meet": "the pattern does not meet itself across the closure",
        "both-upright": "on a folded blank the pattern stands upright on both faces",
    },
)
def pattern(subject: LayerSubject) -> Iterator[Said]:
    """Every pattern meets itself and keeps its size."""
    placed, plan = subject.placed, subject.plan
    if placed.kind != "pattern":
        return
    asked, repeat = placed.repeat_asked_mm, placed.repeat_mm
    if asked > 0 and abs(repeat / asked - 1) >= 0.0005:
        percent = (repeat / asked - 1) * 100
        change = "larger" if percent > 0 else "smaller"
        yield note(
            "scaled",
            f"The pattern was made {number(abs(percent))} % {change} "
            f"(a repeat of {number(repeat, 2)} mm instead of {number(asked, 2)} mm), so that it "
            "meets itself.",
            measure=repeat,
            limit=asked,
        )
    if plan.construction == "wrap" and placed.face == "round" and plan.way_round and repeat > 0:
        off = plan.way_round - round(plan.way_round / repeat) * repeat
        if abs(off) > TOLERANCE_MM:
            yield warn(
                "does-not-meet",
                f"The pattern is out by {mm(abs(off))} where the ends meet.",
                "Choose a repeat that goes into the way round a whole number of times "
                f"({mm(plan.way_round)}).",
                measure=abs(off),
                limit=TOLERANCE_MM,
            )
    if plan.construction == "fold" and placed.face == "round":
        yield note(
            "both-upright",
            "The pattern stands upright on the front and on the back; at the fold below it turns.",
        )
