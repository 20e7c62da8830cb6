"""Check photo/present."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import visible
from proofgen.checks.registry import Said, check, skipped, stop
from proofgen.checks.subjects import LineSubject, lines


@check(
    "photo/present",
    over=lines,
    why="A place for a photo without one would be pressed bare.",
    source="the design's slots",
    codes={
        "no-photo": "the design has a place for a photo and the order has none for it",
        "no-design": "the shop has no such design",
    },
)
def present(subject: LineSubject) -> Iterator[Said]:
    """Every place for a photo has one."""
    if subject.design is None:
        yield skipped(
            "no-design", f"The shop has no design called “{visible(subject.item.design)}”."
        )
        return
    for slot in subject.design.slots("photo"):
        if slot not in subject.item.photos:
            yield stop(
                "no-photo",
                f"This design has a place for a photo (“{slot}”) and none was sent yet.",
                "Please send the photo, or choose a design without one.",
                about=slot,
            )
