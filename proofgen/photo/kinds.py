"""What a file is, told by its bytes and never by its name, and how to get a usable photo of it."""

from __future__ import annotations

from dataclasses import dataclass

FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "HEIF", "AVIF", "GIF", "MPO")

# What to ask for instead, where that is more than "the photo itself".
_DEVELOPED = (
    "Ask for it developed: saved as JPEG or TIFF at full size by the camera, the phone or the "
    "program that opens it"
)
_DRAWN = "Ask for it saved as PNG, at least 3,000 pixels on its longer side; drawings have no size"
_LAYERS = "Ask for it saved as PNG, or as JPEG in the best quality, from the program it was made in"
_CONVERTED = "Ask for it saved as PNG, or as JPEG in the best quality"
_PAGE = (
    "Ask for the photo that was put into it; failing that, save the page as PNG at 300 pixels per "
    "inch or more"
)
_INSIDE = "Ask for the photo as a file of its own; documents often keep a smaller copy of it"
_PACKED = "Unpack it, and name the photo inside"
_MOVING = "Ask for a photo; a single frame of a video is seldom sharp enough to print"
_WEB = "Open it in a browser and save the photo itself, or ask for the photo as a file"

_RAW, _LAYERED = "a raw camera file", "a layered picture of a picture program"
_DRAWING, _DOCUMENT = "a PostScript drawing", "an office document"
_VIDEO = "a video"

# How files begin. PNG: ISO/IEC 15948; JPEG: ITU-T T.81 B.1.1.3; GIF89a; TIFF 6.0; RIFF/WebP.
_PICTURES = (
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
    (b"GIF87a", "GIF"),
    (b"GIF89a", "GIF"),
    (b"II*\0", "TIFF"),
    (b"MM\0*", "TIFF"),
)
# Pictures of a kind that is not opened, then things that are no picture at all. The beginnings of
# raw camera files and of most others are those that the `file` program's public lists give.
_OTHER_PICTURES = (
    (b"BM", "a BMP picture", _CONVERTED),
    (b"8BPS", _LAYERED, _LAYERS),
    (b"gimp xcf", _LAYERED, _LAYERS),
    (b"\0\0\x01\0", "an icon", ""),
    (b"\xff\x0a", "a JPEG XL picture", _CONVERTED),
    (b"\0\0\0\x0cJXL ", "a JPEG XL picture", _CONVERTED),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000 picture", _CONVERTED),
    (b"\xff\x4f\xff\x51", "a JPEG 2000 picture", _CONVERTED),
    (b"%!PS", _DRAWING, _DRAWN),
    (b"\xc5\xd0\xd3\xc6", _DRAWING, _DRAWN),
    (b"II+\0", "a very large kind of TIFF picture", _CONVERTED),
    (b"MM\0+", "a very large kind of TIFF picture", _CONVERTED),
    (b"FUJIFILMCCD-RAW", _RAW, _DEVELOPED),
    (b"IIRO", _RAW, _DEVELOPED),
    (b"IIRS", _RAW, _DEVELOPED),
    (b"MMOR", _RAW, _DEVELOPED),
    (b"IIU\0", _RAW, _DEVELOPED),
    (b"FOVb", _RAW, _DEVELOPED),
    (b"\0MRM", _RAW, _DEVELOPED),
    (b"II\x1a\0\0\0HEAPCCDR", _RAW, _DEVELOPED),
)
_NO_PICTURES = (
    (b"%PDF", "a PDF document", _PAGE),
    (b"Rar!", "a packed folder", _PACKED),
    (b"7z\xbc\xaf", "a packed folder", _PACKED),
    (b"\x1f\x8b", "a packed file", _PACKED),
    (b"\xd0\xcf\x11\xe0", _DOCUMENT, _INSIDE),
    (b"{\\rtf", _DOCUMENT, _INSIDE),
    (b"MZ", "a program", ""),
    (b"\x7fELF", "a program", ""),
    (b"ID3", "a sound recording", ""),
    (b"OggS", "a sound or video recording", _MOVING),
    (b"\x1aE\xdf\xa3", _VIDEO, _MOVING),
    (b"\0\0\x01\xba", _VIDEO, _MOVING),
    (b"\0\0\x01\xb3", _VIDEO, _MOVING),
    (b"FLV\x01", _VIDEO, _MOVING),
    (b"\x30\x26\xb2\x75\x8e\x66\xcf\x11", "a sound or video recording", _MOVING),
    (b"<?xml", "an XML text", ""),
)
# ISO/IEC 14496-12 brands; HEIF: ISO/IEC 23008-12, AVIF: its own specification.
_HEIF = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"mif2"}
_AVIF = {b"avif", b"avis"}
_OLD_BOXES = {b"moov", b"mdat", b"wide", b"free", b"skip"}  # videos older than `ftyp`


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """`format` is one of FORMATS or ''; `words` says what the file is or begins like; `cure` how
    to get a usable photo, '' where there is nothing more to say than to ask for it."""

    format: str = ""
    picture: bool = False
    words: str = ""
    cure: str = ""


