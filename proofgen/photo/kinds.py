"""What a file is, told by its bytes and never by its name, and how to get a usable photo of it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from proofgen.model.photo import PhotoFormat


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """`format` is None for what is not opened. Of that, `words` says what it is or begins like, and
    `cure` how to get a usable photo, '' where there is nothing more to say than to ask for it."""

    format: PhotoFormat | None = None
    picture: bool = False
    words: str = ""
    cure: str = ""


def _opened(format: PhotoFormat) -> Kind:
    return Kind(format=format, picture=True)


def _picture(words: str, cure: str = "") -> Kind:
    return Kind(picture=True, words=words, cure=cure)


_MOVING = "Ask for a photo; a single frame of a video is seldom sharp enough to print"
_PACKED = "Unpack it, and name the photo inside"
_WEB = "Open it in a browser and save the photo itself, or ask for the photo as a file"

_TIFF = _opened("TIFF")
_RAW = _picture(
    "a raw camera file",
    "Ask for it developed: saved as JPEG or TIFF at full size by the camera, the phone or the "
    "program that opens it",
)
_LAYERED = _picture(
    "a layered picture of a picture program",
    "Ask for it saved as PNG, or as JPEG in the best quality, from the program it was made in",
)
_DRAWN = "Ask for it saved as PNG, at least 3,000 pixels on its longer side; drawings have no size"
_SVG = _picture("an SVG drawing", _DRAWN)
_CONVERTED = "Ask for it saved as PNG, or as JPEG in the best quality"
_PDF = Kind(
    words="a PDF document",
    cure="Ask for the photo that was put into it; failing that, save the page as PNG at 300 pixels "
    "per inch or more",
)
_DOCUMENT = Kind(
    words="an office document",
    cure="Ask for the photo as a file of its own; documents often keep a smaller copy of it",
)
_VIDEO = Kind(words="a video", cure=_MOVING)
_RECORDING = Kind(words="a sound or video recording", cure=_MOVING)
_XML = Kind(words="an XML text")

# OpenEXR, Radiance HDR, QOI, DirectDraw Surface and Silicon Graphics, from memory.
_RARE = (b"v/1\x01", b"#?RADIANCE", b"qoif", b"DDS ", b"\x01\xda\0\x01", b"\x01\xda\x01\x01")

# How files begin. PNG: ISO/IEC 15948; JPEG: ITU-T T.81 B.1.1.3; GIF89a; TIFF 6.0. The beginnings of
# raw camera files and of most others are those that the `file` program's public lists give.
_BEGINNINGS: tuple[tuple[Kind, tuple[bytes, ...]], ...] = (
    (_opened("JPEG"), (b"\xff\xd8\xff",)),
    (_opened("PNG"), (b"\x89PNG\r\n\x1a\n",)),
    (_opened("GIF"), (b"GIF87a", b"GIF89a")),
    (_TIFF, (b"II*\0", b"MM\0*")),
    (_picture("a BMP picture", _CONVERTED), (b"BM",)),
    (_picture("an XPM picture", _CONVERTED), (b"/* XPM */", b"! XPM2")),
    (_picture("a picture of a rare kind (EXR, HDR, QOI, DDS or SGI)", _CONVERTED), _RARE),
    (_LAYERED, (b"8BPS", b"gimp xcf")),
    (_picture("an icon"), (b"\0\0\x01\0",)),
    (_picture("a JPEG XL picture", _CONVERTED), (b"\xff\x0a", b"\0\0\0\x0cJXL ")),
    (_picture("a JPEG 2000 picture", _CONVERTED), (b"\0\0\0\x0cjP  ", b"\xff\x4f\xff\x51")),
    (_picture("a PostScript drawing", _DRAWN), (b"%!PS", b"\xc5\xd0\xd3\xc6")),
    (
        _picture("a TIFF picture of the kind for large files (BigTIFF)", _CONVERTED),
        (b"II+\0", b"MM\0+"),
    ),
    (_RAW, (b"FUJIFILMCCD-RAW", b"IIRO", b"IIRS", b"MMOR", b"IIU\0", b"FOVb", b"\0MRM")),
    (_RAW, (b"II\x1a\0\0\0HEAPCCDR",)),
    (_PDF, (b"%PDF",)),
    (Kind(words="a packed folder", cure=_PACKED), (b"Rar!", b"7z\xbc\xaf")),
    (Kind(words="a packed file", cure=_PACKED), (b"\x1f\x8b",)),
    (_DOCUMENT, (b"\xd0\xcf\x11\xe0", b"{\\rtf")),
    (Kind(words="a program"), (b"MZ", b"\x7fELF")),
    (Kind(words="a sound recording"), (b"ID3",)),
    (_RECORDING, (b"OggS", b"\x30\x26\xb2\x75\x8e\x66\xcf\x11")),
    (_VIDEO, (b"\x1aE\xdf\xa3", b"\0\0\x01\xba", b"\0\0\x01\xb3", b"FLV\x01")),
    (_XML, (b"<?xml",)),
)
# ISO/IEC 14496-12 brands; HEIF: ISO/IEC 23008-12, AVIF: its own specification.
_HEIF = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"mif2"}
_AVIF = {b"avif", b"avis"}
_OLD_BOXES = {b"moov", b"mdat", b"wide", b"free", b"skip"}  # videos older than `ftyp`


def kind_of(data: bytes) -> Kind:
    """What these bytes are, by their beginning and never by a name."""
    if data[:4] == b"RIFF":
        return _riff(data)
    if data[4:8] == b"ftyp":
        return _boxed(data)
    if data[4:8] in _OLD_BOXES:
        return _VIDEO
    if data[:4] == b"PK\x03\x04":
        return _zipped(data)
    for kind, beginnings in _BEGINNINGS:
        if data.startswith(beginnings):
            if kind is _TIFF and is_raw(data):
                return _RAW
            return _SVG if kind is _XML and b"<svg" in data[:2000] else kind
    if re.match(rb"P[1-6]\s+[#\d]|P7\s", data):  # Netpbm's documents: PBM, PGM, PPM and PAM
        return _picture("a PPM picture", _CONVERTED)
    return _picture("a TGA picture", _CONVERTED) if _is_tga(data) else _by_look(data)


def _is_tga(data: bytes) -> bool:
    """By the footer of the format's second version, or a head that could be no other's: TGA has no
    mark at its beginning. Truevision TGA 2.0, from memory."""
    if data[-18:-2] == b"TRUEVISION-XFILE":
        return True
    if len(data) < 18:
        return False
    table, kind, depth = data[1], data[2], data[16]
    start, entries = data[3:5], int.from_bytes(data[5:7], "little")
    wide, high = (int.from_bytes(data[at : at + 2], "little") for at in (12, 14))
    tabled = table == 1 and kind in (1, 9) and depth == 8 and 0 < entries <= 256
    plain = table == 0 and start == b"\0\0" and entries == 0
    plain = plain and (kind, depth) in _TGA_PLAIN
    return (tabled or plain) and wide > 0 and high > 0 and not data[17] & 0xC0


_TGA_PLAIN = {(2, 16), (2, 24), (2, 32), (10, 16), (10, 24), (10, 32), (3, 8), (11, 8)}


def _riff(data: bytes) -> Kind:
    """WebP's container specification, and what else is kept in the same one."""
    if data[8:12] == b"WEBP":
        return _opened("WEBP")
    if data[8:11] == b"CDR":
        return _picture("a drawing of a drawing program", _DRAWN)
    return _RECORDING


