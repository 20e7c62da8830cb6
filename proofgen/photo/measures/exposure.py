"""Lightness of a picture and how much of it lies at the ends of its scale."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image

from proofgen.colour import srgb_to_lab
from proofgen.model import LIGHTNESS

_SMALL = 256  # px of the longer side that lightness is read from
_LARGE = 1024  # px of the longer side that ends of the scale are counted on, without blending


@dataclass(frozen=True, slots=True)
class Exposure:
    """CIE L* at the percentiles of LIGHTNESS; shares of black, white, and of colours at an end."""

    lightness: tuple[float, ...]
    dark: float
    bright: float
    strong: float


def exposure(image: Image.Image) -> Exposure:
    """Of an RGB picture (sRGB)."""
    small = image.resize(_within(image.size, _SMALL), Image.Resampling.BOX)
    light = srgb_to_lab(np.asarray(small, dtype=np.float64) / 255)[..., 0]
    some = image.resize(_within(image.size, _LARGE), Image.Resampling.NEAREST)
    pixels = np.asarray(some)
    low, high = pixels.min(axis=-1), pixels.max(axis=-1)
    ends = (low <= 1) | (high >= 254)
    dark, bright = high <= 1, low >= 254
    return Exposure(
        lightness=tuple(round(float(v), 2) for v in np.percentile(light, LIGHTNESS)),
        dark=float(dark.mean()),
        bright=float(bright.mean()),
        strong=float((ends & ~dark & ~bright).mean()),
    )


def _within(size: tuple[int, int], most: int) -> tuple[int, int]:
    factor = min(1.0, most / max(size))
    return max(1, round(size[0] * factor)), max(1, round(size[1] * factor))
