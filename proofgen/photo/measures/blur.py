"""The blur effect: how little a picture changes when it is blurred again."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

WINDOW = 11  # px of the second blur
_BAND = 128  # rows worked at a time: few enough to stay in the processor's cache

Plane = NDArray[np.floating]


def blur_effect(plane: Plane, window: int = WINDOW) -> float:
    """0 (sharp) to 1 (blurred no further by blurring) of a grey plane; 0.0 for an even one.

    F. Crete, T. Dolmiere, P. Ladret, M. Nicolas (2007), The blur effect: perception and
    estimation with a new no-reference perceptual blur metric, SPIE 6492, hal-00232709. Edges by
    Sobel's filter, the worse of both directions, as scikit-image computes it: without the two px at
    the start and the one at the end of each axis.
    """
    high = plane.shape[0]
    before = window // 2
    wide = np.pad(plane, (before, window - 1 - before), mode="symmetric")
    total, lost = [0.0, 0.0], [0.0, 0.0]
    for top in range(2, high - 1, _BAND):
        bottom = min(top + _BAND, high - 1)
        sharp = plane[top - 1 : bottom + 1]
        for axis in (0, 1):
            if axis == 0:
                part = wide[top - 1 : bottom + window, before : before + plane.shape[1]]
            else:
                part = wide[before + top - 1 : before + bottom + 1]
            edges = _edges(sharp, axis)
            soft = _edges(_averaged(part, axis, window), axis)
            total[axis] += float(edges.sum(dtype=np.float64))
            lost[axis] += float(np.maximum(edges - soft, 0).sum(dtype=np.float64))
    return max((t - less) / t if t > 0 else 0.0 for t, less in zip(total, lost, strict=True))


def _averaged(part: Plane, axis: int, window: int) -> Plane:
    """The mean of every `window` neighbours along an axis, by adding sums of 1, 2, 4, 8 px."""
    block = np.moveaxis(part, axis, 0)
    size = block.shape[0] - window + 1
    total, offset, width, left = np.zeros_like(block[:size]), 0, 1, window
    while left:
        if left & 1:
            total += block[offset : offset + size]
            offset += width
        left >>= 1
        if left:
            block = block[:-width] + block[width:]
            width *= 2
    return np.moveaxis(total / window, 0, axis)


def _edges(part: Plane, axis: int) -> Plane:
    """Sobel's edges along an axis, without the outermost rows and columns, and the next column."""
    if axis == 0:
        step = part[2:] - part[:-2]
        edges = step[:, 1:-2] + 2 * step[:, 2:-1] + step[:, 3:]
    else:
        step = part[:, 3:] - part[:, 1:-2]
        edges = step[:-2] + 2 * step[1:-1] + step[2:]
    return np.abs(edges)
