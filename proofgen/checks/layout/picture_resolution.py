"""Check layout/picture-resolution."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import at_most
from proofgen.checks.registry import PRACTICE, Said, check, warn
from proofgen.checks.subjects import LayerSubject, layers
from proofgen.model import Placed, PlacedArt, PlacedPattern
from proofgen.units import number


@check(
    "layout/picture-resolution",
    over=layers,
    why="The design's own pictures and patterns are enlarged with the blank; on a large one they "
    "can come out softer than the customer's photo.",
    source=f"{PRACTICE}; limits in shop.yaml",
    codes={"soft": "a picture or pattern of the design has too few pixels for its size"},
)
def picture_resolution(subject: LayerSubject[Placed]) -> Iterator[Said]:
    """The design's own pictures have enough pixels for their size."""
    placed = subject.placed
    limit = subject.given.limits.good_ppi
    if isinstance(placed, PlacedArt | PlacedPattern) and placed.ppi < limit:
        what = "pattern" if placed.kind == "pattern" else "picture"
        yield warn(
            "soft",
            f"The design’s own {what} gives {at_most(placed.ppi)} pixels per inch here; below "
            f"{number(limit, 3)} it looks soft.",
            "Save it in the design’s folder at a larger size.",
            measure=placed.ppi,
            limit=limit,
        )
