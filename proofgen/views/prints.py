"""A part of a placed photo as it is printed, at its real size: for a finding that speaks of it."""

from __future__ import annotations

import json
import math

from PIL import Image

from proofgen.geometry import Rect
from proofgen.model import Layout, PhotoFacts, PlacedPhoto
from proofgen.photo.opening import Pictures
from proofgen.units import pixels
from proofgen.views.ink import on_cloth
from proofgen.views.pictures import jpeg
from proofgen.views.spot import REAL_SIZE, best_spot

_MOST_PPI = 300.0  # no printer shows more
_QUALITY = 88
_KIND = "print/2"  # raise when the print changes


def photo_print(
    layout: Layout, placed: PlacedPhoto, pictures: Pictures
) -> tuple[bytes, Rect] | None:
    """A JPEG of the part in which the photo is best judged, and which part of the layer that is,
    mm from its top left; kept by content. None where no photo is shown. Errors: what opening the
    photo raises.
    """
    photo, crop = placed.photo, placed.crop
    if photo is None or crop is None:
        return None
    window, cloth = _window(layout, placed, pictures), layout.cloth_hex
    key = json.dumps([photo.pixels, repr(crop), repr(window), repr(placed.rect), cloth])

    def cut() -> bytes:
        part = _cut(pictures, photo, crop, placed.rect, window)
        return jpeg(on_cloth(part, cloth), _QUALITY)

    return pictures.store.remember(_KIND, key, cut, bytes, bytes), window


def _window(layout: Layout, placed: PlacedPhoto, pictures: Pictures) -> Rect:
    rect = placed.rect
    wide, high = min(REAL_SIZE.width, rect.width), min(REAL_SIZE.height, rect.height)
    spot = best_spot(layout, placed, rect, REAL_SIZE, pictures)
    x, y = spot or placed.focus_on_face or (rect.centre_x, rect.centre_y)
    return Rect(
        min(max(x - rect.x - wide / 2, 0.0), rect.width - wide),
        min(max(y - rect.y - high / 2, 0.0), rect.height - high),
        wide,
        high,
    )


def _cut(
    pictures: Pictures, facts: PhotoFacts, crop: Rect, rect: Rect, window: Rect
) -> Image.Image:
    """The window's pixels, on white where they are clear: never more than the photo has."""
    share = min(1.0, pixels(rect.width, _MOST_PPI) / crop.width)  # of the pixels it has
    wanted = math.ceil(facts.width_px * share), math.ceil(facts.height_px * share)
    scale = crop.width / rect.width  # px of the photo to a mm
    left, top = crop.x + window.x * scale, crop.y + window.y * scale
    wide, high = window.width * scale, window.height * scale
    size = (
        min(pixels(window.width, _MOST_PPI), max(1, round(wide))),
        min(pixels(window.height, _MOST_PPI), max(1, round(high))),
    )
    box = (
        left / facts.width_px,
        top / facts.height_px,
        (left + wide) / facts.width_px,
        (top + high) / facts.height_px,
    )
    photo = pictures.open_part(facts, wanted, {"box": box, "size": size})
    bare = Image.new("RGB", size, "#ffffff")
    bare.paste(photo, mask=photo.getchannel("A") if photo.mode == "RGBA" else None)
    return bare
