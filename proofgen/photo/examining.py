"""What the small process does with a photo's bytes: header, limits, ending, pixels."""

from __future__ import annotations

import contextlib
import importlib
import math
from typing import TYPE_CHECKING

from PIL import Image, ImageCms

from proofgen.photo.containers import missing_share
from proofgen.photo.exchange import (
    MAX_PIXELS,
    MAX_SIDE,
    Content,
    Header,
    Part,
    RefusedError,
    Request,
)
from proofgen.photo.gaps import invented
from proofgen.photo.header import read_header
from proofgen.photo.parts import refuse_many_parts
from proofgen.photo.pixels import (
    LYING,
    Box,
    Decoded,
    choose_scale,
    decode,
    kept,
    upright,
    upright_part,
)

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import PhotoFormat

_CLOCKWISE = {
    90: Image.Transpose.ROTATE_270,
    180: Image.Transpose.ROTATE_180,
    270: Image.Transpose.ROTATE_90,
}


def examine(data: bytes, key: str, format: PhotoFormat, *, pixels: bool) -> tuple[Content, bool]:
    """Everything the bytes alone tell, all pixels decoded if wished; stops at the first refusal.
    And whether they were decoded for this, not kept from a request before."""
    content: Content = {}
    fresh = False
    try:
        refuse_many_parts(data, format)
        content["header"] = header = _header_or_missing(data, format)
        scale = within_limits(header)
        share = missing_share(data, header["format"])
        if share:
            raise RefusedError("ends", share)
        if pixels:
            decoded = _verified(data, key, header, scale, ends=share is None)
            fresh = decoded.fresh
            content |= {
                "profile_fault": decoded.profile_fault,
                "ink_doubts": decoded.ink_doubts,
                "clear": decoded.clear,
                "clipped": decoded.clipped(),
            }
        if share is not None:
            raise RefusedError("ends")
    except RefusedError as refused:
        content |= {"refused": refused.why, "share": refused.share}
    except MemoryError:
        content |= {"refused": "memory", "share": 0.0}
    return content, fresh


def open_pixels(data: bytes, request: Request) -> tuple[Image.Image, bool]:
    """The picture as `Request` asks for it, in sRGB, and whether it was decoded for this.

    Errors: RefusedError; MemoryError.
    """
    before = kept(request["key"])
    header = before.header if before else read_header(data, request["format"])
    within_limits(header)
    wanted, part = request["wanted"], request["part"]
    if wanted and (header["turn"] >= LYING) != (request["turn"] % 180 != 0):
        wanted = wanted[::-1]
    by = choose_scale(header, wanted) // choose_scale(header, None)
    decoded = decode(data, request["key"], header)
    fresh = decoded.fresh
    image = None
    if part and not request["turn"]:
        image = upright_part(request["key"], by, _around(part, decoded.size, by))
    if image is None:
        image = upright(request["key"], by, sent=part is None)
    if request["turn"]:
        image = image.transpose(_CLOCKWISE[request["turn"]])
    return _fitted(image, part) if part else image, fresh


_LANCZOS = 3  # px to each side that the filter takes in, of the larger ones of the two pictures


def _around(part: Part, whole: tuple[int, int], by: int) -> Box:
    """The px that a part is made of, of a photo of this size whose sides are made so many times
    smaller."""
    size = -(-whole[0] // by), -(-whole[1] // by)
    box, ends = _inside(part, size), []
    for start, end, side, drawn in zip(box[:2], box[2:], size, part["size"], strict=True):
        reach = _LANCZOS * max(1.0, (end - start) / drawn) + 2
        ends.append((max(math.floor(start - reach), 0), min(math.ceil(end + reach), side)))
    (left, right), (top, bottom) = ends
    return left, top, right, bottom


def _inside(part: Part, size: tuple[int, int]) -> tuple[float, float, float, float]:
    """The box of a part, in px of a picture of this size: kept inside it, since it may stick out by
    less than one drawn pixel."""
    left, top, right, bottom = part["box"]
    wide, high = size
    left, top = max(left * wide, 0.0), max(top * high, 0.0)
    return left, top, min(right * wide, wide), min(bottom * high, high)


def _fitted(image: Image.Image, part: Part) -> Image.Image:
    width, height = part["size"]
    box = _inside(part, image.size)
    return image.resize((width, height), Image.Resampling.LANCZOS, box=box)


# What is opened later by a library of its own accord, and letters that metadata are written in.
_LATER = (
    *(f"PIL.{kind}ImagePlugin" for kind in ("Avif", "Gif", "Jpeg", "Mpo", "Png", "Tiff", "WebP")),
    *(f"encodings.{name}" for name in ("ascii", "latin_1", "utf_8", "utf_16", "utf_16_be")),
    "encodings.utf_16_le",
    "pillow_heif",
    "simplejpeg",
)


def load_all() -> None:
    """Everything that opening any photo may ask for: afterwards no file is opened any more."""
    for name in _LATER:
        with contextlib.suppress(ImportError):  # said when a photo needs it
            importlib.import_module(name)
    Image.preinit()
    ImageCms.createProfile("sRGB")


def within_limits(header: Header) -> int:
    """The scale at which all pixels fit the memory. Errors: RefusedError 'header', 'size'."""
    width, height = header["width"], header["height"]
    if width < 1 or height < 1:
        raise RefusedError("header")
    if max(width, height) > MAX_SIDE or width * height > MAX_PIXELS:
        raise RefusedError("size")
    return choose_scale(header, None)


def _verified(data: bytes, key: str, header: Header, scale: int, *, ends: bool) -> Decoded:
    """All pixels decoded once. A missing end explains missing pixels."""
    try:
        decoded = decode(data, key, header)
        if invented(data, header):
            raise RefusedError("pixels")
    except RefusedError as refused:
        if not ends and refused.why == "pixels" and not refused.share:
            raise RefusedError("ends") from refused
        raise
    return decoded


def _header_or_missing(data: bytes, format: PhotoFormat) -> Header:
    """The header; where it cannot be read because the end is missing, that is said instead."""
    try:
        return read_header(data, format)
    except RefusedError as refused:
        share = missing_share(data, format)
        if refused.why == "header" and share:
            raise RefusedError("ends", share) from refused
        raise
