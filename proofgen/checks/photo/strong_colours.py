"""Check photo/strong-colours."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import PRACTICE, Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos
from proofgen.units import number


@check(
    "photo/strong-colours",
    over=readable_photos,
    why="New phones record colours stronger than sRGB holds; they are brought down to the "
    "strongest it has, and fine shades among them run together.",
    source=f"IEC 61966-2-1; that 1 % is worth telling is {PRACTICE}",
    codes={"clipped": "more of the photo than the limit had colours outside sRGB"},
)
def strong_colours(subject: ReadableSubject) -> Iterator[Said]:
    """No photo has much of colours that sRGB cannot hold."""
    share = subject.facts.clipped
    if share is not None and share > subject.limits.strong_colours:
        yield note(
            "clipped",
            f"{number(share * 100)} % of this photo has colours stronger than our press colours "
            "can be; they come out calmer.",
            "Compare the strongest colours on the proof.",
            measure=share,
            limit=subject.limits.strong_colours,
        )
