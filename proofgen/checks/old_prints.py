"""Does a photo bring the grain, the tint or the edge of a print or a filter with it?

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

import math

from proofgen.checks.frame import Remarks, check, note, skipped
from proofgen.checks.subjects import PrintedPhoto, printed_pictures
from proofgen.model import Limits, Tones
from proofgen.say import joined

_NOT_LOOKED_AT = skipped(
    "not-looked-at", "The pixels of this photo were not looked at in this run."
)
# Slope (of full scale a px) of grain in the most even parts, and the share left of it at half size:
# half of white noise, two thirds and more of film’s grain; of the detail of stones and grass, more.
# Strong grain may keep more of it.
_GRAINS = ((0.0025, 0.68), (0.005, 0.75))
# CIE a* and b*. One warm tint: its strength (stronger is the colour of a thing), its hues (degrees)
# and how far colours stray from it.
# A filter’s two: their strength, the angle between them, how far colours stray.
_TONED, _COLOURED, _WARM, _STRAYS = 5.0, 30.0, (20.0, 110.0), 3.5
_FILTERED, _CONTRARY, _STRAYS_BETWEEN = 20.0, 120.0, 9.0
_SIDES = ("left", "top", "right", "bottom")
_LOOK = "Look at the proof"


@check(
    "photo/old-print",
    printed_pictures,
    why="What an old print, its scan, weak light or a filter added to a photo is pressed with it, "
    "and shows more on cloth than on a small screen.",
    source="noise in even parts and what is left of it at half size, CIE 1976 a* and b*, the "
    "picture’s own rows and columns; limits calibrated on real photographs, "
    "tests/bench/calibrate_photo.py",
    codes={
        "grainy": "clear grain lies over even parts",
        "toned": "one warm tint lies over all of it",
        "filtered": "lights have one strong tint and darks the contrary one",
        "edge-line": "a thin even line along a side would be printed",
        _NOT_LOOKED_AT.code: "the pixels were not looked at",
    },
)
def old_print(photo: PrintedPhoto, _: Limits) -> Remarks:
    """No photo has the grain, the tint or the edge of an old print."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    sharpness, frame = photo.measures.sharpness, photo.measures.frame
    kept = sharpness.noise_kept
    if any(sharpness.noise >= grain and 0 < kept <= most for grain, most in _GRAINS):
        yield note(
            "grainy",
            "Grain lies over the even parts of this photo, as of film, of an old print or of weak "
            "light.",
            "Look at the real-size part on the proof; if it disturbs there, ask for another photo.",
            measure=sharpness.noise,
            limit=_GRAINS[0][0],
        )
    yield from _tints(photo.measures.tones)
    sides = joined(side for side, depth in zip(_SIDES, frame.lines, strict=True) if depth)
    if sides and not any(frame.bars):
        yield note(
            "edge-line",
            f"A thin even line runs along this photo at {sides}, as a scanner leaves beside a "
            "print; it may be pressed with it.",
            "Cut it off, or show a little less of the photo (zoom).",
            measure=max(frame.lines),
        )


def _tints(tones: Tones) -> Remarks:
    light, dark = (math.hypot(*tint) for tint in (tones.light_tint, tones.dark_tint))
    if _is_toned(tones):
        yield note(
            "toned",
            "One warm tint lies over all of this photo, as on an old print that has yellowed.",
            f"{_LOOK}; if the tint is not meant, ask for the photo in its own colours, or in grey.",
            measure=round(math.hypot(*tones.tint), 2),
            limit=_TONED,
        )
    elif min(light, dark) >= _FILTERED and tones.strays < _STRAYS_BETWEEN:
        (a, b), (c, d) = tones.light_tint, tones.dark_tint
        between = math.degrees(math.acos(max(-1.0, min(1.0, (a * c + b * d) / (light * dark)))))
        if between > _CONTRARY:
            yield note(
                "filtered",
                "The light parts of this photo have one strong tint and its dark parts the "
                "contrary one, as a filter makes them.",
                f"{_LOOK}; if that is not meant, ask for the photo without the filter.",
                measure=round(min(light, dark), 2),
                limit=_FILTERED,
            )


def _is_toned(tones: Tones) -> bool:
    a, b = tones.tint
    warm = _WARM[0] < math.degrees(math.atan2(b, a)) < _WARM[1]
    return warm and _TONED <= math.hypot(a, b) < _COLOURED and tones.strays <= _STRAYS
