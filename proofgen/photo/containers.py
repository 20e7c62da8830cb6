"""Walks over PNG chunks, JPEG segments and boxes, before any picture library sees the bytes."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the small process starts without what the model needs
    from proofgen.model.photo import ProfileFault

_SCAN, _END = 0xDA, 0xD9  # mark the head of a JPEG's scan, and the end of the picture
_PNG_TEXT = {b"tEXt", b"zTXt", b"iTXt"}
MAX_PROFILE = 1_000_000  # bytes unpacked; real ones rarely pass half of that


@dataclass(slots=True)
class PngInside:
    """What a walk over a PNG's chunks found; `clean` holds the bytes without hidden texts."""

    whole: bool = False
    clean: bytes = b""
    text: bool = False
    xmp: bytes = b""
    exif: bytes = b""
    profile_lost: ProfileFault = ""  # why the colour profile was left out


def png_chunks(data: bytes) -> Iterator[tuple[bytes, int, int]]:
    """(type, start, end) of each chunk, the last perhaps cut short. ISO/IEC 15948, 5.3."""
    at = 8
    while at + 8 <= len(data):
        end = at + 12 + int.from_bytes(data[at : at + 4], "big")
        yield data[at + 4 : at + 8], at, min(end, len(data))
        at = end


def _profile_fault(payload: memoryview) -> ProfileFault:
    """Unpacks an iCCP chunk up to the limit, so that a bomb stays small."""
    raw = bytes(payload)
    name_end = raw.find(b"\0", 0, 81)
    unpacker = zlib.decompressobj()
    try:
        unpacked = unpacker.decompress(raw[name_end + 2 :], MAX_PROFILE + 1)
    except zlib.error:
        return "broken"
    if len(unpacked) > MAX_PROFILE:
        return "oversized"
    return "" if unpacker.eof and name_end >= 0 else "broken"


def read_png(data: bytes) -> PngInside:
    """Walk a PNG: is it whole, what is hidden in it, and the same picture without that."""
    png = PngInside()
    view = memoryview(data)
    parts: list[memoryview] = [view[:8]]
    for kind, start, end in png_chunks(data):
        body = view[start + 8 : end - 4]
        if kind in _PNG_TEXT:
            png.text = True
            if bytes(body[:17]) == b"XML:com.adobe.xmp" and len(body) <= MAX_PROFILE:
                png.xmp += bytes(body)
            continue
        if kind == b"iCCP" and (fault := _profile_fault(body)):
            png.profile_lost = fault
            continue
        if kind == b"eXIf" and len(body) <= MAX_PROFILE:
            png.exif = bytes(body)
        parts.append(view[start:end])
        if kind == b"IEND":
            png.whole = data[end - 4 : end] == b"\xae\x42\x60\x82"
            break  # what follows the end belongs to no picture
    png.clean = b"".join(parts)
    return png


# Channels of a PNG by its kind of colour, and the passes of Adam7: first column and row, steps.
_CHANNELS = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
_PASSES = (
    (0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2),
    (0, 1, 1, 2),
)  # fmt: skip
_PIECE = 1 << 20  # bytes unpacked at a time


def png_is_sound(data: bytes) -> bool:
    """Whether a PNG's head, palette and pixels are as they were written, by their sums, and all
    rows there. A reader looks at neither: what was altered it shows, what is missing it leaves
    black. ISO/IEC 15948, 5.3, 7.2, 8.2 and 10.1."""
    view, unpacker = memoryview(data), zlib.decompressobj()
    left = _packed_in(data)
    for kind, start, end in png_chunks(data):
        if kind == b"IEND":
            break
        if kind not in (b"IHDR", b"PLTE", b"IDAT"):
            continue
        if zlib.crc32(view[start + 4 : end - 4]) != int.from_bytes(view[end - 4 : end], "big"):
            return False
        packed = bytes(view[start + 8 : end - 4]) if kind == b"IDAT" else b""
        try:
            while packed and left > 0:
                left -= len(unpacker.decompress(packed, _PIECE))
                packed = unpacker.unconsumed_tail
        except zlib.error:
            return False
    return left <= 0


