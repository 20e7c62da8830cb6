"""Blotches of colour in even parts, as a telephone leaves of weak light.

What it cannot wipe out of a sensor's noise it smooths, until blotches of colour some px wide lie
over everything. They show where the picture itself is most even: there colours differ that have
nothing to do with light and dark, and differ more than light and dark do. Coloured sand and reefs
differ in colour everywhere as well, but in lightness more. (Our own.)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

_PRINTED = 1200  # px of a print's shorter side: a patch is as large on every print
_CELLS = 16  # of two printed px, along a patch's side
_EACH_WAY = 13  # patches at most
_FEW = 12  # patches that can be asked
_EVENEST = 0.1  # of them, six at least
_INSIDE = (20, 240)  # codes: nearer to black or white colours are cut off
_LOW = 0.05  # of the most even patches have as little colour
_STILL = 0.3  # codes: what rounding alone makes of lightness
# Rec. 601, as JPEG has them: lightness, blue less lightness, red less lightness.
_LIGHT = np.array([0.299, 0.587, 0.114], np.float32)
_BLUE, _RED = 0.564, 0.713

Codes = NDArray[np.float32]


def _broad() -> Codes:
    """(cells, 6): what changes slowly over a patch, each column for itself of length 1."""
    down, across = np.mgrid[:_CELLS, :_CELLS] / (_CELLS - 1) - 0.5
    slow = (np.ones_like(down), down, across, down * down, down * across, across * across)
    return np.linalg.qr(np.stack(slow).reshape(len(slow), -1).T)[0].astype(np.float32)


_BROAD = _broad()


def blotches_of(
    picture: Image.Image, box: tuple[int, int, int, int] | None = None
) -> tuple[float, float]:
    """Of an RGB picture, or of a box (left, top, right, bottom, px) of it: how much colour differs
    from cell to cell in its most even parts beyond what goes with lightness (codes of 255, root
    mean square), and how many times as much as lightness does. (0.0, 0.0) where too little can be
    asked."""
    planes = _patches(picture, box or (0, 0, *picture.size))
    if planes.shape[1] < _FEW:
        return 0.0, 0.0
    light, blue, red = planes - (planes @ _BROAD) @ _BROAD.T
    power = np.square(light).mean(axis=1)
    evenest = np.argsort(power, kind="stable")[: max(6, int(_EVENEST * len(power)))]
    light, power = light[evenest], power[evenest]
    colour = np.zeros_like(power)
    for tint in (blue[evenest], red[evenest]):
        along = (tint * light).mean(axis=1)
        colour += np.square(tint).mean(axis=1) - along**2 / np.maximum(power, _STILL**2)
    strong = np.sqrt(np.maximum(colour, 0))
    over = strong / np.maximum(np.sqrt(power), _STILL)
    return round(float(np.quantile(strong, _LOW)), 2), round(float(np.median(over)), 2)


def _patches(picture: Image.Image, box: tuple[int, int, int, int]) -> Codes:
    """(3, patches, cells): lightness and two colours of patches spread over a box, without those
    that are nearly black or white."""
    left, top, right, bottom = box
    wide, high = right - left, bottom - top
    scale = max(1.0, min(wide, high) / _PRINTED)
    side = 2 * _CELLS * scale
    if min(wide, high) < 2 * side:
        return np.zeros((3, 0, _CELLS**2), np.float32)
    lefts = np.linspace(left, right - side, min(_EACH_WAY, int(wide / side)))
    tops = np.linspace(top, bottom - side, min(_EACH_WAY, int(high / side)))
    if scale == 1.0:  # whole px, so that no cell blends more of them than another
        lefts, tops = np.floor(lefts), np.floor(tops)
    size, way = (_CELLS, _CELLS), Image.Resampling.BOX
    cut = [
        np.asarray(picture.resize(size, way, (x, y, x + side, y + side)))
        for y in tops.tolist()
        for x in lefts.tolist()
    ]
    cells = np.stack(cut).astype(np.float32)
    light = cells @ _LIGHT
    blue, red = _BLUE * (cells[..., 2] - light), _RED * (cells[..., 0] - light)
    planes = np.stack([light, blue, red]).reshape(3, len(cut), -1)
    mean = planes[0].mean(axis=1)
    return np.asarray(planes[:, (mean > _INSIDE[0]) & (mean < _INSIDE[1])])
