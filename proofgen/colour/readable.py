"""A colour made lighter or darker until it can be read on a ground."""

from __future__ import annotations

import numpy as np

from proofgen.colour.difference import contrast_ratio
from proofgen.colour.spaces import hex_to_rgb8, lab_of, lab_to_linear, linear_to_srgb, rgb8_to_hex


def readable_on(colour: str, ground: str, least: float = 4.5) -> str:
    """The colour of the same hue ('#rrggbb', CIE a* and b* kept as far as sRGB goes) that is
    nearest in lightness and has that contrast with the ground, 1..21 (WCAG 2.2, 1.4.3: 4.5). Black
    and white are the last resort; one of them has 4.58 on any ground."""
    light, a, b = lab_of(hex_to_rgb8(colour))
    steps = np.arange(1, 100)
    labs = np.array([(light, a, b), *((at, a, b) for at in steps)], dtype=np.float64)
    every = np.rint(linear_to_srgb(np.clip(lab_to_linear(labs), 0, 1)) * 255)
    every[0] = hex_to_rgb8(colour)
    every = np.vstack([every, [(0, 0, 0), (255, 255, 255)]])
    away = np.concatenate([[0.0], np.abs(steps - light), [200.0, 200.0]])
    ratios = contrast_ratio(every, hex_to_rgb8(ground))
    away[ratios < least] = 1000 - ratios[ratios < least]
    return rgb8_to_hex(every[int(np.argmin(away))])
