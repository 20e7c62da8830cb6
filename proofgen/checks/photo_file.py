"""Checks of a photo's file: can it be used, and what does it tell before its pixels are looked at.

That every place for a photo has one is asked in order.py.
"""

from __future__ import annotations

from proofgen.checks.frame import Remarks, check, note, skipped, stop, warn
from proofgen.checks.phrases import sentence
from proofgen.checks.subjects import photo_files, readable_photos
from proofgen.model import Limits, PhotoFacts
from proofgen.model.limits import PRACTICE
from proofgen.model.photo import FORMAT_ENDINGS, FORMAT_NAMES, InkDoubt
from proofgen.photo.measures import quality_of
from proofgen.say import count, joined, number, visible

_TROUBLES = {
    "missing": "there is no such file",
    "unreadable": "the file may not be read",
    "empty": "the file has no bytes",
    "not-a-picture": "the bytes are no picture",
    "too-big": "more bytes or pixels than we open",
    "damaged": "part of the picture is missing or cannot be decoded",
    "unsupported": "a kind of picture that we do not open",
    "slow": "opening it took longer than any photo should",
}


@check(
    "photo/readable",
    photo_files,
    why="A photo that is half there, or no photo at all, must be asked for again before anybody "
    "waits for a proof.",
    source="the file's own bytes, read strictly",
    codes={
        **_TROUBLES,
        "unusable": "cannot be used for another reason, which is told",
        "not-looked-at": "nobody read the file in this run",
    },
)
def readable(photo: PhotoFacts | None, _: Limits) -> Remarks:
    """Every photo opens, whole."""
    if photo is None:
        yield skipped("not-looked-at", "This photo was not read in this run.")
    elif not photo.usable:
        code = photo.problem_code if photo.problem_code in _TROUBLES else "unusable"
        yield stop(code, sentence(visible(photo.problem)), sentence(visible(photo.cure)))


@check(
    "photo/file-name",
    readable_photos,
    why="Files are read by what is in them; a name that says something else may trouble other "
    "programs.",
    source="the file's first bytes",
    codes={"another-kind": "the name says another kind of picture than the bytes"},
)
def file_name(photo: PhotoFacts, _: Limits) -> Remarks:
    """Every photo is the kind of picture its name says."""
    if photo.format and photo.file.suffix.lower() not in FORMAT_ENDINGS[photo.format]:
        yield note(
            "another-kind",
            f"It is really a {FORMAT_NAMES[photo.format]} picture whatever its name says; that "
            "does no harm.",
            measure=photo.format,
        )


@check(
    "photo/frames",
    readable_photos,
    why="Moving pictures and files with several pictures open as the first one without a word.",
    source="the file's own count of pictures",
    codes={"several": "the file holds several pictures; the first is used"},
)
def frames(photo: PhotoFacts, _: Limits) -> Remarks:
    """Every file holds one picture."""
    if photo.frames > 1:
        yield note(
            "several",
            f"This file holds {count(photo.frames)} pictures; the first one is used.",
            "If another one is meant, please send that one by itself.",
            measure=photo.frames,
            limit=1,
        )


# EXIF tag 0x0112: 2, 4, 5 and 7 are mirror images.
_MIRRORED = (2, 4, 5, 7)
_HALF_TURN = 3


@check(
    "photo/orientation",
    readable_photos,
    why="A camera stores a photo lying on its side and adds a mark; who sends width and height "
    "from another program may expect it the other way.",
    source="TIFF 6.0 and EXIF, tag 0x0112 Orientation",
    codes={
        "turned": "stored turned, shown upright by its mark",
        "mirrored": "stored as a mirror image, shown right by its mark",
    },
)
def orientation(photo: PhotoFacts, _: Limits) -> Remarks:
    """Every photo is stored the right way up."""
    mark = photo.orientation
    if mark in _MIRRORED:
        yield note(
            "mirrored",
            "This photo was stored as a mirror image; we turned it round. "
            "Please check that writing in it reads the right way.",
            measure=mark,
        )
    elif mark not in (0, 1):
        yield note(
            "turned",
            "This photo was stored upside down; we turned it."
            if mark == _HALF_TURN
            else "This photo was stored sideways; we turned it.",
            measure=mark,
        )


