"""A print on its thing: one look-up and one product."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageColor

from proofgen.views.hand.maps import Bytes, LyingMap, Map, RoundMap
from proofgen.views.hand.metal import TINT

Wide = NDArray[np.uint16]
Ground = str | Bytes
# Columns of a strip to one of a view in the view's middle: a ring within is taken as it is.
_LEAST, _MOST = 0.8, 1.3
_AT_ONCE = 2**18  # bytes worked on at a time: few enough to stay in the processor's cache


def _blocks(rows: int, row_bytes: int) -> Iterator[slice]:
    """All rows, so many at a time that they stay in the processor's cache: half of the time."""
    many = max(1, _AT_ONCE // row_bytes)
    return (slice(top, min(top + many, rows)) for top in range(0, rows, many))


def strip_of(ring: Image.Image, map_: RoundMap) -> Bytes:
    """A ring of cloth (its picture once round) at a view's scale, a row for each column of it."""
    middle = 1 / float(np.diff(map_.edges).min())
    columns = min(max(ring.width, math.ceil(_LEAST * middle)), math.ceil(_MOST * middle))
    size = (columns, min(ring.height, max(2, map_.tall // map_.finer + 1)))
    scaled = ring.convert("RGB")
    if scaled.size != size:
        scaled = scaled.resize(size, Image.Resampling.LANCZOS)
    return np.asarray(scaled.transpose(Image.Transpose.TRANSPOSE))


def roll(strip: Bytes, centre: float, edges: NDArray[np.float64]) -> Image.Image:
    """The columns of a view (as rows), each the mean of the arc it covers, so that nothing flickers
    where the cloth turns away. `centre` is the view's middle as a share of the way round."""
    around, wide = len(strip), len(edges) - 1
    at = (edges + centre) * around
    low, high = at[:-1], np.maximum(at[1:], at[:-1] + 1e-9)
    first = np.floor(low).astype(np.int64)
    flat = strip.reshape(around, -1)
    made = np.empty((wide, flat.shape[1]), dtype=np.uint8)
    for some in _blocks(wide, 8 * flat.shape[1]):
        begin, low_, high_ = first[some], low[some], high[some]
        mean = np.full((len(begin), flat.shape[1]), 0.5, dtype=np.float32)
        # Most columns of a view lie on two or three of the strip, those of the limb on many.
        for step in range(int((np.floor(high_) - begin).max()) + 1):
            shared = np.minimum(high_, begin + step + 1) - np.maximum(low_, begin + step)
            on = np.flatnonzero(shared > 0)
            share = (shared[on] / (high_ - low_)[on]).astype(np.float32)
            mean[on] += flat[(begin[on] + step) % around] * share[:, None]
        made[some] = mean
    return Image.fromarray(made.reshape(wide, *strip.shape[1:]))


def printed(strip: Bytes, map_: RoundMap, centre: float, cloth: str, ground: Ground) -> Image.Image:
    """The thing with its print, RGB; `cloth` and `ground` are colours '#rrggbb', or the ground is a
    picture as large as the map."""
    rolled = roll(strip, centre, map_.edges).resize(
        (map_.tall, map_.look.shape[1]), Image.Resampling.BICUBIC
    )
    seen = np.asarray(rolled.convert("RGBX")).reshape(-1, 4).view(np.uint32)[:, 0]
    looked = np.take(seen, map_.look).view(np.uint8).reshape(*map_.look.shape, 4)
    return product(looked, map_, cloth, ground)


def laid(face: Image.Image, map_: LyingMap, cloth: str, ground: str) -> Image.Image:
    """A flat piece with the picture of its face, RGB; colours as for `printed`."""
    scaled = np.asarray(face.convert("RGB").resize(map_.face, Image.Resampling.LANCZOS))
    rim = 3  # px beyond the edge, for the pixels that are half on it
    wide = Image.fromarray(np.pad(scaled, ((rim, rim), (rim, rim), (0, 0)), mode="edge"))
    a, b, c, d, e, f = map_.affine
    (top, bottom), (left, right) = map_.rows, map_.cols
    looked = wide.transform(
        (right - left, bottom - top),
        Image.Transform.AFFINE,
        (a, b, c + rim, d, e, f + rim),
        Image.Resampling.BICUBIC,
    )
    return product(np.asarray(looked), map_, cloth, ground)


def product(looked: Bytes, map_: Map, cloth: str, ground: Ground) -> Image.Image:
    """What the cloth shows (height x width x 3 or 4, where the map has ink) in the map's light."""
    ink, bare, free, own = map_.shares
    (top, bottom), (left, right) = map_.rows, map_.cols
    out = np.empty((*free.shape, 3), dtype=np.uint8)
    flat = isinstance(ground, str)
    below = ImageColor.getrgb(ground) if isinstance(ground, str) else np.moveaxis(ground, 2, 0)
    colours = [*zip(ImageColor.getrgb(cloth), below, TINT, strict=False)]
    for rows in _blocks(len(free), 8 * free.shape[1]):
        inked = slice(max(rows.start, top), min(rows.stop, bottom))
        for channel, (on_cloth, on_ground, tint) in enumerate(colours):
            ground_here = on_ground if flat else on_ground[rows]
            total: Wide = np.multiply(free[rows], ground_here, dtype=np.uint16)
            total += np.multiply(bare[rows], on_cloth, dtype=np.uint16)
            total += np.multiply(own[rows], round(255 * float(tint)), dtype=np.uint16)
            if inked.start < inked.stop:
                print_ = looked[inked.start - top : inked.stop - top, :, channel]
                within = slice(inked.start - rows.start, inked.stop - rows.start)
                total[within, left:right] += np.multiply(
                    print_, ink[inked, left:right], dtype=np.uint16
                )
            total += 128  # divided by 255 and rounded; shares add up to 255 at most
            total += total >> 8
            out[rows, :, channel] = total >> 8
    return Image.fromarray(out)
