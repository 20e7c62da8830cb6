"""Check photo/orientation."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos

# EXIF tag 0x0112: 2, 4, 5 and 7 are mirror images.
_MIRRORED = (2, 4, 5, 7)


@check(
    "photo/orientation",
    over=readable_photos,
    why="A camera stores a photo lying on its side and adds a mark; who sends width and height "
    "from another program may expect it the other way.",
    source="TIFF 6.0 and EXIF, tag 0x0112 Orientation",
    codes={
        "turned": "stored turned, shown upright by its mark",
        "mirrored": "stored as a mirror image, shown right by its mark",
    },
)
def orientation(subject: ReadableSubject) -> Iterator[Said]:
    """Every photo is stored the right way up."""
    mark = subject.facts.orientation
    if mark in _MIRRORED:
        yield note(
            "mirrored",
            "The camera stored this photo as a mirror image; we turned it as its mark asks. "
            "Please check that writing in it reads the right way.",
            measure=mark,
        )
    elif mark not in (0, 1):
        yield note(
            "turned",
            "The camera stored this photo turned; we turned it upright as its mark asks.",
            measure=mark,
        )
