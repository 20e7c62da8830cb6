"""What to ask a customer for when a photo is asked for again: one plain wish for each finding."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from proofgen.model import Finding, PhotoFacts
from proofgen.proof.customer_findings import code_of
from proofgen.say.tongue import to_say

# Wishes, each plain and whole. Those for another photo speak of "one", those for another way to
# send it of "it", so that one of each can stand together.
_AGAIN = to_say("Please send the photo once more.")
_WHOLE = to_say("Please send the whole photo once more.")
_ANOTHER_KIND = to_say("Please send it as a JPEG or PNG picture.")
_SAVED_ANEW = to_say("Please send a copy that you have opened and saved anew as a PNG picture.")
SMALLER = to_say("Please send a smaller copy of it.")
_ORIGINAL = to_say("Please send it as the camera or the telephone made it, not a copy from a chat.")
_BEFORE = to_say("Please send it as it was before it was made larger.")
_LARGER = to_say("Please send it, or one like it, with more pixels, if you can.")
ITSELF = to_say("Please send the photo itself, not a picture of the screen.")
WITHOUT_BARS = to_say("Please send the photo itself, without the bars.")
_SHARPER = to_say("Please send a sharper one, if there is one.")
_BRIGHTER = to_say("Please send one taken in daylight or more light, if there is one.")
_DARKER = to_say("Please send one with deeper colours, if there is one.")
_CLEARER = to_say("Please send one in which light and dark differ more, if there is one.")
_PLAIN_COLOURS = to_say("Please send one in its own colours, without a filter, if there is one.")
_LESS_GRAIN = to_say("Please send one with less grain, if there is one.")
_NEARER = to_say("Please send one taken without the camera's zoom, if there is one.")
# Where nothing that was found says what to ask for.
ANY_OTHER = to_say("May we have another photo, or the original of this one?")

# What to ask for when a photo is asked for again; of notes only where the maker looked, and asks.
WISHES: Mapping[str, str] = {
    "photo/present:no-photo": to_say("Please send the photo for this place."),
    "photo/readable:missing": _AGAIN,
    "photo/readable:unreadable": _AGAIN,
    "photo/readable:empty": _AGAIN,
    "photo/readable:damaged": _WHOLE,
    "photo/readable:not-a-picture": to_say("Please send the photo itself, as a JPEG or PNG file."),
    "photo/readable:unsupported": _ANOTHER_KIND,
    "photo/readable:unusable": _ANOTHER_KIND,
    "photo/readable:slow": _ANOTHER_KIND,
    "photo/readable:too-big": SMALLER,
    "photo/profile:four-inks": to_say(
        "Please send it in the colours of screens (RGB), as cameras and telephones do."
    ),
    "photo/jpeg-quality:strongly-compressed": _ORIGINAL,
    "photo/compressed-before:squeezed": _ORIGINAL,
    "photo/compressed-before:rather-squeezed": _ORIGINAL,
    "photo/effective-resolution:too-coarse": _ORIGINAL,
    "photo/effective-resolution:soft": _ORIGINAL,
    "photo/blur:beyond-use": _SHARPER,
    "photo/blur:blurred": _SHARPER,
    "photo/blur:no-edge": _SHARPER,
    "photo/blur:under-grain": _SHARPER,
    "photo/blur:soft": _SHARPER,
    "photo/blur:one-way": _SHARPER,
    "photo/blur:shaken": _SHARPER,
    "photo/blur:moved": _SHARPER,
    "photo/blur:soft-throughout": _SHARPER,
    "photo/blur:soft-part": _SHARPER,
    "photo/blur:beside": _SHARPER,
    "photo/enlarged:enlarged": _BEFORE,
    "photo/enlarged:resized": _ORIGINAL,
    "photo/enlarged:made-smaller": _ORIGINAL,
    "photo/enlarged:repeated": _BEFORE,
    "photo/enlarged:zoomed": _ORIGINAL,
    "photo/enlarged:made-larger": _ORIGINAL,
    "photo/enlarged:perhaps-enlarged": _ORIGINAL,
    "photo/enlarged:digital-zoom": _NEARER,
    "photo/exposure:nearly-black": _BRIGHTER,
    "photo/exposure:too-dark": _BRIGHTER,
    "photo/exposure:dark": _BRIGHTER,
    "photo/exposure:dim": _BRIGHTER,
    "photo/exposure:too-pale": _DARKER,
    "photo/exposure:pale": _DARKER,
    "photo/exposure:flat": _CLEARER,
    "photo/exposure:plain-surface": _CLEARER,
    "photo/exposure:dull": _CLEARER,
    "photo/screenshot:screenshot": ITSELF,
    "photo/screenshot:of-a-screen": ITSELF,
    "photo/screenshot:bars": WITHOUT_BARS,
    "photo/screenshot:bars-cut": WITHOUT_BARS,
    "photo/screenshot:screen-size": ITSELF,
    "photo/old-print:grainy": _LESS_GRAIN,
    "photo/old-print:blotchy": _BRIGHTER,
    "photo/old-print:haloed": to_say(
        "Please send it as it was before it was sharpened, if you can."
    ),
    "photo/old-print:smeared": to_say(
        "Please send one in which nothing was smoothed, if there is one."
    ),
    "photo/old-print:toned": _PLAIN_COLOURS,
    "photo/old-print:filtered": _PLAIN_COLOURS,
    "photo/old-print:around-print": to_say(
        "Please send the picture alone, without its border and what it lay on."
    ),
    "photo/old-print:edge-line": to_say(
        "Please send it without the thin line along its side, if you can cut that off."
    ),
}
# Who asks for another photo asks for that first; and of wishes that ask for the same the first is
# enough: a picture of the screen is no original either.
ANOTHER = (_SHARPER, _BRIGHTER, _DARKER, _CLEARER, _PLAIN_COLOURS, _LESS_GRAIN, _NEARER)
_SAME = (ITSELF, WITHOUT_BARS, _ORIGINAL, _LARGER, _BEFORE)
# A file that is already of a kind we ask for, and cannot be opened all the same; and the pixels
# from which a photo is hardly a copy that a chat made smaller (from memory: they keep 2 to 5
# million).
_ASKED_FOR, _HARDLY_A_COPY = ("JPEG", "PNG"), 6_000_000


def wishes(findings: Iterable[Finding], photo: PhotoFacts | None = None) -> list[str]:
    """What to ask a customer for because of findings about a photo: sentences still to be said in
    their language. Nothing is asked twice, nor what was done already: `photo` is what came."""
    asked = dict.fromkeys(_wish(one, photo) for one in findings if code_of(one) in WISHES)
    same = [wish for wish in _SAME if wish in asked]
    told = [wish for wish in asked if wish not in same[1:]]
    return sorted(told, key=lambda wish: wish not in ANOTHER)


def _wish(finding: Finding, photo: PhotoFacts | None) -> str:
    """The wish for a finding, or another where the customer's file already is what it asks for."""
    wish = WISHES[code_of(finding)]
    if photo is None:
        return wish
    if wish == _ANOTHER_KIND and photo.format in _ASKED_FOR:
        return _SAVED_ANEW
    return more_pixels(photo) if finding.check == "photo/effective-resolution" else wish


def more_pixels(photo: PhotoFacts) -> str:
    """What to ask for where the pixels are too few: the original, unless it seems to be that."""
    original = "camera" in photo.private or photo.width_px * photo.height_px >= _HARDLY_A_COPY
    return _LARGER if original else _ORIGINAL
