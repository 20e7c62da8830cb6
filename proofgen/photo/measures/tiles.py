"""Square pieces of a picture that carry the most detail: where traces are looked for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_SIDE = 128  # px
_MOST = 48  # tiles; more add time and little certainty
_LOUD = 24.0  # codes of 255 above which a difference counts no more: one edge is not texture

Plane = NDArray[np.float32]


def busiest(plane: NDArray[np.uint8]) -> Plane:
    """(n, _SIDE, _SIDE) float32 tiles of a grey plane in codes of 255, the most detailed first.

    Smaller planes give one tile of what there is, cut square; n is 0 below 32 px.
    """
    side = min(_SIDE, *plane.shape)
    if side < 32:
        return np.zeros((0, 32, 32), np.float32)
    down, across = plane.shape[0] // side, plane.shape[1] // side
    cut = plane[: down * side, : across * side]
    tiles = cut.reshape(down, side, across, side).swapaxes(1, 2).reshape(-1, side, side)
    # Every second row and column tells enough of where detail is.
    few = tiles[:, ::2, ::2].astype(np.int16)
    steps = np.minimum(np.abs(few[:, :, 1:] - few[:, :, :-1]), _LOUD).mean(axis=(1, 2))
    steps += np.minimum(np.abs(few[:, 1:] - few[:, :-1]), _LOUD).mean(axis=(1, 2))
    order = np.argsort(-steps, kind="stable")[:_MOST]
    return tiles[order].astype(np.float32)