@check(
    "photo/location",
    readable_photos,
    why="A phone writes into a photo where and when it was taken. The customer may not know; what "
    "we publish must not tell.",
    source="EXIF, GPS IFD (tag 0x8825); every published picture is rebuilt from its pixels",
    codes={
        "location": "the file tells where it was taken",
        "private": "the file tells other private things",
    },
)
def location(photo: PhotoFacts, _: Limits) -> Remarks:
    """No photo carries private data."""
    others = [what for what in photo.private if what != "place"]
    if photo.has_location:
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


@check(
    "photo/clear-areas",
    readable_photos,
    why="There is no white ink: what is clear in a picture stays bare cloth.",
    source="ink for cloth is a see-through dye without white: from memory (Miles, Textile "
    "Printing, 2003)",
    codes={"clear": "the picture can have clear areas"},
)
def clear_areas(photo: PhotoFacts, _: Limits) -> Remarks:
    """No picture has clear areas."""
    if photo.has_alpha:
        yield note(
            "clear",
            "This picture can have clear areas. They stay bare cloth: no ink goes there.",
        )


_INK_DOUBTS: dict[InkDoubt, str] = {
    "unmarked": "It holds printing inks without a maker’s mark; it may look like a negative.",
    "unknown": "It holds printing inks and does not say which; its colours are a guess.",
}


@check(
    "photo/profile",
    readable_photos,
    why="The same numbers mean different colours under another profile (the file's own key to its "
    "colours); converting may calm the strongest ones.",
    source="ICC.1:2022 (ISO 15076-1), from memory; IEC 61966-2-1 for sRGB",
    codes={
        "converted": "another profile than sRGB was converted",
        "broken-profile": "the profile cannot be read and was left out",
        "four-inks": "stored in printing inks (CMYK) without saying which",
    },
)
def profile(photo: PhotoFacts, _: Limits) -> Remarks:
    """Every photo's colours are plain sRGB."""
    if photo.profile_fault:
        yield note(
            "broken-profile",
            f"Its colour profile is {photo.profile_fault} and was left out.",
            "Compare its colours on the proof.",
        )
    for doubt in photo.ink_doubts:
        yield warn(
            "four-inks",
            _INK_DOUBTS[doubt],
            "Look at its colours on the proof, or ask for it in RGB, as cameras and phones do.",
            measure=photo.mode,
        )
    if photo.profile and "srgb" not in photo.profile.lower() and not photo.profile_fault:
        yield note(
            "converted",
            f"This photo’s colours were made for {visible(photo.profile)}; we converted them for "
            "our press, which may calm very strong colours a little.",
            measure=visible(photo.profile),
        )


@check(
    "photo/strong-colours",
    readable_photos,
    why="New phones record colours stronger than sRGB holds; they are brought down to the "
    "strongest it has, and fine shades among them run together.",
    source=f"IEC 61966-2-1; that 1 % is worth telling is {PRACTICE}",
    codes={"clipped": "more of the photo than the limit had colours outside sRGB"},
)
def strong_colours(photo: PhotoFacts, limits: Limits) -> Remarks:
    """No photo has much of colours that sRGB cannot hold."""
    share = photo.clipped
    if share is not None and share > limits.strong_colours:
        yield note(
            "clipped",
            f"{number(share * 100)} % of this photo has colours stronger than our press colours "
            "can be; they come out calmer.",
            "Compare the strongest colours on the proof.",
            measure=share,
            limit=limits.strong_colours,
        )


@check(
    "photo/jpeg-quality",
    readable_photos,
    why="Photos sent through messengers are compressed again and again; blocks and halos show on "
    "the pressed piece even where there are pixels enough.",
    source=f"ITU-T T.81, Annex K, and the scaling of the IJG's encoder; the limit is {PRACTICE}",
    codes={"strongly-compressed": "the tables in the file are those of a low quality"},
)
def jpeg_quality(photo: PhotoFacts, limits: Limits) -> Remarks:
    """No photo was squeezed hard."""
    quality = quality_of(photo.jpeg_tables)
    if quality is not None and quality < limits.jpeg_quality:
        yield warn(
            "strongly-compressed",
            "This photo was squeezed hard to make its file small, as messengers do; blocks may "
            "show in skies and around faces.",
            "Ask for the original, sent by mail or as a file.",
            measure=quality,
            limit=limits.jpeg_quality,
        )
