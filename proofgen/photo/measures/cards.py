"""A print or card photographed with its border or what it lay on: a rectangle near all four sides.

Along each side of a small picture straight lines are sought, a little aslant too, that are steps of
one sign from end to end; of all that meet in four corners the rectangle counts whose weakest side
is the strongest. Where all is texture, a line finds steps of one sign by chance; only what it has
beyond that counts. (Our own.)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray
from PIL import Image

_SIDE = 256  # px of the longer side that is looked at
_LEAST = 48  # px of the shorter one
_STEP = 8  # codes over two px: less is none
_NEAR, _FAR = 0.012, 0.25  # of a side: how far from the picture's edge a line may lie
_MIDDLE = (0.17, 0.83)  # of a side: where a line is sought first, whatever the corners' places
# px down for each px across, the smallest first, which counts where others show as much.
_TILTS = np.array(sorted(np.linspace(-0.09, 0.09, 19), key=abs))
_MOST = 3  # lines of each sign that are followed, along one side
_APART = 3  # px between two of them
_ENOUGH = 0.65  # of its middle that is to be step, beyond chance
_MIXED = 0.8  # times as much counts a rectangle that is lighter than what lies around it in part

Plane = NDArray[np.float32]
Depths = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class _Line:
    """`place` px from the first row in the middle; `sign`: 1 where it is lighter within; `steps`:
    sums along it of what each column has beyond chance, from 0 on."""

    place: float
    tilt: float
    sign: int
    steps: NDArray[np.floating]

    def share(self, start: float, end: float) -> float:
        """Of its steps between two places along it."""
        last = len(self.steps) - 1
        first, beyond = (
            int(np.clip(round(one), 0, last)) for one in (min(start, end) + 2, max(start, end) - 2)
        )
        return float(self.steps[beyond] - self.steps[first]) / max(beyond - first, 1)


def card_of(light: Image.Image) -> tuple[float, Depths]:
    """Of a whole grey picture: how surely (0 to 1) a rectangle stands in it near all four sides,
    and how far inside left, top, right and bottom it begins, as shares of the sides."""
    grown = _SIDE / max(light.size)
    wide, high = (max(1, round(size * min(grown, 1.0))) for size in light.size)
    if min(wide, high) < _LEAST:
        return 0.0, (0.0, 0.0, 0.0, 0.0)
    small = light.resize((wide, high), Image.Resampling.BOX, reducing_gap=2.0)
    plane = np.asarray(small, dtype=np.float32)
    sides: list[list[_Line]] = []
    for one in (plane.T, plane, plane[:, ::-1].T, plane[::-1]):
        sides.append(list(_lines(np.ascontiguousarray(one))))
        if not sides[-1]:  # of most photos: the others need not be looked at
            return 0.0, (0.0, 0.0, 0.0, 0.0)
    sure, depths = 0.0, (0.0, 0.0, 0.0, 0.0)
    for left, top, right, bottom in product(*sides):
        weakest = _weakest(left, top, right, bottom, (wide, high))
        if weakest > sure:
            sure = weakest
            depths = (
                left.place / wide,
                top.place / high,
                right.place / wide,
                bottom.place / high,
            )
    left_, top_, right_, bottom_ = (round(depth, 3) for depth in depths)
    return round(sure, 3), (left_, top_, right_, bottom_)


def _lines(plane: Plane) -> Iterator[_Line]:
    """The clearest near the first rows, of each sign."""
    high, wide = plane.shape
    across = np.arange(wide)
    middle = slice(int(_MIDDLE[0] * wide), int(_MIDDLE[1] * wide), 2)
    away = np.rint(_TILTS[:, None] * (across - wide / 2)).astype(np.intp)
    pad = int(np.abs(away).max()) + 2
    places = np.arange(max(1, int(_NEAR * high)), int(_FAR * high))
    down = np.zeros_like(plane)
    down[1:-1] = plane[2:] - plane[:-2]
    for sign in (1, -1):
        own = sign * down > _STEP
        near = own.copy()
        near[1:] |= own[:-1]
        near[:-1] |= own[1:]
        chance = float(near[: int(_FAR * high)].mean())
        near = np.pad(near, ((pad, pad), (0, 0)))
        shares = np.stack(
            [near[places[:, None] + one[middle] + pad, across[middle]].mean(axis=1) for one in away]
        )
        best = shares.max(axis=0)
        taken: list[int] = []
        amid = best + 0.01 * np.convolve(best, (1, 1, 1), "same")  # of places that show as much
        for at in np.argsort(-amid, kind="stable"):
            if best[at] - chance < _ENOUGH * (1 - chance) or len(taken) == _MOST:
                break
            if all(abs(at - other) > _APART for other in taken):
                taken.append(int(at))
                tilt = int(shares[:, at].argmax())
                found = near[places[at] + away[tilt] + pad, across]
                beyond = (found - chance) / (1 - chance)
                steps = np.concatenate([[0.0], np.cumsum(beyond)])
                yield _Line(float(places[at]), float(_TILTS[tilt]), sign, steps)


def _weakest(left: _Line, top: _Line, right: _Line, bottom: _Line, size: tuple[int, int]) -> float:
    """Of the four sides of a rectangle the smallest share of steps between its corners, less where
    they differ in sign. Lines of the farther sides are told as seen from there."""
    wide, high = size
    upright = ((left.place, left.tilt), (wide - 1 - right.place, -right.tilt))
    level = ((top.place, top.tilt), (high - 1 - bottom.place, -bottom.tilt))

    def corner(x: float, lean: float, y: float, tilt: float) -> tuple[float, float]:
        across = (x + lean * (y - tilt * wide / 2 - high / 2)) / (1 - lean * tilt)
        return across, y + tilt * (across - wide / 2)

    corners = [[corner(*one, *other) for one in upright] for other in level]
    (top_left, top_right), (bottom_left, bottom_right) = corners
    weakest = min(
        left.share(top_left[1], bottom_left[1]),
        right.share(top_right[1], bottom_right[1]),
        top.share(top_left[0], top_right[0]),
        bottom.share(bottom_left[0], bottom_right[0]),
    )
    return weakest if left.sign == top.sign == right.sign == bottom.sign else _MIXED * weakest
