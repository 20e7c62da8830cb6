"""A picture of noise, which needs more than a byte a pixel, becomes a JPEG like any other."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from proofgen.proof.content import picture
from proofgen.views import pictures

NOISE = Image.fromarray(
    (np.random.default_rng(3).integers(0, 2, (600, 520, 3)) * 255).astype(np.uint8)
)


def test_noise_is_shown() -> None:
    made = picture("noise", NOISE, "Noise")
    assert made.media_type == "image/jpeg" and len(made.data) > NOISE.width * NOISE.height
    for data in (made.data, pictures.jpeg(NOISE, 90)):
        with Image.open(io.BytesIO(data)) as opened:
            opened.load()
            assert opened.size == NOISE.size
            off = np.asarray(opened.convert("L")).astype(int) - np.asarray(NOISE.convert("L"))
            assert np.abs(off).mean() < 60


def test_small_pictures_of_few_colours() -> None:
    for size in ((1, 1), (3, 2), (40, 1)):
        image = Image.new("RGB", size, (10, 200, 90))
        for data in (picture("few", image, "Few").data, pictures.jpeg(image, 80)):
            with Image.open(io.BytesIO(data)) as opened:
                opened.load()
                assert opened.size == size


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_ground_beside_a_busy_picture_stays_even(seed: int) -> None:
    """A page's own ground lies beside it: specks show there."""
    ground, high, wide = (247, 244, 238), 900, 640
    image = Image.new("RGB", (wide, high), ground)
    grain = np.random.default_rng(seed).integers(0, 255, (high // 16, wide // 16, 3), np.uint8)
    image.paste(Image.fromarray(grain).resize((wide // 2, high // 2)), (wide // 4, high // 4))
    with Image.open(io.BytesIO(pictures.webp(image, 64))) as shown:
        off = np.abs(np.asarray(shown.convert("RGB")).astype(int) - ground)[:60]
    assert off.max() <= 4
