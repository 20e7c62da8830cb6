"""What cannot be opened says what it is, by its content, and how to get a usable photo of it."""

import io
import struct
import zipfile

import pytest

from proofgen.photo.kinds import is_raw, kind_of
from tests.materials import PICTURES
from tests.photo import picture_files as make


def zipped(*names: str, first: str = "") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as folder:
        if first:
            folder.writestr("mimetype", first)
        for name in names:
            folder.writestr(name, "x" * 50)
    return out.getvalue()


def tiff(order: str, *tags: tuple[int, int, int], inside: list[tuple[int, int, int]] = ()) -> bytes:
    """A TIFF of (tag, type, value) entries; `inside` makes a second directory that SubIFDs name."""
    mark = {"<": b"II*\0", ">": b"MM\0*"}[order]

    def directory(entries) -> bytes:
        body = struct.pack(order + "H", len(entries))
        for tag, kind, value in sorted(entries):
            pad = "H2x" if kind == 3 else "I"
            body += struct.pack(order + "HHI" + pad, tag, kind, 1, value)
        return body + bytes(4)

    first = [*tags, *([(330, 4, 0)] if inside else [])]
    behind = 8 + 2 + 12 * len(first) + 4
    first = [(tag, kind, behind if tag == 330 else value) for tag, kind, value in first]
    head = mark + struct.pack(order + "I", 8) + directory(first)
    return head + (directory(inside) if inside else b"")


# A word of what it is said to be, and one of the cure.
OTHERS = {
    "raw of bayer values": (tiff("<", (262, 3, 32803)), "raw camera file", "developed"),
    "raw in a part": (tiff(">", (262, 3, 2), inside=[(262, 3, 32803)]), "raw", "developed"),
    "raw, linear": (tiff("<", (262, 3, 2), inside=[(262, 3, 34892)]), "raw", "developed"),
    "raw by its version": (tiff("<", (262, 3, 2), (50706, 1, 0x0401)), "raw", "developed"),
    "raw by byte 8": (b"II*\0\x10\0\0\0CR\2\0" + bytes(60), "raw", "developed"),
    "raw in boxes": (b"\0\0\0\x18ftypcrx \0\0\0\1crx isom", "raw", "developed"),
    "raw, other beginnings": (b"IIU\0" + bytes(60), "raw", "developed"),
    "raw, three colours": (b"FOVb" + bytes(60), "raw", "developed"),
    "pdf": (b"%PDF-1.7\n", "PDF document", "300 pixels per inch"),
    "svg": (b'<svg xmlns="http://www.w3.org/2000/svg"/>', "SVG drawing", "3,000 pixels"),
    "svg, xml": (b'<?xml version="1.0"?>\n<svg/>', "SVG drawing", "3,000 pixels"),
    "postscript": (b"%!PS-Adobe-3.0", "PostScript drawing", "3,000 pixels"),
    "layers": (b"8BPS\0\1" + bytes(30), "layered picture", "saved as PNG"),
    "layers, another": (b"gimp xcf v011\0", "layered picture", "saved as PNG"),
    "layers, zipped": (zipped(first="image/openraster"), "layered picture", "saved as PNG"),
    "document": (
        zipped("[Content_Types].xml", "word/document.xml"),
        "an office document",
        "file of its own",
    ),
    "document, open": (
        zipped("content.xml", first="application/vnd.oasis.opendocument.text"),
        "an office document",
        "file of its own",
    ),
    "document, old": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an office document", "file of its own"),
    "zip": (zipped("IMG_0001.jpg"), "zip folder", "Unpack"),
    "video": (b"\0\0\0\x18ftypmp42" + bytes(40), "a video", "seldom sharp"),
    "video of a phone": (
        b"\0\0\0\x14ftypqt  \0\0\0\0qt  \0\0\0\x08wide",
        "a video",
        "seldom sharp",
    ),
    "video, old": (b"\0\0\0\x6cmoov" + bytes(40), "a video", "seldom sharp"),
    "video, riff": (b"RIFF\0\1\0\0AVI LIST", "video recording", "seldom sharp"),
    "video, streamed": (b"\x1aE\xdf\xa3" + bytes(40), "a video", "seldom sharp"),
    "bmp": (b"BM" + bytes(60), "BMP picture", "PNG"),
    "ppm": (make.saved(make.scene(), "PPM"), "a PPM picture", "saved as PNG"),
    "ppm, grey, plain": (b"P2\n# by hand\n2 1\n9\n1 2\n", "a PPM picture", "saved as PNG"),
    "pam": (b"P7\nWIDTH 2\n", "a PPM picture", "saved as PNG"),
    "xpm": (b'/* XPM */\nstatic char *a[] = {"1 1 1 1"};', "an XPM picture", "saved as PNG"),
    "tga": (make.saved(make.scene(), "TGA"), "a TGA picture", "saved as PNG"),
    "tga, packed": (make.saved(make.scene(), "TGA", compression="tga_rle"), "a TGA", "PNG"),
    "tga, grey": (make.saved(make.scene().convert("L"), "TGA"), "a TGA picture", "PNG"),
    "tga, palette": (make.saved(make.scene().convert("P"), "TGA"), "a TGA picture", "PNG"),
    "tga, without its footer": (make.saved(make.scene(), "TGA")[:-26], "a TGA picture", "PNG"),
    "a rare kind": (b"qoif" + bytes(60), "a rare kind", "saved as PNG"),
    "bigtiff": (b"II+\0" + bytes(184), "of the kind for large files (BigTIFF)", "saved as PNG"),
    "jpeg xl": (b"\xff\x0a" + bytes(60), "JPEG XL picture", "PNG"),
    "web page": (b"<!doctype html><p>", "web page", "save the photo itself"),
}


@pytest.mark.parametrize("way", OTHERS)
@pytest.mark.parametrize("name", ["pier.jpg", "pier"])
def test_says_what_it_is_and_how_to_get_better(tmp_path, way, name):
    data, what, cure = OTHERS[way]
    path = tmp_path / name
    path.write_bytes(data)
    facts = PICTURES.inspect(path)
    assert facts.problem_code in ("unsupported", "not-a-picture")
    assert what in facts.problem and f"“{name}”" in facts.problem
    assert cure in facts.cure
    assert not facts.cure.endswith(".") and "!" not in facts.cure


def test_a_plain_tiff_is_no_raw_file():
    for options in ({}, {"exif": make.exif(True, make="Tern")}, {"compression": "tiff_lzw"}):
        data = make.saved(make.scene(), "TIFF", **options)
        assert kind_of(data).format == "TIFF"
    several = make.saved(make.scene(), "TIFF", save_all=True, append_images=[make.scene(9, 9)])
    assert not is_raw(several)


def test_torn_directories_tell_nothing():
    whole = tiff("<", (262, 3, 2), inside=[(262, 3, 32803)])
    for at in range(4, len(whole)):
        is_raw(whole[:at])  # never raises
    assert is_raw(whole)
    assert not is_raw(b"II*\0\xff\xff\xff\xff")
    assert not is_raw(b"MM\0*\0\0\0\4")  # a directory that begins inside the header


@pytest.mark.parametrize(
    ("brands", "format"),
    [(b"avif", "AVIF"), (b"mif1avif", "AVIF"), (b"heic", "HEIF"), (b"mif1heic", "HEIF")],
)
def test_a_common_first_brand_leaves_the_word_to_the_next(brands, format):
    boxed = struct.pack(">I", 12 + len(brands)) + b"ftyp" + brands[:4] + bytes(4) + brands[4:]
    assert kind_of(boxed).format == format
