"""A picture of noise, which needs more than a byte a pixel, becomes a JPEG like any other."""

from __future__ import annotations

import io

import numpy as np
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
