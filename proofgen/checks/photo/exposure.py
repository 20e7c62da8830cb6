"""Check photo/exposure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from proofgen.checks.registry import Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_pictures
from proofgen.model import LIGHTNESS, Limits
from proofgen.units import number

# CIE L* (0 to 100) of the darkest, middle and lightest part of a photo's pixels. A warning lies
# beyond all photographs of tests/bench/calibrate_photo.py that look good, night scenes and snow
# among them; a note beyond nearly all, since a dark or pale photo may be meant. It is dark or pale
# only if 95 % of it is darker or lighter than these as well.
DARK_TOP, PALE_BOTTOM = 45.0, 60.0


@check(
    "photo/exposure",
    over=measured_pictures,
    why="Cloth takes up less light and dark than a screen shows: a dark photo turns into a dark "
    "patch, a pale one nearly vanishes, a flat one looks grey.",
    source="CIE 1976 L*; limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "too-dark": "no part of the printed photo is light",
        "dark": "nearly all of the printed part is dark",
        "too-pale": "no part of the printed photo is dark",
        "pale": "nearly all of the printed part is pale",
        "flat": "light and dark hardly differ",
        "dull": "light and dark differ little",
        "bare": "a large part is plain white, where no ink goes",
        "black": "a large part is plain black without detail",
        "not-looked-at": "the pixels were not looked at",
    },
)
def exposure(subject: MeasuredSubject) -> Iterator[Said]:
    """Every photo has light and dark enough."""
    if subject.measures is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    seen = subject.measures.tones
    limits = subject.limits
    yield from _lightness(dict(zip(LIGHTNESS, seen.lightness, strict=True)), limits)
    if seen.bright > limits.plain:
        yield note(
            "bare",
            f"{number(seen.bright * 100, 0)} % of this photo is plain white. No ink goes there: "
            "the cloth stays bare.",
            measure=seen.bright,
            limit=limits.plain,
        )
    if seen.dark > limits.plain:
        yield note(
            "black",
            f"{number(seen.dark * 100, 0)} % of this photo is plain black without any detail.",
            measure=seen.dark,
            limit=limits.plain,
        )


def _lightness(light: Mapping[int, float], limits: Limits) -> Iterator[Said]:
    """By how light (CIE L*) the photo is at each percentile: the worst of what can be said."""
    span = light[99] - light[1]
    look = "Look at the proof on the cloth’s colour; if that is not meant, ask for "
    if light[99] < limits.too_dark:
        yield warn(
            "too-dark",
            "No part of this photo is light; on cloth it will close up to one dark patch.",
            "Ask for a better lit photo, or brighten it and look at the proof.",
            measure=light[99],
            limit=limits.too_dark,
        )
    elif light[1] > limits.too_pale:
        yield warn(
            "too-pale",
            "No part of this photo is dark; on cloth there will be little to see.",
            "Ask for another photo, or darken it and look at the proof.",
            measure=light[1],
            limit=limits.too_pale,
        )
    elif span < limits.flat:
        yield warn(
            "flat",
            "Light and dark hardly differ in this photo; on cloth it will be one even patch.",
            "Ask for another photo, or strengthen its contrast and send it again.",
            measure=span,
            limit=limits.flat,
        )
    elif light[50] < limits.dark and light[95] < DARK_TOP:
        yield note(
            "dark",
            "Nearly all of this photo is dark; on cloth its dark parts will run together.",
            look + "a better lit one or brighten it.",
            measure=light[50],
            limit=limits.dark,
        )
    elif light[50] > limits.pale and light[5] > PALE_BOTTOM:
        yield note(
            "pale",
            "Nearly all of this photo is very light; on cloth its pale parts will hardly show.",
            look + "another or darken it.",
            measure=light[50],
            limit=limits.pale,
        )
    elif span < limits.dull:
        yield note(
            "dull",
            "Light and dark differ little in this photo; on cloth they will differ less.",
            look + "another or strengthen its contrast.",
            measure=span,
            limit=limits.dull,
        )
