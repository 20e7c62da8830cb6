"""From light to a picture as a camera keeps it: glow, exposure, a curve, grain, darker corners.

Arithmetic of ours in numpy; needs no renderer.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image

LUMA = np.array((0.2126, 0.7152, 0.0722))  # ITU-R BT.709


@dataclass(frozen=True)
class Film:
    """How light is kept: stops of exposure, gains of red and blue, and what glass and film add.

    `glow` is the share of bright light that spreads, `grain` the spread of 8-bit codes at middle
    grey, `fall` the share of light lost in the corners, `colour` the saturation (1: as it came).
    """

    stops: float = 0.0
    warm: float = 0.0
    glow: float = 0.05
    grain: float = 2.2
    fall: float = 0.18
    colour: float = 1.0
    lift: float = 0.012


def blurred(light: np.ndarray, sigma: float) -> np.ndarray:
    """Smoothed by a Gaussian of so many px, edges held. Of 2 or 3 dimensions."""
    reach = max(1, round(3 * sigma))
    taps = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    taps /= taps.sum()
    for axis in (0, 1):
        rim = [(0, 0)] * light.ndim
        rim[axis] = (reach, reach)
        wide = np.pad(light, rim, mode="edge")
        size = light.shape[axis]
        parts = [np.take(wide, range(k, k + size), axis) * tap for k, tap in enumerate(taps)]
        light = np.sum(parts, axis=0) if len(parts) < 40 else sum(parts[1:], parts[0])
    return light


def spread(light: np.ndarray, share: float) -> np.ndarray:
    """Bright light that wanders in lens and film, reckoned on a picture four times as small."""
    high, wide = (side // 4 * 4 for side in light.shape[:2])
    small = light[:high, :wide].reshape(high // 4, 4, wide // 4, 4, 3).mean(axis=(1, 3))
    over = np.minimum(np.maximum(small - 0.8, 0), 12)
    halo = 0.7 * blurred(over, wide / 4 * 0.006) + 0.3 * blurred(over, wide / 4 * 0.03)
    big = np.repeat(np.repeat(halo, 4, axis=0), 4, axis=1)
    found = light.copy()
    found[:high, :wide] += share * blurred(big, 2.0)
    return found


def curve(light: np.ndarray) -> np.ndarray:
    """A film's curve from linear light to sRGB codes 0 to 1: a toe, a shoulder that never clips.

    The rational curve that K. Narkowicz fitted to ACES (2016, from memory), then the sRGB one.
    """
    x = np.maximum(light, 0) * 0.62
    kept = np.clip(x * (2.51 * x + 0.03) / (x * (2.43 * x + 0.59) + 0.14), 0, 1)
    return np.where(kept <= 0.0031308, kept * 12.92, 1.055 * kept ** (1 / 2.4) - 0.055)


def grained(codes: np.ndarray, spread_codes: float, start: int) -> np.ndarray:
    """With grain: coarser than a pixel, strongest in the middle greys, a little of it in colour."""
    rng = np.random.default_rng(start)
    high, wide = codes.shape[:2]
    grey = blurred(rng.normal(0, 1, (high, wide)), 0.75)
    tint = blurred(rng.normal(0, 1, (high, wide, 3)), 1.1)
    tint -= tint.mean(axis=2, keepdims=True)
    bright = codes @ LUMA
    strength = 0.35 + 0.65 * np.sqrt(np.clip(4 * bright * (1 - bright), 0, 1))
    noise = grey[..., None] / grey.std() + 0.3 * tint / tint.std()
    return np.asarray(codes + spread_codes / 255 * strength[..., None] * noise)


def developed(light: np.ndarray, film: Film, start: int) -> Image.Image:
    """The picture. `light` is linear, rows from the top; `start` sets the grain."""
    high, wide = light.shape[:2]
    light = spread(light, film.glow) * 2.0**film.stops
    light = light * np.array((2.0**film.warm, 1.0, 2.0**-film.warm))
    y, x = np.mgrid[:high, :wide]
    away = ((x - wide / 2) ** 2 + (y - high / 2) ** 2) / ((wide / 2) ** 2 + (high / 2) ** 2)
    light = light * (1 - film.fall * away**1.5)[..., None]
    grey = (light @ LUMA)[..., None]
    codes = curve(np.maximum(grey + film.colour * (light - grey), 0))
    codes = film.lift + (1 - film.lift) * codes
    codes = grained(codes, film.grain, start)
    return Image.fromarray(np.clip(codes * 255 + 0.5, 0, 255).astype(np.uint8), "RGB")
