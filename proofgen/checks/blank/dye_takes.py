"""Check blank/dye-takes."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.places import blank_where
from proofgen.checks.registry import PRACTICE, Said, check, stop, warn
from proofgen.checks.subjects import BlankSubject, blanks
from proofgen.units import number

FULL = 1.0


@check(
    "blank/dye-takes",
    over=blanks,
    why="The dye goes into polyester and nowhere else; on other fibre the picture stays pale and "
    "washes out.",
    source=f"{PRACTICE} (100 % takes the dye fully); that cotton is not dyed: from memory (Miles, "
    "Textile Printing, 2003)",
    codes={
        "not-told": "the share of polyester is not told",
        "little": "less is polyester than a blank should have",
        "part": "not all of it is polyester",
    },
)
def dye_takes(subject: BlankSubject) -> Iterator[Said]:
    """Every blank is polyester, which takes the dye."""
    blank = subject.blank
    share = blank.cloth.polyester
    where = blank_where(blank, "cloth.polyester", "cloth")
    if share is None:
        yield warn(
            "not-told",
            f"How much polyester {blank.name} holds is not told.",
            "Look at its label, and write it under “cloth” in its file, like polyester: 100 %.",
            where=where,
        )
    elif share < FULL:
        little = share < subject.limits.polyester
        make = stop if little else warn
        yield make(
            "little" if little else "part",
            f"{blank.name} is {number(share * 100)} % polyester; only that part takes the dye, so "
            f"colours come out {'very ' * little}pale.",
            "Choose a blank of 100 % polyester" + ("." if little else ", or press a trial first."),
            measure=share,
            limit=subject.limits.polyester if little else FULL,
            where=where,
        )
