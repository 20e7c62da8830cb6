"""JPEGs that lost bytes in their middle: the reader invents the rest, and that is told."""

import io

import numpy as np
import pytest
from PIL import Image

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
