"""Check blank/heat-agrees."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.places import blank_where
from proofgen.checks.registry import Said, check, stop
from proofgen.checks.subjects import BlankSubject, blanks
from proofgen.units import Temperature, c_to_f, f_to_c, number


@check(
    "blank/heat-agrees",
    over=blanks,
    why="Sheets print °C and °F side by side, and a published one prints 424 °F for 200 °C: the "
    "wrong one of the two scorches or stays pale.",
    source="°F = °C × 9/5 + 32; a course page found in print with “424 F or 200 C”",
    codes={"differ": "the written °C and °F are not the same heat, to 1 °C"},
)
def heat_agrees(subject: BlankSubject) -> Iterator[Said]:
    """Where °C and °F are both written, they are the same heat."""
    press = subject.blank.press
    if press is None or press.heat_f_written is None:
        return
    if not Temperature(press.heat_c, press.heat_f_written).agrees:
        written = f_to_c(press.heat_f_written)
        yield stop(
            "differ",
            f"{subject.blank.name}: {number(press.heat_f_written)} °F is {number(written)} °C, not "
            f"{number(press.heat_c)} °C.",
            f"Look at the maker’s sheet and keep the right one ({number(press.heat_c)} °C would be "
            f"{number(c_to_f(press.heat_c))} °F).",
            measure=abs(written - press.heat_c),
            limit=1.0,
            where=blank_where(subject.blank, "press.heat", "press"),
        )
