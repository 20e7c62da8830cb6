"""A part of a photo, made of the rows that it needs alone: the pixels are those of the whole."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from PIL import Image

from proofgen.photo import pixels
from proofgen.photo.examining import open_pixels
from proofgen.photo.exchange import Part, request_for
from proofgen.photo.header import read_header
from tests.photo import picture_files as make

_PARTS: tuple[Part, ...] = (
    {"box": (0.0, 0.21, 1.0, 0.57), "size": (97, 31)},
    {"box": (0.13, 0.0, 0.87, 0.3), "size": (41, 40)},
    {"box": (0.3, 0.55, 0.9, 1.0), "size": (200, 101)},
)


@pytest.fixture(autouse=True)
def nothing_kept() -> Iterator[None]:
    pixels.forget(everything=True)
    yield
    pixels.forget(everything=True)


def saved(kind: str, turn: int) -> bytes:
    """As no other row, column or corner: noise on a slope, some of it clear in a PNG."""
    rng = np.random.default_rng(turn)
    codes = rng.integers(0, 90, (151, 203, 4), dtype=np.uint8)
    codes[..., :3] += np.linspace(0, 160, 203).astype(np.uint8)[:, None]
    codes[..., 3] = 255
    codes[40:60, 20:90, 3] = 0
    image = Image.fromarray(codes)
    image = image if kind == "PNG" else image.convert("RGB")
    exif = Image.Exif()
    exif[0x0112] = turn
    return make.saved(image, kind, icc_profile=make.p3_profile(), exif=exif.tobytes())


def opened(data: bytes, kind: str, key: str, part: Part | None) -> Image.Image:
    wanted = (120, 90) if part else None
    return open_pixels(data, request_for("pixels", kind, key, wanted=wanted, part=part))[0]


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_part_alone_is_a_part_of_the_whole(
    kind: str, turn: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = saved(kind, turn)
    finished: list[tuple[int, int]] = []
    plain = pixels._finished

    def seen(decoded: pixels.Decoded, image: Image.Image) -> Image.Image:
        finished.append(image.size)
        return plain(decoded, image)

    monkeypatch.setattr(pixels, "_finished", seen)
    for number, part in enumerate(_PARTS):
        alone = opened(data, kind, f"alone {number}", part)
        assert finished.pop() != (203, 151) and not finished  # a part was turned and converted
        again = opened(data, kind, f"alone {number}", part)
        assert finished == [(203, 151)]  # the second time the whole is
        opened(data, kind, f"whole {number}", None)
        after = opened(data, kind, f"whole {number}", part)
        finished.clear()
        assert (alone.mode, alone.size) == (after.mode, after.size)
        assert alone.tobytes() == again.tobytes() == after.tobytes()


def test_a_profile_is_told_of_before_and_after_its_colours_were_converted() -> None:
    data = saved("JPEG", 6)
    header = read_header(data, "JPEG")
    before = pixels.decode(data, "one", header).clipped()
    pixels.upright("one", 1, sent=False)
    assert pixels.decode(data, "one", header).clipped() == before
    assert before is not None
