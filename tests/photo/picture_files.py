"""Small picture files made in code: good, odd and hostile ones."""

import io
import struct
import zlib

import numpy as np
import pillow_heif
from PIL import Image, ImageCms

from proofgen.photo.exchange import Header

pillow_heif.register_heif_opener()


def scene(width: int = 96, height: int = 64) -> Image.Image:
    """An RGB picture without symmetry and without black, so that missing rows show."""
    y, x = np.mgrid[0:height, 0:width]
    pixels = np.stack(
        [40 + 200 * x / width, 40 + 200 * y / height, 90 + 80 * np.sin(x / 7.0) * np.cos(y / 5.0)],
        axis=-1,
    )
    pixels[: height // 4, : width // 4] = (230, 60, 60)
    return Image.fromarray(pixels.astype(np.uint8))


def saved(image: Image.Image, format: str, **options) -> bytes:
    """The bytes Pillow would write to a file."""
    out = io.BytesIO()
    image.save(out, format, **options)  # in memory
    return out.getvalue()


def chunk(kind: bytes, body: bytes) -> bytes:
    """One PNG chunk. ISO/IEC 15948, 5.3."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width, height, depth, colour, rows: bytes, before: bytes = b"") -> bytes:
    """A PNG from raw rows (each begins with its filter byte)."""
    head = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + before
        + chunk(b"IDAT", zlib.compress(rows, 9))
        + chunk(b"IEND", b"")
    )


def with_chunks(data: bytes, *chunks: bytes) -> bytes:
    """Chunks put right behind a PNG's header chunk."""
    return data[:33] + b"".join(chunks) + data[33:]


def header(**changes) -> Header:
    """What is known of a usual 100-megapixel JPEG before it is decoded, but for the changes."""
    usual: Header = {
        "format": "JPEG", "width": 10_000, "height": 10_000, "mode": "RGB", "orientation": 1,
        "turn": 1, "profile": "", "profile_fault": "", "frames": 1, "alpha": False, "private": [],
        "tables": {}, "samples": 1.5, "progressive": False, "bytes": 0, "adobe": False,
    }  # fmt: skip
    return {**usual, **changes}


def segment(marker: int, body: bytes) -> bytes:
    """One JPEG segment. ITU-T T.81, B.1.1.4."""
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def with_segments(data: bytes, *segments: bytes) -> bytes:
    """Segments put right behind a JPEG's first mark."""
    return data[:2] + b"".join(segments) + data[2:]


def without_segment(data: bytes, marker: int) -> bytes:
    """A JPEG without the segments of one marker."""
    out, at = data[:2], 2
    while data[at + 1] != 0xDA:
        end = at + 2 + int.from_bytes(data[at + 2 : at + 4], "big")
        out += b"" if data[at + 1] == marker else data[at:end]
        at = end
    return out + data[at:]


def jpeg_header(width: int, height: int) -> bytes:
    """A small JPEG whose header claims another size."""
    data = bytearray(saved(scene(16, 16), "JPEG"))
    at = data.index(b"\xff\xc0")
    data[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(data)


def srgb_profile() -> bytes:
    """Little CMS' own sRGB profile."""
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def swapped_profile() -> bytes:
    """sRGB with red and green exchanged: a picture that ignores it looks wrong at once."""
    icc = bytearray(srgb_profile())
    red, green = icc.index(b"rXYZ", 128), icc.index(b"gXYZ", 128)
    icc[red : red + 4], icc[green : green + 4] = b"gXYZ", b"rXYZ"
    return bytes(icc)


def p3_profile() -> bytes:
    """Display P3: the sRGB curve with wider primaries, adapted to D50 by Bradford.

    Primaries (.680, .320), (.265, .690), (.150, .060), D65: SMPTE EG 432-1, CSS Color 4.
    """
    xy = np.array([[0.68, 0.32], [0.265, 0.69], [0.15, 0.06], [0.3127, 0.3290]])
    xyz = np.column_stack([xy[:, 0] / xy[:, 1], np.ones(4), (1 - xy.sum(axis=1)) / xy[:, 1]]).T
    colorants = xyz[:, :3] * np.linalg.solve(xyz[:, :3], xyz[:, 3])
    bradford = np.array(
        [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
    )
    d50 = np.array([0.9642, 1.0, 0.8249])
    gain = np.diag((bradford @ d50) / (bradford @ xyz[:, 3]))
    colorants = np.linalg.inv(bradford) @ gain @ bradford @ colorants
    icc = bytearray(srgb_profile())
    for column, tag in enumerate((b"rXYZ", b"gXYZ", b"bXYZ")):
        entry = icc.index(tag, 128)
        at = int.from_bytes(icc[entry + 4 : entry + 8], "big") + 8
        numbers = np.rint(colorants[:, column] * 65536).astype(int)
        icc[at : at + 12] = struct.pack(">3i", *numbers)
    return bytes(icc)


def exif(gps: bool = False, orientation: int = 1, **texts: str) -> bytes:
    """EXIF with the turn, texts by tag name, and a place in the Irish Sea."""
    names = {"make": 0x010F, "artist": 0x013B, "time": 0x0132, "about": 0x010E}
    tags = Image.Exif()
    tags[0x0112] = orientation
    for name, text in texts.items():
        tags[names[name]] = text
    if gps:
        tags.get_ifd(0x8825).update({1: "N", 2: (53.0, 20.0, 1.0), 3: "W", 4: (5.0, 30.0, 2.0)})
    return tags.tobytes()
