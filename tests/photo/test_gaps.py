"""JPEGs that lost bytes in their middle: the reader invents the rest, and that is told. PNGs whose
rows are not all there, or not as they were written: the reader shows black, or anything."""

import io
import zlib

import numpy as np
import pytest
from PIL import Image

from proofgen.photo.containers import png_chunks
from tests.materials import PICTURES
from tests.photo import picture_files as make


def busy(width: int = 640, height: int = 480) -> Image.Image:
    y, x = np.mgrid[0:height, 0:width]
    waves = [128 + 60 * np.sin(x / (9 + i)) + 40 * np.cos(y / (7 + i)) for i in range(3)]
    grain = np.random.default_rng(1).normal(0, 6, (height, width, 3))
    return Image.fromarray((np.stack(waves, axis=-1) + grain).clip(0, 255).astype(np.uint8))


@pytest.fixture
def told(tmp_path):
    """What is told of a JPEG's bytes: '' or the problem's code."""

    def told(data: bytes) -> str:
        path = tmp_path / "pier.jpg"
        path.write_bytes(data)
        facts = PICTURES.inspect(path)
        assert facts.usable or facts.cure
        return facts.problem_code

    return told


@pytest.mark.parametrize("missing", [0.02, 0.05, 0.5])
@pytest.mark.parametrize("at", [0.3, 0.6, 0.9])
@pytest.mark.parametrize("how", ["baseline", "progressive", "restarts"])
@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK"])
def test_a_gap_in_the_middle_is_damage(told, mode, how, at, missing):
    options = {"progressive": how == "progressive"}
    options |= {"restart_marker_blocks": 7} if how == "restarts" else {}
    data = make.saved(busy().convert(mode), "JPEG", quality=90, **options)
    assert told(data) == ""
    first, last = (int(len(data) * share) for share in (at, min(at + missing, 0.99)))
    assert told(data[:first] + data[last:]) == "damaged"


def parts(data: bytes) -> list[bytes]:
    """A JPEG cut before each of its markers, restarts aside."""
    cuts = [0]
    while data[cuts[-1] + 1] != 0xD9:
        at = cuts[-1] + 2
        if cuts[-1]:
            at += int.from_bytes(data[at : at + 2], "big")
        while data[at] != 0xFF or data[at + 1] in (0, *range(0xD0, 0xD8)):
            at += 1
        cuts.append(at)
    return [data[a:b] for a, b in zip(cuts, [*cuts[1:], len(data)], strict=True)]


def test_each_scan_of_a_progressive_file_is_missed(told):
    """The last ones hold nothing but the finest bit, and no reader misses them by itself."""
    whole = parts(make.saved(busy(), "JPEG", quality=90, progressive=True))
    scans = [at for at, part in enumerate(whole) if part[1] == 0xDA]
    assert len(scans) == 10
    for scan in scans:
        left = b"".join(part for at, part in enumerate(whole) if at != scan)
        assert told(left) == "damaged", whole[scan][:14]
    assert told(b"".join(whole)) == ""


def test_zeros_that_a_camera_fills_up_with_are_none(told):
    data = make.saved(busy(), "JPEG", quality=90)
    assert told(data[:-2] + bytes(9) + data[-2:]) == ""
    assert told(data[:-2] + b"\x41\x07\x55\x13" * 3 + data[-2:]) == "damaged"


def test_small_copies_and_second_pictures_do_not_count(told):
    first, second = (make.saved(busy(), "JPEG", quality=q, progressive=True) for q in (90, 40))
    assert told(first + second[: len(second) // 2]) == ""
    out = io.BytesIO()
    busy().save(out, "JPEG", exif=b"Exif\0\0" + second[:3000])
    assert told(out.getvalue()) == ""


@pytest.mark.parametrize("ground", ["white", "#808080", "#3060a0"])
def test_an_even_ground_is_none(told, ground):
    for edge in (400, 401, 480):
        for left, right in ((0, 640), (160, 480), (320, 640)):
            picture = Image.new("RGB", (640, 480), ground)
            picture.paste(busy().crop((left, 0, right, edge)), (left, 0))
            assert told(make.saved(picture, "JPEG", quality=90)) == "", (left, right)


MODES = ["RGB", "RGBA", "L", "LA", "P", "1", "I;16"]


def png_of(mode: str, **options) -> bytes:
    if mode == "I;16":
        grey = np.asarray(busy(97, 61).convert("L")).astype(np.uint16) * 257
        return make.saved(Image.fromarray(grey), "PNG", **options)
    return make.saved(busy(97, 61).convert(mode), "PNG", **options)


def chunks_of(data: bytes) -> list[tuple[bytes, bytes]]:
    return [(kind, data[start + 8 : end - 4]) for kind, start, end in png_chunks(data)]


def rewritten(chunks: list[tuple[bytes, bytes]]) -> bytes:
    return b"\x89PNG\r\n\x1a\n" + b"".join(make.chunk(*one) for one in chunks)


@pytest.mark.parametrize("mode", MODES)
def test_a_whole_png_is_not_taken_for_damaged(told, mode):
    data = png_of(mode)
    assert told(data) == ""
    # What follows the end, and sums of what holds no pixels, belong to no picture.
    spoilt = bytearray(make.chunk(b"tEXt", b"by\0nobody"))
    spoilt[-1] ^= 1
    assert told(make.with_chunks(data, bytes(spoilt)) + b"\0\0\0\1IDATx\0\0\0\0") == ""


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("rows", [0.02, 0.5, 0.98])
def test_a_png_that_ends_well_and_lacks_rows_is_damage(told, mode, rows):
    """As a program writes it that stops in the middle and closes the file all the same."""
    chunks = chunks_of(png_of(mode))
    packed = zlib.decompress(b"".join(body for kind, body in chunks if kind == b"IDAT"))
    less = zlib.compress(packed[: int(len(packed) * rows)])
    kept = [one for one in chunks if one[0] != b"IDAT"]
    data = rewritten([*kept[:-1], (b"IDAT", less), kept[-1]])
    assert told(data) == "damaged"
    whole = rewritten([*kept[:-1], (b"IDAT", zlib.compress(packed)), kept[-1]])
    assert told(whole) == ""


def test_a_png_of_seven_passes_has_all_of_them_or_is_damage(told):
    """Adam7: 8 × 8 pixels in grey are 1, 1, 2, 4, 8, 16 and 32, in rows of 15 filters."""
    rows = b"".join(
        (b"\0" + bytes(range(wide))) * high
        for wide, high in ((1, 1), (1, 1), (2, 1), (2, 2), (4, 2), (4, 4), (8, 4))
    )
    assert len(rows) == 64 + 15
    for packed, code in ((rows, ""), (rows[:-1], "damaged"), (rows + b"more", "")):
        data = bytearray(make.png(8, 8, 8, 0, packed))
        head = bytes(data[16:28]) + b"\1"
        assert told(data[:8] + make.chunk(b"IHDR", head) + data[33:]) == code, len(packed)


@pytest.mark.parametrize("at", [0.1, 0.5, 0.9])
def test_a_png_with_one_letter_altered_is_damage(told, at):
    data = bytearray(png_of("RGB", compress_level=0))
    data[41 + int((len(data) - 57) * at)] ^= 0x10
    assert told(bytes(data)) == "damaged"
