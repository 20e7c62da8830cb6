"""A picture with the parts hatched that hold colours a printer cannot reach, and their share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PIL import Image

if TYPE_CHECKING:
    from proofgen.colour.printer import SoftProof

_STEP, _LINE = 9, 2  # px along the rows: from line to line, and the width of each of its two tones


def hatched(image: Image.Image, printer: SoftProof) -> tuple[Image.Image, float]:
    """The RGB picture with out-of-reach parts hatched, and their share of its inked pixels (0..1).

    Each line is dark on one side and light on the other, so that it shows on any colour.
    """
    pixels = np.asarray(image).copy()
    outside = printer.outside(image)
    inked = (pixels < 255).any(axis=2)
    share = float(outside.sum() / max(int(inked.sum()), 1))
    down, across = np.indices(outside.shape)
    phase = (across + down) % _STEP
    pixels[outside & (phase < _LINE)] = 0
    pixels[outside & (phase >= _LINE) & (phase < 2 * _LINE)] = 255
    return Image.fromarray(pixels), share
