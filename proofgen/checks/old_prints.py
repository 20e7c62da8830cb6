"""Does a photo bring the grain, tint or edge of a print, or the rims or tints of a filter with it?

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

import math

from proofgen.checks.frame import Remarks, check, note, skipped
from proofgen.checks.subjects import PrintedPhoto, printed_pictures
from proofgen.model import Frame, Limits, Sharpness, Tones
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
# Share of the steps with a bright and a dark rim; 10 of 360 good photographs reach it.
_HALOS = 0.12
# Powers of two by which faint texture beside sharp edges is weaker in its fine part than in its
# broad one.
_SMEARED = 1.35
# Codes of 255 by which colour differs in the most even parts, and times that of lightness: good
# photographs of so much colour reach 1.34 of the one, those of so much more of it 0.9 of the other.
_BLOTCHES, _BLOTCHES_OVER = 1.8, 1.6
_CARD = 0.77  # how surely a rectangle stands in it; good photographs reach 0.69
_LOOK = "Look at the proof"


@check(
    "photo/old-print",
    printed_pictures,
    why="What an old print, its scan, weak light or a filter added to a photo is pressed with it, "
    "and shows more on cloth than on a small screen.",
    source="noise in even parts and what is left of it at half size, rims along steps, fine and "
    "broad texture beside sharp edges, CIE 1976 a* and b*, the picture’s own rows and columns; "
    "limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "grainy": "clear grain lies over even parts",
        "blotchy": "blotches of colour lie over even parts, as weak light leaves them",
        "haloed": "bright and dark rims run along its edges, as hard sharpening leaves them",
        "smeared": "fine texture is gone beside sharp edges, as noise reduction leaves it",
        "toned": "one warm tint lies over all of it",
        "filtered": "lights have one strong tint and darks the contrary one",
        "around-print": "a print or card stands in it; what lies around it would be printed",
        "edge-line": "a thin even line along a side would be printed",
        _NOT_LOOKED_AT.code: "the pixels were not looked at",
    },
)
def old_print(photo: PrintedPhoto, _: Limits) -> Remarks:
    """No photo has the grain, the tint or the edge of an old print, nor a filter's rims."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    frame = photo.measures.frame
    yield from _added(photo.measures.sharpness)
    yield from _tints(photo.measures.tones)
    yield from _around(frame)


def _around(frame: Frame) -> Remarks:
    """What stands along the sides of a print that was scanned or photographed."""
    if any(frame.bars):
        return  # the check of screenshots tells them
    sides = joined(side for side, depth in zip(_SIDES, frame.lines, strict=True) if depth)
    if frame.card >= _CARD:
        yield note(
            "around-print",
            "A rectangle stands in this photo near all its sides, as of a print or card that was "
            "photographed with its border or what it lay on; that would be pressed with it.",
            "Ask for the picture without its border, or show a little less of the photo (zoom).",
            measure=frame.card,
            limit=_CARD,
        )
    elif sides:
        yield note(
            "edge-line",
            f"A thin even line runs along this photo at {sides}, as a scanner leaves beside a "
            "print; it may be pressed with it.",
            "Cut it off, or show a little less of the photo (zoom).",
            measure=max(frame.lines),
        )


def _added(seen: Sharpness) -> Remarks:
    """Grain, rims of sharpening, what noise reduction wiped out."""
    real_size, another = "Look at the real-size part on the proof", "ask for another photo"
    if any(seen.noise >= grain and 0 < seen.noise_kept <= most for grain, most in _GRAINS):
        yield note(
            "grainy",
            "Grain lies over the even parts of this photo, as of film, of an old print or of weak "
            "light.",
            f"{real_size}; if it disturbs there, {another}.",
            measure=seen.noise,
            limit=_GRAINS[0][0],
        )
    if seen.halos >= _HALOS:
        yield note(
            "haloed",
            "Bright and dark rims run along the edges in this photo, as hard sharpening leaves "
            "them.",
            f"{real_size}; if they disturb there, ask for the photo from before it was sharpened.",
            measure=seen.halos,
            limit=_HALOS,
        )
    if (seen.smoothed or 0.0) >= _SMEARED:
        yield note(
            "smeared",
            "Edges in this photo are sharp, but the fine texture beside them is gone, as where a "
            "telephone wiped out noise; skin, hair and grass may look painted.",
            f"{real_size}; if it looks painted there, {another}.",
            measure=seen.smoothed,
            limit=_SMEARED,
        )


def _tints(tones: Tones) -> Remarks:
    blotches, over = tones.blotches
    if blotches >= _BLOTCHES and over >= _BLOTCHES_OVER:
        yield note(
            "blotchy",
            "Blotches of colour lie over the even parts of this photo, as a telephone leaves them "
            "in weak light.",
            "Look at the real-size part on the proof; if they disturb there, ask for a photo taken "
            "in more light.",
            measure=blotches,
            limit=_BLOTCHES,
        )
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
