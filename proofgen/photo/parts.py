"""How many parts a file may be made of, counted before any picture library looks at it.

Libraries hold each part, join what belongs together, and some do so anew for every one: many small
parts cost minutes and gigabytes that no size of the file foretells.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from itertools import islice
from typing import TYPE_CHECKING, Literal

from proofgen.photo.containers import boxes, png_chunks, scans
from proofgen.photo.exchange import RefusedError

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import PhotoFormat

# A PNG of the most bytes we open, in pieces of 4 kB, has half as many chunks; the other numbers are
# several times what cameras and programs write (common practice, no source).
MAX_CHUNKS = 100_000
MAX_SEGMENTS, MAX_EXIF, MAX_SETTINGS, MAX_SCANS = 2_000, 16, 100, 100
MAX_BETWEEN = 100_000  # bytes between a JPEG's segments, where none belong
MAX_BOXES = 10_000
MAX_BLOCKS = 10_000  # of a GIF beside its pictures'
MAX_CODES = 1_000_000  # blocks of a GIF's pictures: as many of 255 bytes are more than we open
MAX_FRAMES = 1_000


def refuse_many_parts(data: bytes, format: PhotoFormat) -> None:
    """Errors: RefusedError 'parts'."""
    if format == "PNG":
        _at_most(MAX_CHUNKS, png_chunks(data))
    elif format in ("JPEG", "MPO"):
        _count_segments(data)
        _at_most(MAX_SCANS, scans(data))
    elif format in ("HEIF", "AVIF"):
        _at_most(MAX_BOXES, boxes(data))
    elif format == "GIF":
        gif_frames(data)


# By marker and the beginning of what it holds: EXIF, a picture program's settings.
_FEW = {b"\xe1Exif": MAX_EXIF, b"\xedPhot": MAX_SETTINGS}


def _at_most(most: int, parts: Iterable[object]) -> None:
    if next(islice(parts, most, None), None) is not None:
        raise RefusedError("parts")


def _count_segments(data: bytes) -> None:
    """Up to the first scan, also behind odd bytes, which readers skip one by one. ITU-T T.81,
    B.1.1."""
    at, between, seen = 2, 0, Counter[bytes]()
    for _ in range(MAX_SEGMENTS):
        mark = data.find(b"\xff", at)
        if mark < 0 or mark + 1 >= len(data):
            mark = len(data)
        between += mark - at
        if between > MAX_BETWEEN or any(seen[kind] > most for kind, most in _FEW.items()):
            raise RefusedError("parts")
        if mark == len(data):
            return
        marker = data[mark + 1]
        if marker == 0xDA:  # a scan's head
            return
        if marker in (0x00, 0xFF):  # stuffed, or a fill byte
            at = mark + 1
        elif 0xD0 <= marker <= 0xD9 or marker == 0x01:  # stands alone
            at = mark + 2
        else:
            seen[data[mark + 1 : mark + 2] + data[mark + 4 : mark + 8]] += 1
            at = mark + 2 + int.from_bytes(data[mark + 2 : mark + 4], "big")
    raise RefusedError("parts")


def gif_frames(data: bytes) -> int:
    """How many pictures a GIF holds, none counted that breaks off or comes behind a thousand
    others. GIF89a, 17 to 27. Errors: RefusedError 'parts'."""
    frames, beside, codes = 0, 0, 0
    at = 13 + _colours(data, 10)
    while frames < MAX_FRAMES and at < len(data):
        introducer = data[at]
        if introducer == 0x2C:
            at, count = _blocks(data, at + 11 + _colours(data, at + 9))
            codes += count
            frames += at <= len(data)
        elif introducer == 0x21:
            at, count = _blocks(data, at + 2)
            beside += count
        elif introducer == 0x3B:
            break
        else:
            at, beside = at + 1, beside + 1  # odd bytes, skipped one by one
        if beside > MAX_BLOCKS or codes > MAX_CODES:
            raise RefusedError("parts")
    return max(1, frames)


def tiff_pictures(data: bytes) -> int:
    """How many pictures a TIFF names, each by the place of the next; no more than a thousand.
    TIFF 6.0, section 2."""
    order: Literal["little", "big"] = "little" if data[:1] == b"I" else "big"

    def number(at: int, size: int) -> int:
        return int.from_bytes(data[at : at + size], order)

    places: set[int] = set()
    at = number(4, 4)
    while 0 < at < len(data) and at not in places and len(places) < MAX_FRAMES:
        places.add(at)
        at = number(at + 2 + 12 * number(at, 2), 4)
    return max(1, len(places))


def _colours(data: bytes, at: int) -> int:
    """Bytes of the table that the flags at this place announce."""
    flags = data[at] if at < len(data) else 0
    return 3 << (flags & 7) + 1 if flags & 0x80 else 0


def _blocks(data: bytes, at: int) -> tuple[int, int]:
    """Where a chain of sub-blocks ends, and how many there are, the last one empty; no further
    than it may go."""
    count = 1
    while at < len(data) and data[at] and count <= MAX_CODES:
        at, count = at + 1 + data[at], count + 1
    return at + 1, count
