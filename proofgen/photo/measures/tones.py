"""Lightness of a picture and how much of it lies at the ends of its scale."""

from __future__ import annotations

import numpy as np
from PIL import Image

from proofgen.colour import lab_of
from proofgen.model import LIGHTNESS, Tones

_SMALL = 256  # px of the longer side that lightness is read from
_LARGE = 1024  # px of the longer side that ends of the scale are counted on, without blending


def tones_of(image: Image.Image) -> Tones:
    """Of an RGB picture (sRGB)."""
    small = image.resize(_within(image.size, _SMALL), Image.Resampling.BOX)
    light = lab_of(np.asarray(small))[..., 0]
    some = np.asarray(image.resize(_within(image.size, _LARGE), Image.Resampling.NEAREST))
    return Tones(
        lightness=tuple(round(float(v), 2) for v in np.percentile(light, LIGHTNESS)),
        dark=round(float((some.max(axis=-1) <= 1).mean()), 5),
        bright=round(float((some.min(axis=-1) >= 254).mean()), 5),
    )


def _within(size: tuple[int, int], most: int) -> tuple[int, int]:
    factor = min(1.0, most / max(size))
    return max(1, round(size[0] * factor)), max(1, round(size[1] * factor))
