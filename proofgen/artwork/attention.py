"""Where a picture draws the eye: its busy parts, and where a head may be, in plain numbers."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageFilter

from proofgen.artwork.maps import GRID, Map, remember_map
from proofgen.colour.spaces import lab_of
from proofgen.model import PhotoFacts
from proofgen.photo.opening import Pictures

_DECODE = (160, 160)
_FINE_SIDE = 16 * GRID  # px: each cell of a map holds 16 × 16 of them
_LOUD = 24.0  # codes above which a step counts no more: one edge is not texture
_BUSY, _FINE, _HEADS = (
    "busy-parts/2",
    "fine-parts/2",
    "likely-heads/1",
)  # raise when the map changes
_SHARES = (np.arange(GRID) + 0.5) / GRID
_MIDDLE = np.sqrt(1 - (_SHARES * 2 - 1) ** 2)  # 1 in the middle of a side, 0 at its ends
# Heads of people are looked for about this far from a photo's top, and so far up and down. Set on
# 38 photos with 44 heads; a third of it more or less cuts a tenth more of them.
_HEIGHT, _SPREAD = 0.3, 0.2
# Skin of all shades lies near one tint of the Cb, Cr plane (Hsu, Abdel-Mottaleb and Jain 2002,
# Face detection in color images); these two numbers were tried, not taken from there.
_CB, _CR = (108, 12), (152, 9)  # codes: the middle, and how far from it
_FAINT = 0.2  # likelier than this counts: below it lie warm walls, leaves and skies
_AS_ITS_BORDER = 25  # CIE L*a*b* units: what differs more from a photo's border stands before it


def busy_map(facts: PhotoFacts, pictures: Pictures) -> Map:
    """`busy_parts` of a photo, kept by its content. Errors: what opening the photo raises."""
    return remember_map(pictures, _BUSY, facts, _DECODE, busy_parts)


def fine_map(facts: PhotoFacts, pictures: Pictures) -> Map:
    """`fine_parts` of a photo, kept by its content. Errors: what opening the photo raises."""
    size = (_FINE_SIDE, _FINE_SIDE)  # made small where it lies: a large photo is long on its way
    return remember_map(pictures, _FINE, facts, size, fine_parts, fitted=True)


def heads_map(facts: PhotoFacts, pictures: Pictures) -> Map:
    """`likely_heads` of a photo, kept by its content. Errors: what opening the photo raises."""
    return remember_map(pictures, _HEADS, facts, _DECODE, likely_heads)


def _parts(image: Image.Image) -> Map:
    """The picture in (96, 96, 4) shares of red, green, blue and cover."""
    small = image.convert("RGBA").resize((GRID * 2, GRID * 2), Image.Resampling.BOX)
    return np.asarray(small, dtype=np.float64) / 255


def _in_cells(parts: Map) -> Map:
    return np.asarray(parts.reshape(GRID, 2, GRID, 2, *parts.shape[2:]).mean(axis=(1, 3)))


def _smooth(cells: Map) -> Map:
    for axis in (0, 1):
        padded = np.pad(cells, [(2, 2) if a == axis else (0, 0) for a in (0, 1)], mode="edge")
        taken = (np.take(padded, range(i, i + GRID), axis=axis) for i in range(5))
        cells = np.sum(
            [w / 16 * part for w, part in zip((1, 4, 6, 4, 1), taken, strict=True)], axis=0
        )
    return cells


def busy_parts(image: Image.Image) -> Map:
    """A (48, 48) map of where a picture is busy, summing to 1: edges in lightness and colour,
    smoothed, with some weight for the middle. Plain saliency, common practice, no source."""
    pixels = _parts(image)
    alpha = pixels[..., 3]
    energy = np.zeros(alpha.shape)
    for band in range(3):
        down, across = np.gradient(pixels[..., band] * alpha)
        energy += np.hypot(down, across)
    # Strong single edges (a horizon) should not outweigh a whole textured figure.
    cells = _smooth(_in_cells(np.sqrt(energy) * alpha))
    cells = np.clip(cells - np.quantile(cells, 0.4), 0, None) ** 1.5
    cells = cells * (0.35 + 0.65 * np.outer(_MIDDLE, _MIDDLE))
    total = float(cells.sum())
    return cells / total if total > 1e-9 else np.full(cells.shape, 1 / cells.size)


def fine_parts(image: Image.Image) -> Map:
    """A (48, 48) map of where a picture holds fine detail, 0 to 1 in the finest cell: how far
    each pixel stands out from those beside it. What is out of focus has little.
    Common practice, no source."""
    size = (_FINE_SIDE, _FINE_SIDE)
    grey = image.convert("RGB").convert("L").resize(size)
    smooth = np.asarray(grey.filter(ImageFilter.BoxBlur(1)), dtype=np.float64)
    steps = np.minimum(np.abs(np.asarray(grey, dtype=np.float64) - smooth), _LOUD)
    cells = steps.reshape(GRID, 16, GRID, 16).mean(axis=(1, 3))
    most = float(cells.max())
    return cells / most if most > 1e-9 else np.zeros(cells.shape)


def likely_heads(image: Image.Image) -> Map:
    """A (48, 48) map of where a head may be, each cell 0 to 1: the tint of skin that stands before
    the photo's border, in the upper middle. It knows no faces: bread and sand have that tint, too,
    and a grey photo has none."""
    pixels = _in_cells(_parts(image))
    red, green, blue = (pixels[..., band] * 255 for band in range(3))
    light = 0.299 * red + 0.587 * green + 0.114 * blue  # ITU-R BT.601
    off_cb = (128 + 0.564 * (blue - light) - _CB[0]) / _CB[1]
    off_cr = (128 + 0.713 * (red - light) - _CR[0]) / _CR[1]
    skin = np.exp(-(off_cb**2 + off_cr**2) / 2) * np.clip((light - 30) / 40, 0, 1)
    skin *= pixels[..., 3] * _before_its_border(lab_of(pixels[..., :3] * 255))
    height = np.exp(-(((_SHARES - _HEIGHT) / _SPREAD) ** 2) / 2)
    return np.clip(_smooth(skin * _MIDDLE) * height[:, None] - _FAINT, 0, None)


def _before_its_border(lab: Map) -> Map:
    """How far each cell differs from all that lies along the left, right and upper border, 0 to 1:
    the ground reaches the border, who stands before it mostly only the lower one."""
    border = np.concatenate([part.reshape(-1, 3) for part in (lab[:, :2], lab[:, -2:], lab[:2])])
    far = np.sqrt(((lab[:, :, None] - border[None, None, ::4]) ** 2).sum(axis=-1))
    return np.clip(np.sort(far, axis=-1)[..., :6].mean(axis=-1) / _AS_ITS_BORDER, 0, 1)
