"""How wide the sharpest edges of a picture are: one in focus is enough to call a photo sharp.

An edge blurred by sigma and then by a known a and b (all Gaussian) has slopes whose ratio gives
sigma back: r = slope(a) / slope(b), sigma^2 = (b^2 - r^2 a^2) / (r^2 - 1). Only the tops of clear
edges are asked, so noise and even areas do not count, and blurred surroundings do no harm. (The
ratio of slopes after blurring again: Zhuo and Sim 2011, Defocus map estimation from a single image,
Pattern Recognition 44(9), from memory.)

That holds for a step from dark to light. Both flanks of a line, blurred again, take from each other
as well, so that r grows to its square and a line of sigma 2 reads as 0.9: tops with a slope the
other way close by are therefore not asked, but for `lines`, which tell whether fine lines are
sharp where steps are not.

What is asked of a square is whether it holds edges that are sharp beyond doubt, never which share
of all is sharp: blur takes such edges away and adds none, so that a stronger one is told no less.
Grain makes tops steeper by chance; each is therefore taken for less steep by twice its noise.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.lib.stride_tricks import as_strided
from numpy.typing import NDArray

WAYS = ((1, 0), (0, 1), (1, 1), (1, -1))  # rows and columns to the next px along a slope
_OTHER = (1, 0, 3, 2)  # the way that runs across it
_FIRST, _SECOND = 1.0, 2.0  # px of the two known blurs
_STEP = 1 / 3  # px squared: what a difference over two px blurs by itself
_SLOPE = 0.02  # of full scale a px, after the first blur: less is no clear edge
_STEEP = 0.1  # the same: this is always one, whatever noise there seems to be
_CLEAR = 8.0  # times the slope of the noise: an edge less steep is none
_DOUBT = 2.0  # the same: so much steeper a top may be by chance
_BESIDE = 5  # px each way, within which
_BACK = 0.3  # of a top's slope, the other way, makes it the flank of a line
SIDE = 48  # px of a square that is judged by itself
# Share of a square's clear edges that are sharper than the width it stands for: of all edges, and
# of those of one way, of which a smeared square keeps single sharp ones.
_SHARPER, _SHARPER_OF_A_WAY = 0.25, 0.5
_FEW = 8  # one square more is to be sharp for each so many along the picture's mean side
_SHARPEST, _WIDEST = 0.1, 12.0  # px; sharper and wider than this is called this
_SOONER = (_SHARPEST + 1e-6, 1.0, _WIDEST + 1e-6)  # px: where the few sharpest squares are sought

_EDGE = 4  # px at the picture's own edge that are not asked
_BAND = 4 * SIDE  # rows worked at a time: few enough to stay in the processor's cache
_MARGIN = 16  # rows beyond them that blurs and slopes reach into
_AT_ONCE = 16  # px of a row or column that are blurred at once

_PATCH = 12  # every second px of 24: a patch whose slopes are told apart from their mean
_EVENEST = 0.05  # share of patches, the most even ones, that show what noise there is
_CLIPPED = 0.06  # of full scale: nearer to black or white than this, noise is cut off
_TOLD = 0.25  # share of patches that must tell of noise; fewer are the strokes of a drawing
_WHITE = 1.1  # slope of white noise over what is left of it when its broad waves are taken out

Slopes = NDArray[np.float32]
_Places = NDArray[np.intp]
_Tops = tuple[Slopes, Slopes, _Places, _Places, NDArray[np.bool_], NDArray[np.int8]]


@dataclass(frozen=True, slots=True)
class _Band:
    """Rows of a plane, the first of them `above` there, after both blurs, and which of them are
    its `own`: others are asked of its neighbours."""

    first: Slopes
    second: Slopes
    above: int
    own: slice


@dataclass(frozen=True)
class Edges:
    """The tops of a plane's edges: `slope` after the first blur and `after` the second, in full
    scale a px, `way` of WAYS, and whether each is a step or the flank of a line. `noise` is the
    slope that grain has by itself."""

    shape: tuple[int, int]
    noise: float
    slope: NDArray[np.float32]
    after: NDArray[np.float32]
    square: _Places
    step: NDArray[np.bool_]
    way: NDArray[np.int8]

    def sharpest(
        self, enough: int, way: int | None = None, *, lines: bool = False, band: float = 0.0
    ) -> float | None:
        """The width (px) that edges have in the few sharpest squares: in each, that of the sharpest
        quarter (half of those of one `way`), of `enough` edges at least; None where too few squares
        have as many. Of squares farther than `band` (of the sides) from the picture's edge."""
        asked = self._clear if lines else self._clear & self.step
        if way is not None:
            asked = asked & (self.way == way)
        if band:
            asked = asked & self._inside(band)
        square, sigma = self.square[asked], self._sigma[asked]
        share = _SHARPER if way is None else _SHARPER_OF_A_WAY
        high, wide = (size // SIDE for size in self.shape)
        few = math.isqrt(high * wide) // _FEW
        counts = np.bincount(square)
        needed = np.maximum(enough, (counts * share).astype(np.intp) + 1)
        # Sorting takes the most time: only squares are sorted that are among the sharpest.
        for most in _SOONER:
            sharp = sigma <= most
            among = np.bincount(square[sharp], minlength=len(counts)) >= needed
            among &= counts >= enough
            if few < among.sum():
                sharp &= among[square]
                widths = _widths(square[sharp], sigma[sharp], needed[among] - 1)
                return round(float(widths[few]), 3)
        return None

    def sharp_steps(self, most: float) -> _Places:
        """In each square, by its number, how many clear steps are sharper than `most` px."""
        return np.bincount(self.square[self._clear & self.step & (self._sigma < most)])

    @cached_property
    def _clear(self) -> NDArray[np.bool_]:
        return self.slope > min(max(_SLOPE, _CLEAR * self.noise), _STEEP)

    @cached_property
    def _sigma(self) -> NDArray[np.float32]:
        """Widths (px) by the slopes after the first blur and after the second."""
        top = self.slope - np.float32(_DOUBT * self.noise)
        ratio = (top / np.maximum(self.after, np.float32(1e-9))) ** 2
        square = (_SECOND**2 - ratio * _FIRST**2) / np.maximum(ratio - 1, np.float32(1e-3))
        square -= (_STEP * np.array([down * down + along * along for down, along in WAYS]))[
            self.way
        ]
        return np.sqrt(np.clip(square, _SHARPEST**2, _WIDEST**2)).astype(np.float32)

    def _inside(self, band: float) -> NDArray[np.bool_]:
        keep = np.ones(len(self.square), dtype=bool)
        places = np.divmod(self.square, self.shape[1] // SIDE + 1)
        for place, size in zip(places, self.shape, strict=True):
            middle = (place + 0.5) * SIDE / size
            keep &= (middle > band) & (middle < 1 - band)
        return keep


def _widths(square: _Places, sigma: Slopes, at: _Places) -> Slopes:
    """In each square the width that so many (`at`) are sharper than; the sharpest square first."""
    # One number of both, since a float above 0 has its order as a whole number: a third of the
    # time that sorting by two takes.
    ordered = np.sort(square << 32 | sigma.view(np.int32))
    starts = np.flatnonzero(np.diff(ordered >> 32, prepend=-1))
    widths = (ordered[starts + at] & 0xFFFFFFFF).astype(np.int32).view(np.float32)
    return np.asarray(np.sort(widths), dtype=np.float32)


def edges_of(plane: Slopes, ways: Sequence[int]) -> Edges:
    """Of a grey plane (0 to 1) of at least 32 px each way, along some of WAYS: a way and the one
    across it."""
    found: list[_Tops] = []
    patches = []
    for band in _bands(plane):
        patches.append(_noise(band))
        slopes = {number: _slopes(band.first, WAYS[number]) for number in ways}
        steep = {number: np.abs(slope) for number, slope in slopes.items()}
        found += [_tops(band, slopes[way], steep[way], steep[_OTHER[way]], way) for way in ways]
    slope, after, rows, columns, steps, way = (
        np.concatenate(one) for one in zip(*found, strict=True)
    )
    square = rows // SIDE * (plane.shape[1] // SIDE + 1) + columns // SIDE
    spread = np.concatenate(patches)
    told = spread[~np.isnan(spread)]
    enough = len(told) and len(told) >= _TOLD * len(spread)
    noise = _WHITE * float(np.quantile(told, _EVENEST)) if enough else 0.0
    return Edges(plane.shape, noise, slope, after, square, steps, way)


def _bands(plane: Slopes) -> Iterator[_Band]:
    high = plane.shape[0]
    for top in range(0, high, _BAND):
        above = max(0, top - _MARGIN)
        first = blurred(plane[above : top + _BAND + _MARGIN], _FIRST)
        second = blurred(first, math.sqrt(_SECOND**2 - _FIRST**2))
        yield _Band(first, second, above, slice(top - above, top - above + _BAND))


def halved(plane: Slopes) -> Slopes:
    """The plane at half size, by the mean of four px."""
    high, wide = plane.shape[0] // 2 * 2, plane.shape[1] // 2 * 2
    level = plane[:high:2, :wide] + plane[1:high:2, :wide]
    return (level[:, ::2] + level[:, 1::2]) * np.float32(0.25)


def blurred(plane: Slopes, sigma: float) -> Slopes:
    """Gaussian blur (px) to four sigma, edges mirrored.

    So many rows, then columns, at once are one product of matrices: a quarter of the time that
    adding neighbours one by one takes.
    """
    reach, weights = _weights(sigma)
    high, wide = plane.shape
    down, across = -(-high // _AT_ONCE), -(-wide // _AT_ONCE)
    tall = np.pad(plane, ((reach, reach + down * _AT_ONCE - high), (0, 0)), mode="symmetric")
    step = tall.strides[0]
    shape, steps = (down, _AT_ONCE + 2 * reach, wide), (_AT_ONCE * step, *tall.strides)
    half = (weights @ as_strided(tall, shape, steps)).reshape(-1, wide)[:high]
    broad = np.pad(half, ((0, 0), (reach, reach + across * _AT_ONCE - wide)), mode="symmetric")
    done = np.empty((high, across * _AT_ONCE), np.float32)
    some, each = (
        as_strided(one, (across, high, size), (_AT_ONCE * one.itemsize, *one.strides))
        for one, size in ((broad, _AT_ONCE + 2 * reach), (done, _AT_ONCE))
    )
    np.matmul(some, np.ascontiguousarray(weights.T), out=each)
    return np.ascontiguousarray(done[:, :wide])


@functools.cache
def _weights(sigma: float) -> tuple[int, Slopes]:
    """How many px a blur reaches, and (_AT_ONCE, _AT_ONCE + 2 reach): the weight of each px in
    each blurred one."""
    reach = math.ceil(4 * sigma)
    kernel = np.exp(-(np.arange(-reach, reach + 1) ** 2) / (2 * sigma**2))
    weights = np.zeros((_AT_ONCE, _AT_ONCE + 2 * reach), np.float32)
    for row in range(_AT_ONCE):
        weights[row, row : row + len(kernel)] = kernel / kernel.sum()
    return reach, weights


def _shifted(plane: Slopes, rows: int, columns: int) -> Slopes:
    """The plane without its outermost px, moved by so many."""
    high, wide = plane.shape
    return plane[_EDGE + rows : high - _EDGE + rows, _EDGE + columns : wide - _EDGE + columns]


def _slopes(plane: Slopes, way: tuple[int, int]) -> Slopes:
    """Central differences a px along a way, without the outermost px; the last ones stand _BESIDE
    times more at each side."""
    down, along = way
    high, wide = (size - 2 * _EDGE for size in plane.shape)
    slopes = np.empty((high + 2 * _BESIDE, wide + 2 * _BESIDE), np.float32)
    own = slopes[_BESIDE:-_BESIDE, _BESIDE:-_BESIDE]
    np.subtract(_shifted(plane, down, along), _shifted(plane, -down, -along), out=own)
    own *= np.float32(0.5 / math.hypot(down, along))
    slopes[:_BESIDE, _BESIDE:-_BESIDE], slopes[-_BESIDE:, _BESIDE:-_BESIDE] = own[0], own[-1]
    slopes[:, :_BESIDE], slopes[:, -_BESIDE:] = slopes[:, [_BESIDE]], slopes[:, [-_BESIDE - 1]]
    return slopes


def _noise(band: _Band) -> NDArray[np.float32]:
    """How much slopes differ in each patch, without the broad ones of a blurred picture, which the
    second blur leaves as they are; not a number where it is black or white."""
    first, second = band.first, band.second
    high, wide = ((size - 2 * _EDGE) // 2 // _PATCH * _PATCH for size in first.shape)

    def few(plane: Slopes, rows: int, columns: int) -> Slopes:
        return _shifted(plane, rows, columns)[: 2 * high : 2, : 2 * wide : 2]

    def means(plane: Slopes) -> Slopes:
        """Of each patch; its rows are added first, which is quick."""
        rows = plane.reshape(-1, _PATCH, wide).sum(axis=1)
        return rows.reshape(-1, wide // _PATCH, _PATCH).sum(axis=2) / np.float32(_PATCH**2)

    fine = first - second
    spread = np.zeros((high // _PATCH, wide // _PATCH), np.float32)
    for down, along in WAYS[:2]:
        slope = few(fine, down, along) - few(fine, -down, -along)
        slope *= np.float32(0.5)
        spread -= means(slope) ** 2
        spread += means(np.square(slope, out=slope))
    light = means(few(first, 0, 0))
    clipped = (light <= _CLIPPED) | (light >= 1 - _CLIPPED)
    return np.where(clipped, np.nan, np.sqrt(np.maximum(spread / 2, 0))).astype(np.float32).ravel()


def _tops(band: _Band, signed: Slopes, steep: Slopes, across: Slopes, number: int) -> _Tops:
    """Slope, slope after the second blur, row and column of each clear edge of a band whose slope
    runs a way, whether it is a step or the flank of a line, and the way. `steep` are the slopes
    without their signs, `across` those of the other way."""
    down, along = WAYS[number]
    top = max(band.own.start - _EDGE, 0) + _BESIDE
    bottom = min(band.own.stop - _EDGE, len(signed) - 2 * _BESIDE) + _BESIDE
    wide = signed.shape[1]

    def near(plane: Slopes, away: int = 0) -> Slopes:
        """The px that are asked, moved by so many along the way."""
        rows, left = slice(top + away * down, bottom + away * down), _BESIDE + away * along
        return plane[rows, left : left + wide - 2 * _BESIDE]

    # All px are compared, which is quick; only those that pass are looked for by their places.
    own = near(steep)
    clear = own > _SLOPE
    clear &= own > 1.5 * near(across)
    clear &= own >= near(steep, -1)
    clear &= own > near(steep, 1)
    rows, columns = np.divmod(np.flatnonzero(clear), wide - 2 * _BESIDE)
    rows, columns = rows + top, columns + _BESIDE
    flat, at, ahead = signed.ravel(), rows * wide + columns, down * wide + along
    slope = flat[at]
    back = np.where(slope > 0, np.float32(-1), np.float32(1))
    slope = np.abs(slope)
    most, steps = _BACK * slope, np.ones(len(slope), dtype=bool)
    for away in range(1, round(_BESIDE / math.hypot(down, along)) + 1):
        steps &= back * flat[at - away * ahead] <= most
        steps &= back * flat[at + away * ahead] <= most
    rows, columns = rows + (_EDGE - _BESIDE), columns + (_EDGE - _BESIDE)
    smooth, wide = band.second.ravel(), band.second.shape[1]
    at, ahead = rows * wide + columns, down * wide + along
    after = np.abs(smooth[at + ahead] - smooth[at - ahead])
    after *= np.float32(0.5 / math.hypot(down, along))
    way = np.full(len(slope), number, dtype=np.int8)
    return slope, after, rows + band.above, columns, steps, way
