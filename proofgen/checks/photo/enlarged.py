"""Check photo/enlarged."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks import traces
from proofgen.checks.registry import Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_pictures
from proofgen.model import PhotoFacts
from proofgen.photo.measures import quality_of
from proofgen.units import number

# What keeps every pixel as it is; other files were compressed after whatever was done to them.
_LOSSLESS = ("PNG", "TIFF", "GIF")
_FAINT_FROM = 60  # JPEG quality
_PLAIN = {1.5: "one and a half times", 2.0: "twice", 3.0: "three times", 4.0: "four times"}


@check(
    "photo/enlarged",
    over=measured_pictures,
    why="A small photo made larger passes every count of pixels and still prints as mush; the "
    "original has the same detail in fewer pixels, and often there is a better one.",
    source="periodic traces of interpolation (Popescu and Farid 2005) and repeated lines; "
    "limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "enlarged": "sure traces of having been made larger",
        "resized": "sure traces of having been made larger or smaller",
        "repeated": "rows and columns repeat: made larger without blending",
        "zoomed": "sure traces in a compressed file, as a camera’s own zoom leaves them too",
        "perhaps-enlarged": "faint traces of it under a later compression",
        "not-looked-at": "the pixels were not looked at",
    },
)
def enlarged(subject: MeasuredSubject) -> Iterator[Said]:
    """No photo was made larger before it came to us."""
    if subject.measures is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    found = traces.enlarged(subject.measures.traces)
    cure = "Ask for the original, as it came from the camera or the phone."
    lossless = subject.facts.format in _LOSSLESS
    # Without a compression over them traces are plain; a strong one makes its own.
    if found.kind == "faint" and (lossless or _squeezed(subject.facts)):
        return
    if found.kind == "faint":
        yield note(
            "perhaps-enlarged",
            "This photo may have been made larger before it was last saved; the traces are faint.",
            "Look at the real-size part on the proof; if it looks soft, ask for the original.",
            measure=found.measure,
        )
    elif found.kind and not lossless:
        yield note(
            "zoomed",
            "This photo has less detail than its pixels promise: it was made larger before it was "
            "saved, by somebody or by the camera’s own zoom.",
            "If it was passed on, ask for the original; else look at the real-size part on the "
            "proof.",
            measure=found.measure,
        )
    elif found.kind == "repeated":
        yield warn(
            "repeated",
            "Rows and columns of this photo repeat: somebody made it larger, about "
            f"{_times(found.factor)}, and each of its pixels will show as a square.",
            cure,
            measure=found.measure,
        )
    elif found.kind == "enlarged":
        about = f", about {_times(found.factor)}," if found.factor else ""
        yield warn(
            "enlarged",
            f"This photo was made larger{about} before it came to us; it has less detail than its "
            "pixels promise.",
            cure,
            measure=found.measure,
        )
    elif found.kind == "resized":
        yield warn(
            "resized",
            "This photo was made larger or smaller before it came to us; it is not the one the "
            "camera took, and may have less detail than its pixels promise.",
            cure,
            measure=found.measure,
        )


def _squeezed(facts: PhotoFacts) -> bool:
    quality = quality_of(facts.jpeg_tables)
    return quality is not None and quality < _FAINT_FROM


def _times(factor: float | None) -> str:
    assert factor is not None
    near = min(_PLAIN, key=lambda plain: abs(plain - factor))
    return _PLAIN[near] if abs(near - factor) < 0.05 else f"{number(factor)} times"
