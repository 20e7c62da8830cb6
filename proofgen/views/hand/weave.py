"""The relief of cloth by its finish, as light: 1 on the mean, threads and grain about it."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.model.blank import Finish
from proofgen.views.hand.camera import Floats
from proofgen.views.hand.light import smooth

THREAD = 0.56  # mm from thread to thread of linen-look: about 18 a centimetre, a coarse linen's
_SEED = 20261129
_CELLS, _STEPS = 64, 8


@lru_cache(maxsize=16)
def _table(number: int) -> NDArray[np.float32]:
    """Smooth noise that closes at its edges, _STEPS places to a cell, of about -1 to 1."""
    wide = np.random.default_rng(_SEED + number).uniform(-1, 1, (_CELLS, _CELLS))
    table = np.pad(wide.astype(np.float32), 4, mode="wrap")
    sides = (table.shape[0] * _STEPS,) * 2
    fine = Image.fromarray(table).resize(sides, Image.Resampling.BICUBIC)
    return np.ascontiguousarray(
        np.asarray(fine)[4 * _STEPS : -4 * _STEPS, 4 * _STEPS : -4 * _STEPS]
    )


def _noise(x: Floats, y: Floats, cell: float, number: int) -> Floats:
    """Smooth noise of mean 0 and about -1..1 in cells of `cell` mm."""
    table = _table(number)
    across, down = (np.floor(v * (_STEPS / cell)).astype(np.int32) % len(table) for v in (x, y))
    return np.take(table.reshape(-1), down * len(table) + across)


def _seen(cell: float, per_mm: float, squeeze: Floats) -> Floats:
    """How much of a wave of `cell` mm is drawn: none where it has less than 2.2 pixels, since it
    would beat against them, all from 4."""
    return smooth(2.2, 4.0, cell * per_mm * squeeze)


def _linen(u: Floats, v: Floats, per_mm: float, squeeze: Floats) -> Floats:
    # Threads are of uneven width: their places are moved a little, slowly along the thread.
    warp = u / THREAD + 0.22 * _noise(u, v / 7, THREAD * 2.3, 1)
    weft = v / THREAD + 0.22 * _noise(u / 7, v, THREAD * 2.3, 2)
    over = np.cos(math.pi * warp) * np.cos(math.pi * weft)  # warp above or weft above
    round_warp, round_weft = (np.cos(2 * math.pi * t) for t in (warp, weft))
    top = smooth(-0.35, 0.35, over)
    threads = top * round_warp + (1 - top) * round_weft
    # Some stand out and some sink: a thick place runs a few centimetres along its thread.
    thick_warp = _noise(u, v / 22, THREAD, 3)
    thick_weft = _noise(u / 15, v, THREAD, 4)
    slub = thick_warp + thick_weft
    stands = 1 + 0.8 * (top * thick_warp + (1 - top) * thick_weft) + 0.5 * _noise(u, v, 3.1, 8)
    fine = _seen(THREAD, per_mm, squeeze)
    coarse = _seen(THREAD * 2, per_mm, squeeze)
    return np.asarray(
        0.040 * fine * threads * stands + 0.011 * coarse * over * stands + 0.024 * coarse * slub,
        dtype=np.float32,
    )


def grain(x: Floats, y: Floats, cell: float, per_mm: float) -> Floats:
    """Faint irregular light of cells of `cell` mm, about 0, as far as pixels can hold it."""
    return np.asarray(0.05 * _noise(x, y, cell, 7) * _seen(cell, per_mm, np.ones(1, np.float32)))


def _foam(u: Floats, v: Floats, per_mm: float, squeeze: Floats) -> Floats:
    grain = _noise(u, v, 0.65, 5) * _seen(0.65, per_mm, squeeze)
    swell = _noise(u, v, 2.6, 6) * _seen(2.6, per_mm, squeeze)
    return np.asarray(0.019 * grain + 0.006 * swell, dtype=np.float32)


def _smooth(u: Floats, v: Floats, per_mm: float, squeeze: Floats) -> Floats:
    fine = np.sin(2 * math.pi * (u + v * 0.5) / 0.5) * _seen(0.5, per_mm, squeeze)
    return np.asarray(0.008 * fine, dtype=np.float32)


_BY_FINISH = {"linen-look": _linen, "foam": _foam, "smooth": _smooth}


def weave(finish: Finish, u: Floats, v: Floats, per_mm: float, squeeze: Floats) -> Floats:
    """Light about 0 at places of the cloth (mm across and down, arrays of one shape); `squeeze`
    (0..1, broadcast) says how narrow the cloth looks where it turns away."""
    if not finish:  # nobody said: plain, so that no cloth is promised
        return np.zeros(1, dtype=np.float32)
    return _BY_FINISH[finish](u, v, per_mm, squeeze)
