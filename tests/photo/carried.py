"""Pictures that scikit-image carries, as they are and enlarged."""

from pathlib import Path

import numpy as np
import skimage
from PIL import Image

CARRIED = Path(skimage.__file__).parent / "data"  # pictures that the wheel carries
BICUBIC, BILINEAR = Image.Resampling.BICUBIC, Image.Resampling.BILINEAR
NEAREST = Image.Resampling.NEAREST


def picture(name: str) -> Image.Image:
    with Image.open(CARRIED / name) as opened:
        return opened.convert("RGB")


def grey(image: Image.Image) -> np.ndarray:
    return np.asarray(image.convert("L"))


def larger(name: str, factor: float, way: Image.Resampling, most: int = 700) -> Image.Image:
    """The middle of a picture, enlarged to at most so many px."""
    whole = picture(name)
    side = min(*whole.size, int(most / factor))
    left, top = (whole.width - side) // 2, (whole.height - side) // 2
    return whole.crop((left, top, left + side, top + side)).resize((round(side * factor),) * 2, way)
