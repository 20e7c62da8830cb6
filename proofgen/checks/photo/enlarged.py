"""Check photo/enlarged."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks import traces
from proofgen.checks.registry import Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_pictures
from proofgen.model import PhotoFacts
from proofgen.units import number

_FROM_CAMERAS = ("JPEG", "MPO", "HEIF", "AVIF")
_PLAIN = {1.5: "one and a half times", 2.0: "twice", 3.0: "three times", 4.0: "four times"}


@check(
    "photo/enlarged",
    over=measured_pictures,
    why="A small photo made larger passes every count of pixels and still prints as mush; the "
    "original has the same detail in fewer pixels, and often there is a better one.",
    source="periodic traces of interpolation (Popescu and Farid 2005; Kirchner 2008) and repeated "
    "lines; limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "enlarged": "sure traces of having been made larger",
        "repeated": "rows and columns repeat: made larger without blending",
        "zoomed": "sure traces in a file as a camera writes it: its own zoom makes larger",
        "perhaps-enlarged": "faint traces of it under a later compression",
        "not-looked-at": "the pixels were not looked at",
    },
)
def enlarged(subject: MeasuredSubject) -> Iterator[Said]:
    """No photo was made larger before it came to us."""
    if subject.measures is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    found = traces.enlarged(subject.measures)
    cure = "Ask for the original, as it came from the camera or the phone."
    if found.repeats:
        yield warn(
            "repeated",
            "Rows and columns of this photo repeat: somebody made it larger, about "
            f"{_times(found.factor)}, and each of its pixels will show as a square.",
            cure,
            measure=found.measure,
        )
    elif found.sure and _as_taken(subject.facts):
        yield note(
            "zoomed",
            "This photo has less detail than its pixels promise: the camera’s own zoom seems to "
            "have made it larger.",
            "Look at the real-size part on the proof; if it looks soft, print it smaller.",
            measure=found.measure,
        )
    elif found.sure:
        about = f", about {_times(found.factor)}," if found.factor else ""
        yield warn(
            "enlarged",
            f"This photo was made larger{about} before it came to us; it has less detail than its "
            "pixels promise.",
            cure,
            measure=found.measure,
        )
    elif found.likely:
        yield note(
            "perhaps-enlarged",
            "This photo may have been made larger before it was last saved; the traces are faint.",
            "Look at the real-size part on the proof; if it looks soft, ask for the original.",
            measure=found.measure,
        )


def _as_taken(facts: PhotoFacts) -> bool:
    """Whether the file is such as a camera writes, with its data in it."""
    return facts.format in _FROM_CAMERAS and "camera" in facts.private


def _times(factor: float | None) -> str:
    assert factor is not None
    near = min(_PLAIN, key=lambda plain: abs(plain - factor))
    return _PLAIN[near] if abs(near - factor) < 0.05 else f"{number(factor)} times"
