"""Checks of a photo's pixels at the size it is printed: enlarging, light, screenshots.

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.checks import traces
from proofgen.checks.frame import Remarks, check, note, skipped, stop, warn
from proofgen.checks.octaves import all_texture, falls_alike
from proofgen.checks.subjects import PrintedPhoto, printed_pictures
from proofgen.model import LIGHTNESS, Limits, PhotoFacts
from proofgen.model.limits import PRACTICE
from proofgen.photo.measures import quality_of
from proofgen.say import joined, number

_NOT_LOOKED_AT = skipped(
    "not-looked-at", "The pixels of this photo were not looked at in this run."
)
_UNSEEN = {_NOT_LOOKED_AT.code: "the pixels were not looked at"}

# What keeps every pixel as it is; other files were compressed after whatever was done to them.
_LOSSLESS = ("PNG", "TIFF", "GIF")
_OWN_BLOCKS = ("HEIF", "AVIF", "WEBP")
# As cameras write them and hardly anybody else: what swings in them is the sensor's way of mixing.
_STRAIGHT = ("HEIF", "AVIF")
_FAINT_FROM = 60  # JPEG quality
_PLAIN = {1.5: "one and a half times", 2.0: "twice", 3.0: "three times", 4.0: "four times"}


@check(
    "photo/enlarged",
    printed_pictures,
    why="A small photo made larger passes every count of pixels and still prints as mush; the "
    "original has the same detail in fewer pixels, and often there is a better one.",
    source="periodic traces of interpolation (Popescu and Farid 2005), repeated lines and the grid "
    "of an older JPEG; limits calibrated on real photographs, tests/bench/calibrate_photo.py; EXIF "
    "3.0, tag 0xA404 DigitalZoomRatio",
    codes={
        "enlarged": "sure traces of having been made larger",
        "resized": "sure traces of having been made larger or smaller",
        "made-smaller": "sure traces of a resizing that left the finest detail standing",
        "repeated": "rows and columns repeat: made larger without blending",
        "digital-zoom": "the camera says that it enlarged a part of what it saw",
        "zoomed": "sure traces in a compressed file, as a camera’s own zoom leaves them too",
        "made-larger": "the same, where the camera says that it did not zoom",
        "perhaps-enlarged": "faint traces of it under a later compression",
        **_UNSEEN,
    },
)
def enlarged(photo: PrintedPhoto, _: Limits) -> Remarks:
    """No photo was made larger before it came to us."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    facts = photo.facts
    zoom, lossless = facts.zoom, facts.format in _LOSSLESS
    own = facts.format in _OWN_BLOCKS
    made = traces.enlarging(
        photo.measures.traces,
        own_blocks=own,
        compressed=not lossless,
        alike=falls_alike(photo.measures.sharpness),
        quality=quality_of(facts.jpeg_tables),
    )
    cure = "Ask for the original, as it came from the camera or the phone."
    look = "look at the real-size part on the proof"
    # Without a compression over them traces are plain; a strong one makes its own.
    if facts.format in _STRAIGHT or (made.kind == "faint" and (lossless or _squeezed(facts))):
        made = traces.Enlarging()
    if zoom and zoom > 1 and not (made.kind and lossless):
        wide, high = number(facts.width_px / zoom, 0), number(facts.height_px / zoom, 0)
        yield note(
            "digital-zoom",
            f"The camera zoomed by enlarging, {number(zoom)} times: this photo may hold no more "
            f"detail than one of {wide} × {high} pixels.",
            f"If there is one without that zoom, ask for it; else {look}.",
            measure=zoom,
            limit=1.0,
        )
    elif made.kind == "faint":
        yield note(
            "perhaps-enlarged",
            "This photo may have been made larger before it was last saved; the traces are faint.",
            f"{look.capitalize()}; if it looks soft, ask for the original.",
            measure=made.measure,
        )
    elif made.kind and not lossless:
        by = "not by the camera’s zoom" if zoom else "by somebody or by the camera’s own zoom"
        yield note(
            "made-larger" if zoom else "zoomed",
            "This photo has less detail than its pixels promise: it was made larger before it was "
            f"saved, {by}.",
            f"If it was passed on, ask for the original; else {look}.",
            measure=made.measure,
        )
    else:
        yield from _sure(made, cure)


