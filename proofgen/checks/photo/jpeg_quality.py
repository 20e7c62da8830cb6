"""Check photo/jpeg-quality."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import PRACTICE, Said, check, warn
from proofgen.checks.subjects import ReadableSubject, readable_photos
from proofgen.photo.measures import quality_of


@check(
    "photo/jpeg-quality",
    over=readable_photos,
    why="Photos sent through messengers are compressed again and again; blocks and halos show on "
    "the pressed piece even where there are pixels enough.",
    source=f"ITU-T T.81, Annex K, and the scaling of the IJG's encoder; the limit is {PRACTICE}",
    codes={"strongly-compressed": "the tables in the file are those of a low quality"},
)
def jpeg_quality(subject: ReadableSubject) -> Iterator[Said]:
    """No photo was squeezed hard."""
    quality = quality_of(subject.facts.jpeg_tables)
    if quality is not None and quality < subject.limits.jpeg_quality:
        yield warn(
            "strongly-compressed",
            "This photo was squeezed hard to make its file small, as messengers do; blocks may "
            "show in skies and around faces.",
            "Ask for the original, sent by mail or as a file.",
            measure=quality,
            limit=subject.limits.jpeg_quality,
        )
