"""A painted photo with marks of known colour and place, saved as cameras save: turned by a tag."""

from __future__ import annotations

import random
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Pixels = NDArray[np.uint8]

COLOURS = [
    (225, 40, 40),
    (20, 160, 50),
    (40, 60, 215),
    (235, 205, 20),
    (215, 40, 195),
    (20, 190, 200),
    (240, 125, 15),
    (110, 30, 150),
    (130, 80, 30),
    (150, 215, 40),
    (20, 90, 90),
    (235, 130, 170),
]


@dataclass(frozen=True, slots=True)
class Mark:
    """A square of one colour; left, top, right, bottom in px of the upright photo."""

    colour: tuple[int, int, int]
    box: tuple[int, int, int, int]


# How an upright picture lies in the file, so that its tag brings it upright again. TIFF 6.0 (1992),
# tag 274 Orientation, and the same tag in Exif 2.3; tests/data/exif_orientation.json has it too.
STORED = {
    1: lambda a: a,
    2: lambda a: a[:, ::-1],
    3: lambda a: a[::-1, ::-1],
    4: lambda a: a[::-1],
    5: lambda a: a.swapaxes(0, 1),
    6: lambda a: np.rot90(a, 1),
    7: lambda a: a[::-1, ::-1].swapaxes(0, 1),
    8: lambda a: np.rot90(a, -1),
}


def painted(width: int, height: int, chance: random.Random) -> tuple[Pixels, list[Mark]]:
    """A grey slope with fine grain, and 24 marks in a jittered grid of six by four."""
    noise = np.random.default_rng(chance.randrange(1 << 30))
    slope = np.linspace(165, 205, width)[None, :] + np.linspace(-12, 12, height)[:, None]
    grain = noise.integers(-5, 6, (height, width))
    grey = np.clip(slope + grain, 0, 255).astype(np.uint8)
    picture = np.repeat(grey[:, :, None], 3, axis=2)
    side = min(width // 6, height // 4) // 3
    marks = []
    for index, colour in enumerate(chance.sample(COLOURS * 2, 24)):
        row, column = divmod(index, 6)
        x = int((column + 0.5) * width / 6 + chance.uniform(-0.6, 0.6) * side) - side // 2
        y = int((row + 0.5) * height / 4 + chance.uniform(-0.6, 0.6) * side) - side // 2
        picture[y : y + side, x : x + side] = colour
        marks.append(Mark(colour, (x, y, x + side, y + side)))
    return picture, marks


def save(upright: Pixels, path: Path, orientation: int) -> None:
    """Write the photo with its tag in the format of its name."""
    stored = Image.fromarray(np.ascontiguousarray(STORED[orientation](upright)))
    tags = Image.Exif()
    tags[274] = orientation
    match path.suffix:
        case ".jpg":
            stored.save(path, quality=94, subsampling=0, exif=tags)
        case ".tif":
            stored.save(path, compression="tiff_lzw", tiffinfo={274: orientation})
        case ".webp":
            stored.save(path, quality=95, exif=tags)
        case ".png":
            assert orientation == 1
            stored.save(path, compress_level=1)
        case other:
            raise ValueError(other)


def middle_of(
    mark: Mark, picture: Pixels, expected: tuple[float, float], reach: float
) -> tuple[float, float] | None:
    """The mark's middle (x, y in px, 0.5 the middle of the first pixel) near where it should be."""
    x, y = expected
    left, top = max(int(x - reach), 0), max(int(y - reach), 0)
    near = picture[top : int(y + reach) + 1, left : int(x + reach) + 1].astype(int)
    ys, xs = np.nonzero(np.abs(near - np.array(mark.colour)).max(axis=2) < 42)
    if len(xs) < 20:
        return None
    return float(xs.mean()) + left + 0.5, float(ys.mean()) + top + 0.5
