"""Check photo/exposure."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_pictures
from proofgen.model import LIGHTNESS
from proofgen.units import number

# CIE L* (0 to 100). Beyond what the real photographs of tests/bench/calibrate_photo.py reach,
# night scenes and mist among them; where exactly is common practice, no source.
DARK = 12.0  # the middle of the picture, while
DARK_TOP = 45.0  # hardly anything is lighter than this
PALE = 88.0
PALE_BOTTOM = 60.0
FLAT = 15.0  # between the 1 % darkest and the 1 % lightest
END = 0.25  # share of plain black or plain white


@check(
    "photo/exposure",
    over=measured_pictures,
    why="Cloth takes up less light and dark than a screen shows: a dark photo turns into a dark "
    "patch, a pale one nearly vanishes, a flat one looks grey.",
    source="CIE 1976 L*; limits beyond the real photographs of tests/bench/calibrate_photo.py: "
    "common practice, no source",
    codes={
        "too-dark": "nearly all of the printed part is dark",
        "too-pale": "nearly all of the printed part is pale",
        "flat": "light and dark hardly differ",
        "bare": "a large part is plain white, where no ink goes",
        "black": "a large part is plain black without detail",
        "not-looked-at": "the pixels were not looked at",
    },
)
def exposure(subject: MeasuredSubject) -> Iterator[Said]:
    """Every photo has light and dark enough."""
    seen = subject.measures
    if seen is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    light = dict(zip(LIGHTNESS, seen.lightness, strict=True))
    cure = "Ask for a better lit photo, or brighten it and look at the proof on the cloth’s colour."
    if light[99] - light[1] < FLAT:
        yield warn(
            "flat",
            "Light and dark hardly differ in this photo; on cloth it will look like one grey.",
            "Ask for another photo, or strengthen its contrast and send it again.",
            measure=light[99] - light[1],
            limit=FLAT,
        )
    elif light[50] < DARK and light[95] < DARK_TOP:
        yield warn(
            "too-dark",
            "Nearly all of this photo is dark; on cloth it will close up to one dark patch.",
            cure,
            measure=light[50],
            limit=DARK,
        )
    elif light[50] > PALE and light[5] > PALE_BOTTOM:
        yield warn(
            "too-pale",
            "Nearly all of this photo is very light; on cloth there will be little to see.",
            "Ask for another photo, or darken it and send it again.",
            measure=light[50],
            limit=PALE,
        )
    if seen.bright > END:
        yield note(
            "bare",
            f"{number(seen.bright * 100, 0)} % of this photo is plain white. No ink goes there: "
            "the cloth stays bare.",
            measure=seen.bright,
            limit=END,
        )
    if seen.dark > END:
        yield note(
            "black",
            f"{number(seen.dark * 100, 0)} % of this photo is plain black without any detail.",
            measure=seen.dark,
            limit=END,
        )
