"""Check photo/location."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import joined
from proofgen.checks.registry import Said, check, note
from proofgen.checks.subjects import ReadableSubject, readable_photos

_PLACE = ("place", "location")


@check(
    "photo/location",
    over=readable_photos,
    why="A phone writes into a photo where and when it was taken. The customer may not know; what "
    "we publish must not tell.",
    source="EXIF, GPS IFD (tag 0x8825); every published picture is rebuilt from its pixels",
    codes={
        "location": "the file tells where it was taken",
        "private": "the file tells other private things",
    },
)
def location(subject: ReadableSubject) -> Iterator[Said]:
    """No photo carries private data."""
    facts = subject.facts
    others = [what for what in facts.private if what not in _PLACE]
    if facts.has_location:
        yield note(
            "location",
            "This photo says where it was taken. What we publish never carries that.",
            "Nothing to do here; take care with the file itself.",
        )
    if others:
        yield note(
            "private",
            f"This photo carries private data ({joined(others)}). What we publish never does.",
            measure=", ".join(others),
        )
