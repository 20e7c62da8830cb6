"""Check blank/closes."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import sentence
from proofgen.checks.places import blank_where
from proofgen.checks.registry import PRACTICE, Said, check, stop
from proofgen.checks.subjects import BlankSubject, blanks


@check(
    "blank/closes",
    over=blanks,
    why="A wrap that is too short does not hold; one that is too long has nothing to hold on to.",
    source=f"the blank's measures: overlap = length - pi (diameter + thickness); the shortest "
    f"overlap is {PRACTICE}",
    codes={
        "does-not-close": "the ends overlap by too little or too much",
        "no-measures": "the measures are not enough to draw the blank",
    },
)
def closes(subject: BlankSubject) -> Iterator[Said]:
    """Every blank closes."""
    blank = subject.blank
    try:
        problems = blank.plan().problems
    except ValueError as error:
        yield stop(
            "no-measures",
            f"{blank.name} cannot be drawn: {error}.",
            f"Measure it again: proofgen blanks {blank.id} --measure",
        )
        return
    for key, problem, cure in problems:
        yield stop(
            "does-not-close",
            f"{blank.name}: {problem}.",
            sentence(cure),
            where=blank_where(blank, key),
            about=f"{blank.id}-{key}",
        )