def _sure(made: traces.Enlarging, cure: str) -> Remarks:
    """Plain traces, with no compression over them."""
    if made.kind == "repeated":
        yield warn(
            "repeated",
            "Rows and columns of this photo repeat: somebody made it larger, about "
            f"{_times(made.factor)}, and each of its pixels will show as a square.",
            cure,
            measure=made.measure,
        )
    elif made.kind == "enlarged":
        about = f", about {_times(made.factor)}," if made.factor else ""
        yield warn(
            "enlarged",
            f"This photo was made larger{about} before it came to us; it has less detail than its "
            "pixels promise.",
            cure,
            measure=made.measure,
        )
    elif made.kind == "smaller":
        yield note(
            "made-smaller",
            "This photo was made smaller, or a little larger, before it came to us. It is full of "
            "fine detail all the same, but may not be the one the camera took.",
            "Where it looks coarse on the proof, ask for the original, as it came from the camera "
            "or the phone.",
            measure=made.measure,
        )
    elif made.kind == "resized":
        yield warn(
            "resized",
            "This photo was made larger or smaller before it came to us; it is not the one the "
            "camera took, and may have less detail than its pixels promise.",
            cure,
            measure=made.measure,
        )


def _squeezed(facts: PhotoFacts) -> bool:
    quality = quality_of(facts.jpeg_tables)
    return quality is not None and quality < _FAINT_FROM


def _times(factor: float | None) -> str:
    assert factor is not None
    near = min(_PLAIN, key=lambda plain: abs(plain - factor))
    return _PLAIN[near] if abs(near - factor) < 0.05 else f"{number(factor)} times"


# CIE L* (0 to 100) of the darkest, middle and lightest part of a photo's pixels. A warning lies
# beyond all photographs of the bench that look good, night scenes and snow among them; a note
# beyond nearly all, since a dark or pale photo may be meant. It is dark or pale only if 95 % of it
# is darker or lighter than these as well.
_DARK_TOP, _PALE_BOTTOM = 45.0, 60.0
_BLACK_TOP = 12.0  # whose lightest part is as dark as this is pressed as plain black
_DIM_TOP = 53.0  # half of full scale, which is L* 53.4: as a layer of shade leaves white