def _boxed(data: bytes) -> Kind:
    end = min(int.from_bytes(data[:4], "big"), 512)
    brands = [data[8:12]] + [data[i : i + 4] for i in range(16, end, 4)]
    if brands[0] in _AVIF or (brands[0] in _HEIF and _AVIF & set(brands)):
        return _opened("AVIF")
    if brands[0] in _HEIF or (_HEIF - {b"mif1", b"msf1", b"mif2"}) & set(brands):
        return _opened("HEIF")
    return _RAW if brands[0] == b"crx " else _VIDEO


def _zipped(data: bytes) -> Kind:
    """Documents and layered pictures are zip folders too; their first entries tell."""
    start = data[:4000]
    if b"application/x-krita" in start or b"image/openraster" in start:
        return _LAYERED
    if any(mark in start for mark in (b"[Content_Types].xml", b"application/vnd.oasis", b"word/")):
        return _DOCUMENT
    if b"Index/Document.iwa" in data[-4000:] or b"Index/" in start:
        return _DOCUMENT
    return Kind(words="a zip folder or an office document", cure=_PACKED)


def is_raw(data: bytes) -> bool:
    """Whether a TIFF is really a raw camera file, which would open as the small copy inside it.

    Marks: the DNG version (tag 50706), 'CR' at byte 8, or a picture of sensor values
    (PhotometricInterpretation 32803 or 34892). TIFF 6.0; DNG 1.7; TIFF/EP (ISO 12234-2).
    """
    if data[:2] == b"II" and data[8:10] == b"CR":
        return True
    first = _directory(data, _number(data, 4, 4))
    count, inside = first.get(330, (0, 0))  # SubIFDs: the one place, or where their places stand
    places = [inside] if count == 1 else [_number(data, inside + 4 * i, 4) for i in range(count)]
    every = [first, *(_directory(data, place) for place in places)]
    return 50706 in first or any(one.get(262, (0, 0))[1] in (32803, 34892) for one in every)


def _number(data: bytes, at: int, size: int) -> int:
    return int.from_bytes(data[at : at + size], "little" if data[:1] == b"I" else "big")


def _directory(data: bytes, at: int) -> dict[int, tuple[int, int]]:
    """Tag to (count, value or its place) of a TIFF directory; nothing where there is none."""
    tags = {}
    for entry in range(at + 2, at + 2 + 12 * min(_number(data, at, 2), 200), 12):
        size = 2 if _number(data, entry + 2, 2) == 3 else 4  # SHORT, else read as LONG
        count = min(_number(data, entry + 4, 4), 8)
        tags[_number(data, entry, 2)] = (count, _number(data, entry + 8, size))
    return tags


def _by_look(data: bytes) -> Kind:
    start = data[:2000]
    low = start.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if low.startswith(b"<svg"):
        return _SVG
    if low.startswith((b"<!doctype html", b"<html")) or b"<html" in low:
        return Kind(words="a web page", cure=_WEB)
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return Kind(words="a text file")
    if not start.strip(b"\0"):
        return Kind(words="a file of nothing but zeros")
    controls = sum(byte < 9 or 13 < byte < 32 for byte in start)
    return Kind(words="a text file" if not controls else "no kind of file we know")
