"""Check photo/screenshot."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import joined
from proofgen.checks.registry import PRACTICE, Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_pictures
from proofgen.model import PhotoFacts

# px of the shorter side of phones' screens, from memory.
_SCREENS = {640, 720, 750, 828, 1080, 1125, 1170, 1179, 1206, 1242, 1284, 1290, 1320, 1440}
_LONG = 1.7  # long side over short side from which a screen is a phone's
_SIDES = ("left", "top", "right", "bottom")


@check(
    "photo/screenshot",
    over=measured_pictures,
    why="A picture of a screen has the screen's few pixels, and often its clock and its bars; the "
    "photo behind it is nearly always better.",
    source=f"the picture's own rows and columns, and sizes of phones' screens from memory; limits "
    f"are {PRACTICE}",
    codes={
        "screenshot": "a strip along the top as phones draw it",
        "bars": "even bars along opposite sides, some of which would be printed",
        "bars-cut": "even bars along opposite sides, outside what is printed",
        "screen-size": "exactly the size of a phone's screen and no camera's data",
        "not-looked-at": "the pixels were not looked at",
    },
)
def screenshot(subject: MeasuredSubject) -> Iterator[Said]:
    """No photo is a picture of a screen."""
    if subject.measures is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    seen, facts = subject.measures.frame, subject.facts
    cure = "Ask for the photo itself: shared from the phone as a file, not as it stands on screen."
    sides = joined(side for side, depth in zip(_SIDES, seen.bars, strict=True) if depth)
    if seen.status_line:
        yield warn(
            "screenshot",
            "This looks like a picture of a phone’s screen: it has a strip of small signs along "
            "its top.",
            cure,
        )
    elif sides and seen.bars_shown:
        yield warn(
            "bars",
            f"This picture has even bars at {sides}; they would be pressed with it.",
            f"{cure} Or cut the bars off.",
            measure=max(seen.bars),
        )
    elif sides:
        yield note(
            "bars-cut",
            f"This picture has even bars at {sides}, as on a screen; what is printed leaves them "
            "out.",
            cure,
            measure=max(seen.bars),
        )
    elif facts.format == "PNG" and "camera" not in facts.private and _of_a_screen(facts):
        yield note(
            "screen-size",
            f"This picture is exactly as large as a phone’s screen "
            f"({facts.width_px} × {facts.height_px} pixels), so it may be a picture of one.",
            cure,
        )


def _of_a_screen(facts: PhotoFacts) -> bool:
    short, long = sorted((facts.width_px, facts.height_px))
    return short in _SCREENS and long >= _LONG * short
