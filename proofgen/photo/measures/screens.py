"""The fine grid of a screen in a picture that was taken of one.

A screen's dots stand in rows and columns, evenly, with dark between them. Where a camera came near
enough to see it, the grid lies over all of the picture, whatever is shown there: in nearly every
square two lines of the spectrum stand high, at a right angle and about as fine as each other, and
in all squares nearly the same ones. Cloth and fences lie in a part of a picture. (Our own.)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

_SIDE = 128  # px of a square
_EACH_WAY = 4  # squares
_COARSEST, _FINEST = 0.1, 0.62  # cycles per px
_RING = 3 / _SIDE  # cycles per px: what is as fine is compared
_RIGHT = 0.12  # radians by which a right angle may be missed
_AS_FINE, _SAME = 0.2, 0.15  # natural logs: across to down, and of one square to another
_HIGH = 3.5  # of a square's lower line over the ground, natural log of power

_DOWN = np.fft.fftfreq(_SIDE)[:, None]
_ACROSS = np.fft.rfftfreq(_SIDE)[None, :]
_SPEED, _WAY = np.hypot(_DOWN, _ACROSS).ravel(), np.arctan2(_DOWN, _ACROSS).ravel()
_RINGS = (_SPEED / _RING).astype(int)
_WINDOW = np.outer(np.hanning(_SIDE), np.hanning(_SIDE))


def _asked() -> NDArray[np.intp]:
    """The frequencies where a grid is looked for, but for those of JPEG's squares."""
    near = 1.01 / _SIDE
    eighths = [np.abs(f - np.round(f * 8) / 8) <= near for f in (_DOWN, _ACROSS)]
    jpeg = (np.abs(_DOWN) <= near) & eighths[1] | (np.abs(_ACROSS) <= near) & eighths[0]
    return np.flatnonzero((_SPEED >= _COARSEST) & (_SPEED < _FINEST) & ~jpeg.ravel())


_ASKED = _asked()


def screen_of(plane: NDArray[np.uint8]) -> float:
    """The share of the squares spread over a grey plane, at the camera's own pixels, that show one
    and the same grid. 0.0 below 256 px a side."""
    if min(plane.shape) < 2 * _SIDE:
        return 0.0
    tops, lefts = (np.linspace(0, s - _SIDE, _EACH_WAY).astype(int) for s in plane.shape)
    fine = np.array([_grid(plane[y : y + _SIDE, x : x + _SIDE]) for y in tops for x in lefts])
    if not fine.any():
        return 0.0
    middle = np.median(fine[fine > 0])
    return round(float((np.abs(np.log(np.maximum(fine, 1e-9) / middle)) < _SAME).mean()), 2)


def _grid(square: NDArray[np.uint8]) -> float:
    """How fine the grid of a square is (cycles per px), 0.0 for none."""
    seen = (square - square.mean()) * _WINDOW
    power = np.log(np.abs(np.fft.rfft2(seen)) ** 2 + (_WINDOW**2).sum() / 12).ravel()
    ground = np.bincount(_RINGS, power) / np.maximum(np.bincount(_RINGS), 1)
    over = power - ground[_RINGS]
    high = _ASKED[over[_ASKED].argmax()]
    aside = np.abs((_WAY[_ASKED] - _WAY[high]) % np.pi - np.pi / 2) < _RIGHT
    as_fine = np.abs(np.log(_SPEED[_ASKED] / _SPEED[high])) < _AS_FINE
    others = over[_ASKED[aside & as_fine]]
    return float(_SPEED[high]) if len(others) and others.max() > _HIGH else 0.0
