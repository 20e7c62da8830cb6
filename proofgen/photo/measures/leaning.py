"""Whether fine detail leans: is weaker along one way than along the way across it, everywhere.

A camera that moves while its shutter is open wipes out fine detail along its way and leaves that
across it, in every square of the picture. Fences, waves and walls lean as well, but seldom all of a
picture: each square is asked by itself, and what nearly all of them share counts. The two slanting
ways hardly differ in any photograph; level and upright do more often. (Our own.)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.photo.measures.edges import blurred

_SIDE, _RIM = 64, 8  # px of a square, and around it, where blurs reach in
_DOWN, _ACROSS = 5, 8  # squares at most
_FEW = 6  # squares that must hold detail
_BLURS = (0.7, 2.0)  # px: fine detail lies between them
_LEAST = 1.0 / 255**2  # of full scale squared, of all four ways: less is an even square
_OF_STRONG = 0.05  # the same, as a share of what strong squares hold
_ROUNDING = 0.3 / 255**2
_SHARED = 0.25  # of the squares may lean less, or the other way

Plane = NDArray[np.float32]


def leaning_of(plane: Plane) -> tuple[float, float]:
    """Of a grey plane (0 to 1): by how many powers of two fine detail is stronger along its rows
    than along its columns in three of four squares at least (below 0: weaker), and along the way
    down to the right than along the way up. 0.0 where squares do not agree, or too few tell."""
    high, wide = plane.shape
    side = _SIDE + 2 * _RIM
    if high < side or wide < side:
        return 0.0, 0.0
    tops = np.linspace(0, high - side, min(_DOWN, high // side)).astype(int)
    lefts = np.linspace(0, wide - side, min(_ACROSS, wide // side)).astype(int)
    tall = np.concatenate([plane[y : y + side, x : x + side] for y in tops for x in lefts])
    first, second = (blurred(tall, sigma) for sigma in _BLURS)
    fine = (first - second).reshape(-1, side, side)[:, _RIM:-_RIM, _RIM:-_RIM]
    ways = (
        fine[:, 1:-1, 2:] - fine[:, 1:-1, :-2],
        fine[:, 2:, 1:-1] - fine[:, :-2, 1:-1],
        (fine[:, 2:, 2:] - fine[:, :-2, :-2]) / np.float32(2**0.5),
        (fine[:, 2:, :-2] - fine[:, :-2, 2:]) / np.float32(2**0.5),
    )
    power = np.stack([np.square(way).mean(axis=(1, 2)) for way in ways])
    whole = power.sum(axis=0)
    power = power[:, whole > max(_LEAST, _OF_STRONG * float(np.quantile(whole, 0.9)))]
    if power.shape[1] < _FEW:
        return 0.0, 0.0
    logs = np.log2(power + _ROUNDING)
    return _agreed(logs[0] - logs[1]), _agreed(logs[2] - logs[3])


def _agreed(leans: NDArray[np.floating]) -> float:
    """What all but a quarter of the squares reach, of one sign."""
    low, high = np.quantile(leans, (_SHARED, 1 - _SHARED))
    return round(float(low if low > 0 else min(high, 0.0)), 3)
