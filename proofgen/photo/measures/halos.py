"""The rims that hard sharpening leaves along edges: brighter than the light side, darker than the
dark one.

At each steep step between two even sides the pixels next to it are compared with those farther
off. A lens and a camera leave a rim at few of them; sharpening makes one at most. (Our own.)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_SLOPE = 0.12  # of full scale over two px: less is no step
_NEAR, _FAR = 4, 9  # px from a step: up to where its rim reaches, and up to where its side is read
_HIGH = 0.12  # of full scale between its sides
_EVEN = 0.3  # of its height by which a side may differ in itself
_LIGHTEST, _DARKEST = 0.93, 0.05  # of full scale: nearer to white or black a rim is cut off
_RIM = 0.2  # of its height, at both sides
_FEW, _MOST = 20, 20_000  # steps: of fewer nothing is told; of each way so many are asked


def halos_of(plane: NDArray[np.float32]) -> float:
    """The share of the steps of a grey plane (0 to 1) with a rim at both sides; 0.0 where fewer
    than 20 can be asked."""
    rims = np.concatenate([_rims(plane), _rims(np.ascontiguousarray(plane.T))])
    return round(float((rims > _RIM).mean()), 3) if len(rims) >= _FEW else 0.0


def _rims(plane: NDArray[np.float32]) -> NDArray[np.float32]:
    """Of each step along the rows the height of the lower of its two rims, as a share of its
    own."""
    slope = plane[:, 2:] - plane[:, :-2]  # at the px between
    steep = np.abs(slope)
    inner = steep[:, _FAR - 1 : 1 - _FAR]
    rows, columns = np.divmod(np.flatnonzero(inner > _SLOPE), max(inner.shape[1], 1))
    # Only what is steep is compared with its neighbours: half of the time of comparing all.
    flat, at = steep.ravel(), rows * steep.shape[1] + columns + _FAR - 1
    own = flat[at]
    tops = (own >= flat[at - 1]) & (own > flat[at + 1])
    rows, columns = rows[tops], columns[tops]
    if len(rows) > _MOST:
        some = np.linspace(0, len(rows) - 1, _MOST).astype(np.intp)
        rows, columns = rows[some], columns[some]
    columns += _FAR
    way = np.where(slope[rows, columns - 1] > 0, 1, -1)
    # Each from its dark side to its light one, one below the other, which is added up sooner.
    along = columns + way * np.arange(-_FAR, _FAR + 1)[:, None]
    across = plane.ravel()[rows * plane.shape[1] + along]
    dark, light = across[: _FAR - _NEAR], across[_FAR + _NEAR + 1 :]
    low, high = dark.mean(axis=0), light.mean(axis=0)
    height = high - low
    asked = (height > _HIGH) & (high < _LIGHTEST) & (low > _DARKEST)
    for side in (dark, light):
        asked &= side.max(axis=0) - side.min(axis=0) < _EVEN * height
    near = across[_FAR - _NEAR : _FAR + _NEAR + 1, asked]
    above = near[_NEAR + 1 :].max(axis=0) - high[asked]
    below = low[asked] - near[:_NEAR].min(axis=0)
    return np.asarray(np.minimum(above, below) / height[asked], dtype=np.float32)
