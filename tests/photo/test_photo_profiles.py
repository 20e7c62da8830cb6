"""Grey and printing-ink profiles, built here by ICC.1:2022, and the usual ways to thin colour."""

import struct

import numpy as np
import pytest
from PIL import Image

from tests.materials import PICTURES
from tests.photo import picture_files as make


def profile(space: bytes, kind: bytes, connection: bytes, **tags: bytes) -> bytes:
    """A version 2 ICC profile of these tags. ICC.1:2022, 7.2 and 7.3."""
    text = b"Harbour test profile\0"
    tags["desc"] = b"desc" + struct.pack(">II", 0, len(text)) + text + bytes(79)
    tags["cprt"] = b"text" + bytes(4) + b"none\0"
    tags["wtpt"] = b"XYZ " + bytes(4) + struct.pack(">3i", 63190, 65536, 54061)  # D50
    at, table, body = 132 + 12 * len(tags), b"", b""
    for name, content in tags.items():
        content += bytes(-len(content) % 4)
        table += name.encode() + struct.pack(">II", at + len(body), len(content))
        body += content
    head = bytearray(128)
    head[:4] = struct.pack(">I", at + len(body))
    head[8:12], head[12:24] = b"\2\x40\0\0", kind + space + connection
    head[36:40], head[68:80] = b"acsp", struct.pack(">3i", 63190, 65536, 54061)
    return bytes(head) + struct.pack(">I", len(tags)) + table + body


def grey_profile(gamma: float) -> bytes:
    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(gamma * 256))
    return profile(b"GRAY", b"mntr", b"XYZ ", kTRC=curve)


def inks_profile() -> bytes:
    """Four inks of which only the second (magenta) is seen, as a strong green: a profile that is
    ignored shows at once. Table type 'mft1', ICC.1:2022 10.11."""
    straight = bytes(range(256))
    matrix = struct.pack(">9i", 65536, 0, 0, 0, 65536, 0, 0, 0, 65536)
    corners = b"".join(
        bytes((128, 60, 180)) if corner & 0b0100 else bytes((255, 128, 128)) for corner in range(16)
    )  # 8-bit Lab; the first ink's corner varies slowest
    table = b"mft1" + bytes(4) + bytes((4, 3, 2, 0)) + matrix
    table += straight * 4 + corners + straight * 3
    return profile(b"CMYK", b"prtr", b"Lab ", A2B0=table)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF"])
def test_grey_profile_is_applied(tmp_path, kind):
    path = tmp_path / f"pier.{kind.lower()}"
    grey = Image.new("L", (64, 48), 128)
    path.write_bytes(make.saved(grey, kind, icc_profile=grey_profile(1.0)))
    facts = PICTURES.inspect(path)
    assert (facts.problem, facts.profile) == ("", "Harbour test profile")
    # IEC 61966-2-1: linear 128/255 is 188 in sRGB.
    assert np.abs(np.asarray(PICTURES.open_pixels(facts)).astype(int) - 188).max() <= 2


@pytest.mark.parametrize("kind", ["JPEG", "TIFF"])
def test_profile_of_printing_inks_is_applied(tmp_path, kind):
    path = tmp_path / f"pier.{kind.lower()}"
    inks = Image.new("CMYK", (64, 48), (0, 255, 0, 0))
    inks.paste((255, 0, 0, 0), (0, 0, 32, 48))
    path.write_bytes(make.saved(inks, kind, icc_profile=inks_profile()))
    facts = PICTURES.inspect(path)
    assert (facts.problem, facts.profile) == ("", "Harbour test profile")
    assert "unknown" not in facts.ink_doubts
    picture = PICTURES.open_pixels(facts)
    red, green, blue = picture.getpixel((50, 24))
    assert green > 100 > red + 40 and blue < 80
    assert min(picture.getpixel((10, 24))) > 245  # cyan, which this profile does not see


@pytest.mark.parametrize("thinned", ["4:4:4", "4:2:2", "4:2:0"])
@pytest.mark.parametrize("size", [(97, 63), (1, 1), (17, 8)])
@pytest.mark.parametrize("progressive", [False, True])
def test_thinned_colour_at_odd_sizes(tmp_path, thinned, size, progressive):
    path = tmp_path / "pier.jpg"
    picture = make.scene(*size)
    how = {"quality": 95, "subsampling": thinned, "progressive": progressive}
    path.write_bytes(make.saved(picture, "JPEG", **how))
    facts = PICTURES.inspect(path)
    assert facts.usable, facts.problem
    seen = np.asarray(PICTURES.open_pixels(facts)).astype(int)
    assert seen.shape == (size[1], size[0], 3)
    assert np.abs(seen - np.asarray(picture)).mean() < 8