def _packed_in(data: bytes) -> int:
    """How many bytes a PNG's rows have, each with that of its filter, by its head."""
    wide, high = (int.from_bytes(data[at : at + 4], "big") for at in (16, 20))
    bits = data[24] * _CHANNELS.get(data[25], 1)
    sizes = (
        (-(-(wide - x) // across), -(-(high - y) // down))
        for x, y, across, down in (_PASSES if data[28] else ((0, 0, 1, 1),))
    )
    return sum(rows * (1 + -(-columns * bits // 8)) for columns, rows in sizes if columns > 0)


def missing_share(data: bytes, format: str) -> float | None:
    """None for a whole file; else the share of its bytes that is missing, 0.0 where unknown.

    Looks at the container alone (end marks and announced lengths); rows that are missing in
    spite of a right ending are found by decoding (`gaps`).
    """
    if format in ("JPEG", "MPO"):
        return None if _jpeg_ends(data) else 0.0
    if format == "PNG":
        return None if read_png(data).whole else 0.0
    if format == "WEBP":
        return _short(len(data), 8 + int.from_bytes(data[4:8], "little"))
    if format in ("HEIF", "AVIF"):
        return _short(len(data), _boxes_end(data))
    return None


def _short(have: int, announced: int) -> float | None:
    return None if have >= announced else 1 - have / announced


def _segments(data: bytes) -> Iterator[tuple[int, int, int]]:
    """(marker, start, end) of a JPEG's segments up to the head of its first scan, or to odd bytes
    between them. ITU-T T.81, B.1.1."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        if data[at + 1] == 0xFF:  # fill byte
            at += 1
            continue
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        yield data[at + 1], at, end
        if data[at + 1] == _SCAN:
            return
        at = end


def _jpeg_ends(data: bytes) -> bool:
    """Whether an end mark follows the first scan; a scan never holds one by chance, since its FF
    bytes are always stuffed (ITU-T T.81 B.1.1.5). The small copy inside a photo has its own."""
    at = 2
    for marker, start, end in _segments(data):
        at = start if marker == _SCAN else end
    return data.rfind(b"\xff\xd9") > at


# A marker among codes: neither a stuffed FF of theirs, nor a restart, nor a fill byte.
_MARKER = re.compile(rb"\xff[^\x00\xff\xd0-\xd7]")


def scans(data: bytes) -> Iterator[bytes]:
    """What stands in the head of each scan of a JPEG's picture, up to its end mark. ITU-T T.81,
    B.2.3: components, selectors, Ss, Se, Ah and Al."""
    at = next((start for marker, start, _ in _segments(data) if marker == _SCAN), len(data))
    while at + 4 <= len(data):
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        if data[at + 1] == _END:
            return
        if data[at + 1] == _SCAN:
            head = data[at + 4 : end]
            if len(head) < 6 or len(head) != 4 + 2 * head[0]:
                return
            yield head
        found = _MARKER.search(data, end)
        at = found.start() if found else len(data)


def in_several_scans(data: bytes) -> bool:
    """Whether a JPEG's pixels come in several passes, so that a reader must hold all coefficients:
    progressive (SOF2, 6, 10, 14), or with fewer components in the first scan than in the frame.
    ITU-T T.81, tables B.1 to B.3."""
    components = 0
    for marker, start, _ in _segments(data):
        if marker in (0xC2, 0xC6, 0xCA, 0xCE) or start + 10 > len(data):
            return True
        if marker in (0xC0, 0xC1, 0xC9):
            components = data[start + 9]
        if marker == _SCAN:
            return data[start + 4] < components
    return True  # odd bytes between the segments: priced as the dearer of the two


def _boxes_end(data: bytes) -> int:
    """Where the last box announces its end."""
    return max((end for _, end in boxes(data)), default=0)


def boxes(data: bytes) -> Iterator[tuple[int, int]]:
    """(start, end) of each box, the last perhaps cut short. ISO/IEC 14496-12, 4.2."""
    at = 0
    while at + 8 <= len(data):
        size = int.from_bytes(data[at : at + 4], "big")
        if size == 1:
            size = int.from_bytes(data[at + 8 : at + 16], "big")
        if size == 0:  # to the end of the file
            size = len(data) - at
        if size < 8 or not re.fullmatch(rb"[ -~]{4}", data[at + 4 : at + 8]):
            return  # not a box: bytes somebody added behind the picture
        yield at, at + size
        at += size
