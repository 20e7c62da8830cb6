"""Square pieces of a picture that carry the most detail: where traces are looked for."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_SIDE = 128  # px
_MOST = 48  # tiles; more add time and little certainty
_LOUD = 24  # codes of 255 above which a difference counts no more: one edge is not texture

Plane = NDArray[np.float32]
Codes = NDArray[np.int16]


def busiest(plane: NDArray[np.uint8]) -> Plane:
    """(n, _SIDE, _SIDE) float32 tiles of a grey plane in codes of 255, the most detailed first.

    Smaller planes give one tile of what there is, cut square; n is 0 below 32 px.
    """
    side = min(_SIDE, *plane.shape)
    if side < 32:
        return np.zeros((0, 32, 32), np.float32)
    down, across = plane.shape[0] // side, plane.shape[1] // side
    cut = plane[: down * side, : across * side].reshape(down, side, across, side)
    # Every second row and column tells enough of where detail is.
    few = cut[:, ::2, :, ::2].astype(np.int16)
    steps = _loudness(few[:, :, :, 1:], few[:, :, :, :-1]) + _loudness(few[:, 1:], few[:, :-1])
    order = np.argsort(-steps.ravel(), kind="stable")[:_MOST]
    return cut.swapaxes(1, 2)[np.divmod(order, across)].astype(np.float32)


def _loudness(one: Codes, other: Codes) -> NDArray[np.float64]:
    """(down, across): the mean step from some px of each tile to others, loud ones cut off."""
    steps = one - other
    np.abs(steps, out=steps)
    np.minimum(steps, _LOUD, out=steps)
    # Down first, where few are added and so short a number holds them: a fifth of the time.
    sums = steps.sum(axis=1, dtype=np.int16).sum(axis=2, dtype=np.int64)
    return np.asarray(sums / (steps.shape[1] * steps.shape[3]), dtype=np.float64)
