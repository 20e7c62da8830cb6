"""A picture of ink on white, shown as the same ink on a coloured cloth."""

from __future__ import annotations

import numpy as np
from PIL import Image

from proofgen.colour import Correction, ink_on_cloth
from proofgen.model import Layout


def on_cloth(
    image: Image.Image, cloth_hex: str, correction: Correction | None = None
) -> Image.Image:
    """An RGB picture (white = bare cloth) as it looks on the cloth; a new picture, same size.

    ValueError for another mode or a bad colour. The colour science is in `colour.fabric`.
    """
    if image.mode != "RGB":
        raise ValueError(f"a picture in RGB is needed, not {image.mode}")
    return Image.fromarray(ink_on_cloth(np.asarray(image), cloth_hex, correction))


def on_its_cloth(image: Image.Image, layout: Layout) -> Image.Image:
    """As `on_cloth`, on the layout's own cloth and with what was read on it."""
    return on_cloth(image, layout.cloth_hex, layout.correction)
