"""Check photo/clear-areas."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos


@check(
    "photo/clear-areas",
    over=readable_photos,
    why="There is no white ink: what is clear in a picture stays bare cloth.",
    source="ink for cloth is a see-through dye without white: from memory (Miles, Textile "
    "Printing, 2003)",
    codes={"clear": "the picture can have clear areas"},
)
def clear_areas(subject: ReadableSubject) -> Iterator[Said]:
    """No picture has clear areas."""
    if subject.facts.has_alpha:
        yield note(
            "clear",
            "This picture can have clear areas. They stay bare cloth: no ink goes there.",
        )
