"""Check blank/heat."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.places import blank_where
from proofgen.checks.registry import PRACTICE, Said, check, note, stop, warn
from proofgen.checks.subjects import BlankSubject, blanks
from proofgen.model import Blank
from proofgen.units import c_to_f, number

# 180 to 210 °C is what a textile mill's page gives, up to 200 °C for 30 s another; 180 to 220 °C
# and 20 to 60 s are from memory (Miles, Textile Printing, 2003). Foam takes up to 65 s in
# practice. The usual limits are a little wider: they are to catch slips, not to teach.


def _own(blank: Blank) -> str:
    """Where a shop's own figures for a built-in blank go."""
    return f"blanks/{blank.id}.yaml, which `proofgen blanks {blank.id} --measure` makes"


@check(
    "blank/heat",
    over=blanks,
    why="Heat and time differ between blanks that look alike; a guess costs the blank.",
    source=f"the blank maker's figures come first, then a trial, then {PRACTICE}",
    codes={
        "none": "no heat and time are written for this blank",
        "practice": "the figures are common practice, not the maker's nor from a trial",
        "unusual-heat": "hotter or cooler than dyes for cloth are pressed",
        "unusual-time": "longer or shorter than cloth is pressed",
    },
)
def heat(subject: BlankSubject) -> Iterator[Said]:
    """Heat and time are known for every blank."""
    blank, press = subject.blank, subject.blank.press
    where = blank_where(blank, "press.heat", "press")
    trial = "Look at the maker’s sheet, or press a trial, then write "
    # No figure stands in the sentence: it would be copied.
    if press is None:
        yield stop(
            "none",
            f"Nobody wrote how hot and how long {blank.name} is pressed.",
            f"{trial}press: {{heat: … C, time: … s, pressure: medium, from: maker}} into its file.",
            where=where,
        )
        return
    figures = (
        f"{number(press.heat_c)} °C ({number(c_to_f(press.heat_c), 0)} °F) for "
        f"{number(press.time_s)} s"
    )
    if press.source == "practice":
        yield note(
            "practice",
            f"{blank.name}: {figures} is common practice, with no source; the maker’s own figures "
            "come first.",
            trial
            + ("its press: line" if not blank.built_in else f"press: into {_own(blank)}")
            + ".",
            where=where,
            measure=press.source,
        )
    limits = subject.limits
    if not limits.least_heat_c <= press.heat_c <= limits.most_heat_c:
        yield warn(
            "unusual-heat",
            f"{blank.name} would be pressed at {figures}; between {number(limits.least_heat_c)} "
            f"and {number(limits.most_heat_c)} °C is usual.",
            "Look at the figure again; perhaps °C and °F were mixed up.",
            where=where,
            measure=press.heat_c,
            limit=limits.least_heat_c if press.heat_c < limits.least_heat_c else limits.most_heat_c,
        )
    if not limits.least_time_s <= press.time_s <= limits.most_time_s:
        yield warn(
            "unusual-time",
            f"{blank.name} would be pressed at {figures}; between {number(limits.least_time_s)} "
            f"and {number(limits.most_time_s)} s is usual.",
            "Look at the figure again.",
            where=blank_where(blank, "press.time", "press"),
            measure=press.time_s,
            limit=limits.least_time_s if press.time_s < limits.least_time_s else limits.most_time_s,
        )
