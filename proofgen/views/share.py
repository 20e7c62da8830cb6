"""The picture that a messenger shows of a shared link: the season's things on a wide ground."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageColor

SIZE = (1200, 630)  # px; what the programs that show it say they want (from memory)
_ROOM = 34  # px between the things and the upper and lower edge
_BAND = 18  # px of the season's colour along the upper edge
_NEAR = 3  # codes by which a shadow's last trace may differ from the ground


def _things(image: Image.Image, ground: tuple[int, int, int]) -> tuple[int, int, int, int]:
    """The part of a picture that is not its ground: left, top, right, bottom."""
    away = np.abs(np.asarray(image.convert("RGB"), np.int16) - np.array(ground, np.int16))
    seen = away.max(axis=2) > _NEAR
    rows, columns = np.flatnonzero(seen.any(axis=1)), np.flatnonzero(seen.any(axis=0))
    if not len(rows):
        return (0, 0, *image.size)
    return int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1


def share_picture(image: Image.Image, *, ground: str, band: str) -> Image.Image:
    """SIZE px, RGB: the things of a picture on `ground` as large as there is room for, on the same
    ground made wide, under a band of the season's colour; both colours '#rrggbb'."""
    colour = ImageColor.getrgb(ground)[:3]
    part = image.convert("RGB").crop(_things(image, colour))
    wide, high = SIZE
    room = high - _BAND - 2 * _ROOM
    scale = min(room / part.height, (wide - 2 * _ROOM) / part.width)
    size = max(1, round(part.width * scale)), max(1, round(part.height * scale))
    made = Image.new("RGB", SIZE, colour)
    made.paste(ImageColor.getrgb(band)[:3], (0, 0, wide, _BAND))
    place = (wide - size[0]) // 2, _BAND + (high - _BAND - size[1]) // 2
    made.paste(part.resize(size, Image.Resampling.LANCZOS), place)
    return made