@check(
    "photo/exposure",
    printed_pictures,
    why="Cloth takes up less light and dark than a screen shows: a dark photo turns into a dark "
    "patch, a pale one nearly vanishes, a flat one looks grey.",
    source="CIE 1976 L*; limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "nearly-black": "the whole of the printed photo is nearly black",
        "too-dark": "no part of the printed photo is light",
        "dark": "nearly all of the printed part is dark",
        "dim": "no part of it is lighter than half of full scale, as under a layer of shade",
        "too-pale": "no part of the printed photo is dark",
        "pale": "nearly all of the printed part is pale",
        "flat": "light and dark hardly differ",
        "plain-surface": "the same, of fine texture all over: a board, cloth, sand",
        "dull": "light and dark differ little",
        "bare": "a large part is plain white, where no ink goes",
        "black": "a large part is plain black without detail",
        **_UNSEEN,
    },
)
def exposure(photo: PrintedPhoto, limits: Limits) -> Remarks:
    """Every photo has light and dark enough."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    tones, plain = photo.measures.tones, all_texture(photo.measures.sharpness)
    yield from _lightness(dict(zip(LIGHTNESS, tones.lightness, strict=True)), limits, plain)
    if tones.bright > limits.plain:
        yield note(
            "bare",
            f"{number(tones.bright * 100, 0)} % of this photo is plain white. No ink goes there: "
            "the cloth stays bare.",
            measure=tones.bright,
            limit=limits.plain,
        )
    if tones.dark > limits.plain:
        yield note(
            "black",
            f"{number(tones.dark * 100, 0)} % of this photo is plain black without any detail.",
            measure=tones.dark,
            limit=limits.plain,
        )


def _lightness(light: Mapping[int, float], limits: Limits, plain: bool) -> Remarks:
    """By how light (CIE L*) the photo is at each percentile: the worst of what can be said.
    `plain`: of fine texture alone."""
    yield from list(_beyond_print(light, limits, plain)) or _pale_or_dark(light, limits)


def _beyond_print(light: Mapping[int, float], limits: Limits, plain: bool) -> Remarks:
    """Where cloth will show little or nothing of it."""
    span = light[99] - light[1]
    if light[99] < min(_BLACK_TOP, limits.too_dark):
        yield stop(
            "nearly-black",
            "The whole of this photo is nearly black; on cloth nothing of it will be seen.",
            "Ask for a better lit photo, or brighten it and look at the proof.",
            measure=light[99],
            limit=_BLACK_TOP,
        )
    elif light[99] < limits.too_dark:
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
    elif span < limits.flat and plain:
        yield note(
            "plain-surface",
            "Light and dark hardly differ in this photo, but fine texture lies all over it, as of "
            "wood, cloth or sand; on cloth it will look nearly even.",
            "Look at the proof; if more than a plain ground is meant, ask for another photo.",
            measure=span,
            limit=limits.flat,
        )
    elif span < limits.flat:
        yield warn(
            "flat",
            "Light and dark hardly differ in this photo; on cloth it will be one even patch.",
            "Ask for another photo, or strengthen its contrast and send it again.",
            measure=span,
            limit=limits.flat,
        )


def _pale_or_dark(light: Mapping[int, float], limits: Limits) -> Remarks:
    """Where it may be meant so."""
    span = light[99] - light[1]
    look = "Look at the proof on the cloth’s colour; if that is not meant, ask for "
    if light[50] < limits.dark and light[95] < _DARK_TOP:
        yield note(
            "dark",
            "Nearly all of this photo is dark; on cloth its dark parts will run together.",
            look + "a better lit one or brighten it.",
            measure=light[50],
            limit=limits.dark,
        )
    elif light[99] < _DIM_TOP:
        yield note(
            "dim",
            "No part of this photo is brighter than a middle grey, as if a shade lay over it; on "
            "cloth it will look dark.",
            look + "one without that shade or brighten it.",
            measure=light[99],
            limit=_DIM_TOP,
        )
    elif light[50] > limits.pale and light[5] > _PALE_BOTTOM:
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


# px of the shorter side of phones' screens, from memory.
_SCREENS = {640, 720, 750, 828, 1080, 1125, 1170, 1179, 1206, 1242, 1284, 1290, 1320, 1440}
_GRID_ALL_OVER = 0.5  # of the squares; good photographs reach 0.38
_LONG = 1.7  # long side over short side from which a screen is a phone's
_SIDES = ("left", "top", "right", "bottom")


@check(
    "photo/screenshot",
    printed_pictures,
    why="A picture of a screen has the screen's few pixels, and often its clock and its bars; the "
    "photo behind it is nearly always better.",
    source=f"the picture's own rows and columns, and sizes of phones' screens from memory; limits "
    f"are {PRACTICE}",
    codes={
        "screenshot": "a strip along the top as phones draw it",
        "bars": "even bars along opposite sides, some of which would be printed",
        "bars-cut": "even bars along opposite sides, outside what is printed",
        "of-a-screen": "the fine grid of a screen's dots lies all over it",
        "screen-size": "exactly the size of a phone's screen and no camera's data",
        **_UNSEEN,
    },
)
def screenshot(photo: PrintedPhoto, _: Limits) -> Remarks:
    """No photo is a picture of a screen."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    frame, facts = photo.measures.frame, photo.facts
    cure = "Ask for the photo itself: shared from the phone as a file, not as it stands on screen."
    if frame.screen >= _GRID_ALL_OVER:
        yield note(
            "of-a-screen",
            "This looks like a picture taken of a screen: a fine even grid lies all over it.",
            "Ask for the photo that the screen showed; a screen’s dots and stripes would be "
            "pressed with this one.",
            measure=frame.screen,
            limit=_GRID_ALL_OVER,
        )
    sides = joined(side for side, depth in zip(_SIDES, frame.bars, strict=True) if depth)
    if frame.status_line:
        yield warn(
            "screenshot",
            "This looks like a picture of a phone’s screen: it has a strip of small signs along "
            "its top.",
            cure,
        )
    elif sides and frame.bars_shown:
        yield warn(
            "bars",
            f"This picture has even bars at {sides}; they would be pressed with it.",
            f"{cure} Or cut the bars off.",
            measure=max(frame.bars),
        )
    elif sides:
        yield note(
            "bars-cut",
            f"This picture has even bars at {sides}, as on a screen; what is printed leaves them "
            "out.",
            cure,
            measure=max(frame.bars),
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
