"""What the small process does with a photo's bytes: header, limits, ending, pixels."""

from __future__ import annotations

import contextlib
import importlib
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
from proofgen.photo.pixels import Decoded, choose_scale, decode, kept

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import PhotoFormat

_CLOCKWISE = {
    90: Image.Transpose.ROTATE_270,
    180: Image.Transpose.ROTATE_180,
    270: Image.Transpose.ROTATE_90,
}
_LYING = 5  # from this turn on (EXIF, tag 0x0112) width and height change places


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
                "clipped": decoded.clipped,
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
    if wanted and (header["turn"] >= _LYING) != (request["turn"] % 180 != 0):
        wanted = wanted[::-1]
    scale = choose_scale(header, wanted)
    decoded = decode(data, request["key"], header, scale, sent=part is None)
    image = decoded.image
    if request["turn"]:
        image = image.transpose(_CLOCKWISE[request["turn"]])
    return _fitted(image, part) if part else image, decoded.fresh


def _fitted(image: Image.Image, part: Part) -> Image.Image:
    """The box is kept inside the picture; it may stick out by less than one drawn pixel."""
    wide, high = image.size
    left, top, right, bottom = part["box"]
    box = (
        max(left * wide, 0.0),
        max(top * high, 0.0),
        min(right * wide, image.width),
        min(bottom * high, image.height),
    )
    width, height = part["size"]
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
        decoded = decode(data, key, header, scale)
        if header["format"] in ("JPEG", "MPO") and invented(data, header):
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
