"""Floors under rows of pictures, none of proofgen's code: a full decode (D), a PNG as Pillow writes
it unasked, and ink on cloth by a table of 33 steps a channel."""

import io
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

STEPS = 33


def decode(path: Path) -> None:
    """Every pixel of a photograph, in sRGB as the file has it."""
    with Image.open(io.BytesIO(path.read_bytes())) as image:
        image.load()


def default_png(image: Image.Image) -> bytes:
    image.save(file := io.BytesIO(), "PNG")
    return file.getvalue()


def cloth_table(cloth: tuple[int, int, int]) -> ImageFilter.Color3DLUT:
    """Light that the ink lets through times that of the cloth, as sRGB (IEC 61966-2-1), at each of
    33³ points; made once, since it hangs on the cloth alone."""

    def seen(red: float, green: float, blue: float) -> tuple[float, float, float]:
        codes = np.array([red, green, blue, *(c / 255 for c in cloth)])
        light = np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4)
        out = light[:3] * light[3:]
        shown = np.where(out <= 0.0031308, out * 12.92, 1.055 * out ** (1 / 2.4) - 0.055)
        return float(shown[0]), float(shown[1]), float(shown[2])

    return ImageFilter.Color3DLUT.generate(STEPS, seen)


def on_cloth(image: Image.Image, table: ImageFilter.Color3DLUT) -> Image.Image:
    """A raster through the table, as a new picture."""
    return image.filter(table)
