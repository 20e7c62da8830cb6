"""Fonts opened with care: what a file is called, and why it should not be used."""

from __future__ import annotations

import os
import stat
import struct
from collections.abc import Iterator
from pathlib import Path

from fontTools.ttLib import TTFont
from PIL import Image, ImageFont

PLAIN = "Regular"
MOST_BYTES = 32_000_000  # a font of all of Chinese has about 20 MB
# The first four bytes of a file (OpenType, "Organization of an OpenType Font").
_SINGLE = (b"\x00\x01\x00\x00", b"OTTO", b"true")
_OTHERS = {
    b"ttcf": "it holds several fonts in one file; take one of them out as .ttf or .otf",
    b"wOFF": "it is a font for web pages (WOFF); take the .ttf or .otf it was made from",
    b"wOF2": "it is a font for web pages (WOFF2); take the .ttf or .otf it was made from",
}
_NEEDED = ("head", "hhea", "maxp", "hmtx", "cmap", "name")
_UNITS = (16, 16384)  # unitsPerEm, OpenType `head`
_REACH = 20  # times the type size that one letter may span: the widest Arabic ligature has 11
_TRIED = 40  # letters drawn before a font is trusted
_DAMAGED = "it is damaged"


def _style_name(font: TTFont) -> str:
    """'Caladea Bold', from the OpenType `name` table: 16 and 17 are the typographic family and
    style, 1 and 2 the older pair in which a family has at most four styles. '' for none."""
    names = font["name"]
    family = names.getDebugName(16) or names.getDebugName(1)
    style = names.getDebugName(17) or names.getDebugName(2) or PLAIN
    if not family:
        return ""
    return " ".join((family if style == PLAIN else f"{family} {style}").split())


def name_or_fault(file: Path, status: os.stat_result) -> tuple[str, str]:
    """A font's name and '', or '' and the reason why it cannot be used. Only its head is read."""
    if not stat.S_ISREG(status.st_mode):
        return "", "it is not a file of its own"
    if status.st_size > MOST_BYTES:
        return "", f"it is larger than {MOST_BYTES // 1_000_000} MB"
    try:
        with file.open("rb") as stream:
            first = stream.read(4)
            if first not in _SINGLE:
                return "", _OTHERS.get(first, "it is not a TrueType or OpenType font")
            stream.seek(0)
            font = TTFont(stream, lazy=True)
            if "fvar" in font:
                return "", "it holds many weights in one; take a file with a single style"
            name = _style_name(font)
    except OSError as error:
        return "", f"it cannot be read ({(error.strerror or str(error)).lower()})"
    except Exception:  # fontTools raises what it meets: a damaged table may end in any error
        return "", _DAMAGED
    if not name or len(name) > 100 or not name.isprintable():
        return "", "it does not say what it is called"
    return name, ""


def fault_of(file: Path) -> str:
    """Why a font should not be used, in plain words; '' for a sound one."""
    try:
        size = file.stat().st_size
    except OSError:
        return "it is no longer there"
    try:
        with file.open("rb") as stream:
            reason = _directory_fault(stream.read(12 + 16 * 4096), size)
            if reason:
                return reason
            stream.seek(0)
            font = TTFont(stream, lazy=True)
            reason = _tables_fault(font)
            letters = [] if reason else sorted(font.getBestCmap())
        return reason or _drawing_fault(file, letters)
    except Exception:  # whatever a hostile file makes the readers do, it is not used
        return _DAMAGED


def _directory_fault(head: bytes, size: int) -> str:
    """The table directory: every table once, and inside the file."""
    count = struct.unpack(">H", head[4:6])[0]
    rows = [head[12 + 16 * n : 28 + 16 * n] for n in range(count)]
    if not 0 < count <= 4096 or len(rows[-1]) < 16:
        return _DAMAGED
    tables = [struct.unpack(">4s3I", row) for row in rows]
    if len({tag for tag, *_ in tables}) < count:
        return "it has one part twice"
    if any(offset + length > size for _, _, offset, length in tables):
        return "it is cut short"
    return ""


def _tables_fault(font: TTFont) -> str:
    lacking = [tag for tag in _NEEDED if tag not in font]
    if lacking or (not ("glyf" in font and "loca" in font) and "CFF " not in font):
        return "parts of it are missing"
    units = font["head"].unitsPerEm
    if not _UNITS[0] <= units <= _UNITS[1]:
        return "its measures make no sense"
    if not font.getBestCmap():
        return "it has no letters"
    if max(_reaches(font), default=0) > _REACH * units:
        return "some of its letters are far larger than its type size"
    return ""


def _reaches(font: TTFont) -> Iterator[int]:
    """How far letters reach from their origin, in the font's units."""
    yield from (width for width, _ in font["hmtx"].metrics.values())
    if "glyf" not in font:
        box = font["CFF "].cff.topDictIndex[0].FontBBox
        yield from (abs(int(side)) for side in box)
        return
    for glyph in font["glyf"].glyphs.values():
        data = getattr(glyph, "data", b"")
        if len(data) >= 10:  # contours, then the box: OpenType `glyf`, header
            yield from (abs(side) for side in struct.unpack(">4h", data[2:10]))


def _drawing_fault(file: Path, letters: list[int]) -> str:
    """Draw some letters from all over the font, small, as they will be drawn later."""
    step = max(1, len(letters) // _TRIED)
    try:
        face = ImageFont.truetype(str(file), 24, layout_engine=ImageFont.Layout.BASIC)
        for code in letters[::step]:
            face.getmask(chr(code))
    except (OSError, ValueError, MemoryError, Image.DecompressionBombError):
        return "its letters cannot be drawn"
    return ""
