"""What a blank alone decides about a picture, kept: shares of light, and where a pixel looks."""

from __future__ import annotations

import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from proofgen.store import Store
from proofgen.views.hand import lying
from proofgen.views.hand.camera import COS, Frame
from proofgen.views.hand.cloth import draw
from proofgen.views.hand.layers import Layers
from proofgen.views.hand.lying import Piece, face_at
from proofgen.views.hand.sleeve import Columns, Sleeve, columns

_VERSION = "pictures in the hand/5"  # anew with every change of how one looks
Bytes = NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Map:
    """A picture without its print. `shares` (4 x height x width, bytes of 255) are those of ink,
    bare cloth, ground and of the metal's tint; `rows` and `cols` (first, behind the last) bound
    where ink is."""

    frame: Frame
    shares: Bytes
    rows: tuple[int, int]
    cols: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RoundMap(Map):
    """Of a can sleeve: `edges` are the shares of the way round, from the view's middle, between
    which each column looks; a strip rolled to these columns has `tall` rows, and `look` is for
    each pixel with ink its place in it, column after column; since the nearest is taken, a row of
    the picture has `finer` of these."""

    look: NDArray[np.int32]
    edges: NDArray[np.float64]
    tall: int
    finer: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LyingMap(Map):
    """Of a flat piece: `face` is the size (px) its face is brought to, `affine` the place on it
    that a pixel's corner shows: x = a X + b Y + c, y = d X + e Y + f."""

    face: tuple[int, int]
    affine: tuple[float, float, float, float, float, float]


def packed(layers: Layers) -> Bytes:
    """Shares as bytes, of no pixel more than 255 together. What lies between two of them is spread
    over the pixels, so that a pale sky does not fall into bands."""
    planes = np.stack([layers.ink, layers.bare, layers.ground, layers.own])
    spread = np.random.default_rng(7).random(planes.shape[1:], dtype=np.float32)
    # All and nothing stay so.
    shares = np.clip(np.floor(planes * 255 + spread), 0, 255).astype(np.uint8)
    over = np.maximum(shares.sum(axis=0, dtype=np.int16) - 255, 0).astype(np.uint8)
    for plane in shares:
        less = np.minimum(plane, over)
        plane -= less
        over -= less
    return shares


def _span(any_ink: NDArray[np.bool_]) -> tuple[int, int]:
    there = np.flatnonzero(any_ink)
    return int(there[0]), int(there[-1]) + 1


def _bounds(shares: Bytes) -> tuple[tuple[int, int], tuple[int, int]]:
    ink = shares[0] > 0
    return _span(ink.any(axis=1)), _span(ink.any(axis=0))


def looking(sleeve: Sleeve, frame: Frame, cols: Columns, shares: Bytes) -> RoundMap:
    """The map of a view, from the shares kept and the sleeve's numbers."""
    (top, bottom), (left, right) = _bounds(shares)
    finer = 3 if frame.per_mm < 9 else 2
    tall = max(2, round(sleeve.height * frame.per_mm * COS * finer))
    v = (frame.ys()[top:bottom, None] - cols.down[None, left:right]) / COS
    row = np.clip(np.floor(v * (tall / sleeve.height)), 0, tall - 1).astype(np.int32)
    at = (frame.left + np.arange(left, right + 1) / frame.per_mm) / sleeve.radius
    return RoundMap(
        frame=frame,
        shares=shares,
        rows=(top, bottom),
        cols=(left, right),
        look=row + np.arange(right - left, dtype=np.int32)[None, :] * tall,
        edges=np.arcsin(np.clip(at, -1, 1)) / (2 * np.pi),
        tall=tall,
        finer=finer,
    )


def lying_there(piece: Piece, frame: Frame, shares: Bytes) -> LyingMap:
    """The map of a flat piece, from the shares kept and its numbers."""
    (top, bottom), (left, right) = _bounds(shares)
    a, b, c, d, e, f = face_at(piece, frame, piece.thickness)
    wide, high = (max(2, round(v * frame.per_mm)) for v in (piece.width, piece.height))
    to_x, to_y = wide / piece.width, high / piece.height
    c, f = c + a * left + b * top, f + d * left + e * top
    return LyingMap(
        frame=frame,
        shares=shares,
        rows=(top, bottom),
        cols=(left, right),
        face=(wide, high),
        affine=(a * to_x, b * to_x, c * to_x, d * to_y, e * to_y, f * to_y),
    )


@dataclass(frozen=True, slots=True)
class _Keeping:
    """A store that makes no two maps different."""

    store: Store

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Keeping)

    def __hash__(self) -> int:
        return 0


def _kept(
    thing: Sleeve | Piece, frame: Frame, turn: float, keeping: _Keeping, make: Callable[[], Layers]
) -> Bytes:
    shape = (4, frame.height_px, frame.width_px)
    return keeping.store.remember(
        _VERSION,
        repr((thing, frame, turn)),
        lambda: packed(make()),
        lambda kept: np.frombuffer(zlib.decompress(kept), dtype=np.uint8).reshape(shape),
        lambda made: zlib.compress(made.tobytes(), 1),
    )


@lru_cache(maxsize=12)
def _round(sleeve: Sleeve, frame: Frame, turn: float, keeping: _Keeping) -> RoundMap:
    shares = _kept(sleeve, frame, turn, keeping, lambda: draw(sleeve, frame, turn))
    return looking(sleeve, frame, columns(sleeve, frame, turn), shares)


@lru_cache(maxsize=4)
def _lying(piece: Piece, frame: Frame, keeping: _Keeping) -> LyingMap:
    shares = _kept(piece, frame, 0.0, keeping, lambda: lying.draw(piece, frame))
    return lying_there(piece, frame, shares)


def map_of(sleeve: Sleeve, frame: Frame, turn: float, store: Store) -> RoundMap:
    """The map of a view turned by `turn` (radians) from the front, made now or before."""
    return _round(sleeve, frame, round(turn, 6), _Keeping(store))


def lying_map(piece: Piece, frame: Frame, store: Store) -> LyingMap:
    """The map of a flat piece, made now or before."""
    return _lying(piece, frame, _Keeping(store))
