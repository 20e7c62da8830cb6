"""Lightness of a picture and how much of it lies at the ends of its scale."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.colour import lab_of
from proofgen.model import LIGHTNESS, Tones

_SMALL = 256  # px of the longer side that lightness is read from
_LARGE = 1024  # px of the longer side that ends of the scale are counted on, without blending
_LIGHTEST, _DARKEST = 98, 5  # percentiles of lightness beyond which tints are read
_STEPS = 16  # of lightness, in each of which colours are compared
_WHITE = 253  # codes: where the light of some cameras ends


def tones_of(image: Image.Image, box: tuple[int, int, int, int] | None = None) -> Tones:
    """Of an RGB picture (sRGB), or of a box (left, top, right, bottom, px) of it."""
    left, top, right, bottom = box or (0, 0, *image.size)
    size = right - left, bottom - top
    small = image.resize(_within(size, _SMALL), Image.Resampling.BOX, box)
    lab = lab_of(np.asarray(small)).reshape(-1, 3)
    light, tints = lab[:, 0], lab[:, 1:]
    ends = np.percentile(light, (_DARKEST, _LIGHTEST))
    some = np.asarray(image.resize(_within(size, _LARGE), Image.Resampling.NEAREST, box))
    red, green, blue = (some[:, :, colour] for colour in range(3))
    most = np.maximum(np.maximum(red, green), blue)  # a twentieth of the time of some.max(-1)
    least = np.minimum(np.minimum(red, green), blue)
    return Tones(
        lightness=tuple(round(float(v), 2) for v in np.percentile(light, LIGHTNESS)),
        dark=round(float((most <= 1).mean()), 5),
        bright=round(float((least >= _WHITE).mean()), 5),
        tint=_mean(tints),
        light_tint=_mean(tints[light >= ends[1]]),
        dark_tint=_mean(tints[light <= ends[0]]),
        strays=_strays(light, tints),
    )


def _mean(tints: NDArray[np.floating]) -> tuple[float, float]:
    a, b = tints.mean(axis=0)
    return round(float(a), 2), round(float(b), 2)


def _strays(light: NDArray[np.floating], tints: NDArray[np.floating]) -> float:
    step = np.clip((light / 100 * _STEPS).astype(np.intp), 0, _STEPS - 1)
    counts = np.maximum(np.bincount(step, minlength=_STEPS), 1)
    square = 0.0
    for tint in tints.T:
        own = np.bincount(step, tint, _STEPS) / counts
        square += float(((tint - own[step]) ** 2).mean())
    return round(square**0.5, 2)


def _within(size: tuple[int, int], most: int) -> tuple[int, int]:
    factor = min(1.0, most / max(size))
    return max(1, round(size[0] * factor)), max(1, round(size[1] * factor))