def kind_of(data: bytes) -> Kind:
    """What these bytes are, by their beginning and never by a name."""
    for magic, name in _PICTURES:
        if data.startswith(magic):
            if name == "TIFF" and is_raw(data):
                return Kind(picture=True, words=_RAW, cure=_DEVELOPED)
            return Kind(format=name, picture=True, words=f"a {name} picture")
    if data[:4] == b"RIFF":
        return _riff(data)
    if data[4:8] == b"ftyp":
        return _boxed(data)
    if data[4:8] in _OLD_BOXES:
        return Kind(words=_VIDEO, cure=_MOVING)
    if data[:4] == b"PK\x03\x04":
        return _zipped(data)
    for magic, words, cure in _OTHER_PICTURES:
        if data.startswith(magic):
            return Kind(picture=True, words=words, cure=cure)
    for magic, words, cure in _NO_PICTURES:
        if data.startswith(magic):
            if magic == b"<?xml" and b"<svg" in data[:2000]:
                return Kind(picture=True, words="an SVG drawing", cure=_DRAWN)
            return Kind(words=words, cure=cure)
    return _by_look(data)


def _riff(data: bytes) -> Kind:
    if data[8:12] == b"WEBP":
        return Kind(format="WEBP", picture=True, words="a WebP picture")
    if data[8:11] == b"CDR":
        return Kind(picture=True, words="a drawing of a drawing program", cure=_DRAWN)
    return Kind(words="a sound or video recording", cure=_MOVING)


def _boxed(data: bytes) -> Kind:
    end = min(int.from_bytes(data[:4], "big"), 512)
    brands = [data[8:12]] + [data[i : i + 4] for i in range(16, end, 4)]
    if brands[0] in _AVIF or (brands[0] in _HEIF and _AVIF & set(brands)):
        return Kind(format="AVIF", picture=True, words="an AVIF picture")
    if brands[0] in _HEIF or (_HEIF - {b"mif1", b"msf1", b"mif2"}) & set(brands):
        return Kind(format="HEIF", picture=True, words="a HEIC picture")
    if brands[0] == b"crx ":
        return Kind(picture=True, words=_RAW, cure=_DEVELOPED)
    return Kind(words=_VIDEO, cure=_MOVING)


def _zipped(data: bytes) -> Kind:
    """Documents and layered pictures are zip folders too; their first entries tell."""
    start = data[:4000]
    if b"application/x-krita" in start or b"image/openraster" in start:
        return Kind(picture=True, words=_LAYERED, cure=_LAYERS)
    if any(mark in start for mark in (b"[Content_Types].xml", b"application/vnd.oasis", b"word/")):
        return Kind(words=_DOCUMENT, cure=_INSIDE)
    if b"Index/Document.iwa" in data[-4000:] or b"Index/" in start:
        return Kind(words=_DOCUMENT, cure=_INSIDE)
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
    found = {}
    for entry in range(at + 2, at + 2 + 12 * min(_number(data, at, 2), 200), 12):
        size = 2 if _number(data, entry + 2, 2) == 3 else 4  # SHORT, else read as LONG
        count = min(_number(data, entry + 4, 4), 8)
        found[_number(data, entry, 2)] = (count, _number(data, entry + 8, size))
    return found


def _by_look(data: bytes) -> Kind:
    start = data[:2000]
    low = start.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if low.startswith(b"<svg"):
        return Kind(picture=True, words="an SVG drawing", cure=_DRAWN)
    if low.startswith((b"<!doctype html", b"<html")) or b"<html" in low:
        return Kind(words="a web page", cure=_WEB)
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return Kind(words="a text file")
    if not start.strip(b"\0"):
        return Kind(words="a file of nothing but zeros")
    controls = sum(byte < 9 or 13 < byte < 32 for byte in start)
    return Kind(words="a text file" if not controls else "no kind of file we know")
