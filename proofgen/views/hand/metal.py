"""The can above its sleeve as pixels: a turned body, its lid with opening and tab."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from proofgen.views.hand.camera import COS, SIN, Floats, Frame
from proofgen.views.hand.cans import Can, profile
from proofgen.views.hand.light import mirrored, smooth

TINT = (1.0, 0.996, 0.984)  # of aluminium in that room
PANEL = 4.2  # mm from the rim down to the lid's panel
_TAB = 1.2  # mm from the panel to the tab's upper side


def _egg(x: Floats, y: Floats, wide: float, long: float, middle: float) -> Floats:
    """Signed distance (mm, about) from an egg round (0, middle), blunter away from the rivet."""
    y = y - middle
    return (np.hypot(x / (wide * (1 + 0.012 * y)), y / long) - 1) * min(wide, long)


def _pressed(x: Floats, y: Floats) -> Floats:
    """Height of the lid's panel (mm): a shallow dish, the opening's score, a rivet."""
    dish = -0.45 * smooth(-0.7, 0.7, -_egg(x, y, 15.5, 18.6, 1.0))
    opening = _egg(x, y, 10.2, 7.8, 9.6)
    score = -0.22 * np.exp(-((opening / 0.30) ** 2))
    bead = 0.3 * np.exp(-(((opening + 2.2) / 0.8) ** 2))
    return np.asarray(dish + score + bead, dtype=np.float32)


def _tab(x: Floats, y: Floats) -> Floats:
    """Signed distance (mm) from the tab's outline, negative on it."""
    along = np.clip(y, -11.5, 1.0)
    wide = 7.3 - 0.035 * (y + 11.5) * (y + 11.5) * (y > -11.5) * 0.6
    body = np.hypot(x, y - along) - np.clip(wide, 4.6, 7.3)
    hole = np.hypot(x / 1.35, (y + 11.2)) - 3.3
    return np.asarray(np.maximum(body, -hole), dtype=np.float32)


def _turned(x: Floats, y: Floats, lid: float) -> tuple[Floats, Floats]:
    c, s = math.cos(lid), math.sin(lid)
    return c * x + s * y, c * y - s * x


def _lid_slope(x: Floats, y: Floats, lid: float) -> tuple[Floats, Floats]:
    """Slope of the pressed panel to the right and towards the camera."""
    e = 0.12
    dx = _pressed(*_turned(x + e, y, lid)) - _pressed(*_turned(x - e, y, lid))
    dy = _pressed(*_turned(x, y + e, lid)) - _pressed(*_turned(x, y - e, lid))
    return dx / (2 * e), dy / (2 * e)


def _lay_tab(light: Floats, seen: Floats, frame: Frame, can: Can, side: float) -> None:
    """The tab, in layers from below; `seen` holds the height (mm) of what each pixel shows."""
    panel, reach = can.height - PANEL, can.rim - 5.0
    xs, ys = frame.xs()[None, :], frame.ys()[:, None]
    rows = np.flatnonzero(
        (ys[:, 0] > -(panel + 3) * COS - 23 * SIN) & (ys[:, 0] < 23 * SIN - panel * COS)
    )
    if not len(rows):
        return
    part = slice(rows[0], rows[-1] + 1)
    light, seen, ys = light[part], seen[part], ys[part]
    for height in np.linspace(0.0, _TAB, 12):
        z = panel + height
        y = (ys + z * COS) / SIN
        inside = (np.hypot(xs, y) < reach) & (seen <= z + 0.05)
        away = _tab(*_turned(xs, y, can.lid))
        if height < 0.35:  # the tab's own shadow on the panel
            light *= 1 - 0.13 * (1 - smooth(-1.0, 2.2, away)) * inside
            continue
        on = (away < 0) & inside
        light[on] = 0.36 + 0.30 * height / _TAB
        seen[on] = z
    x, y = np.broadcast_arrays(xs, y)
    light[on] = _tab_top(x[on], y[on], can.lid, side)


def _tab_top(x: Floats, y: Floats, lid: float, side: float) -> Floats:
    """Light of the tab's upper side at places of the lid (mm)."""
    tx, ty = _turned(x, y, lid)
    away, e = _tab(tx, ty), 0.15
    bevel = np.clip(1 + away / 1.1, 0, 1) ** 1.5 * 0.9  # 0 inside, most at the edge
    rivet = np.hypot(tx, ty - 0.5)
    dome = np.exp(-(((rivet - 2.3) / 0.5) ** 2)) * 0.5 / 3
    nx = np.clip((_tab(*_turned(x + e, y, lid)) - away) / e, -1, 1) * bevel + dome * x
    ny = np.clip((_tab(*_turned(x, y + e, lid)) - away) / e, -1, 1) * bevel + dome * y
    norm = np.sqrt(nx**2 + ny**2 + 1)
    # Polished, it is lighter than the panel below, most where it bends up to its edge.
    rim = np.exp(-(((away + 0.75) / 0.5) ** 2))
    return np.clip(mirrored(side * nx / norm, ny / norm, 1 / norm) + 0.11 + 0.10 * rim, 0, 1)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What each pixel of the can shows: rows and columns where there is can, radius and height of
    that place, which half (1 towards the camera, -1 away), and its outline's normal."""

    row: NDArray[np.intp]
    col: NDArray[np.intp]
    r: Floats
    z: Floats
    half: Floats
    nr: Floats
    nz: Floats


def _seen(can: Can, foot: float, frame: Frame) -> _Seen:
    r, z, nr, nz = profile(can, foot, 0.45 / frame.per_mm)
    order = np.argsort(np.concatenate([z, z]), kind="stable")
    half = np.repeat(np.array([1, -1], dtype=np.float32), len(z))[order]
    r, z, nr, nz = (np.concatenate([v, v])[order] for v in (r, z, nr, nz))
    xs = frame.xs()
    deep = np.sqrt(np.maximum(r[:, None] ** 2 - xs[None, :] ** 2, 0)) * half[:, None]
    row = np.floor((deep * SIN - (z * COS)[:, None] - frame.top) * frame.per_mm).astype(np.int32)
    good = (r[:, None] >= np.abs(xs)[None, :]) & (row >= 0) & (row < frame.height_px)
    place = row * frame.width_px + np.arange(frame.width_px, dtype=np.int32)[None, :]
    sample = np.broadcast_to(np.arange(len(r), dtype=np.int32)[:, None], place.shape)
    # Of two samples in a pixel the later lies higher, and so nearer to a camera above.
    flat = np.full(frame.height_px * frame.width_px, -1, dtype=np.int32)
    flat[place[good]] = sample[good]
    which = flat.reshape(frame.height_px, frame.width_px)
    gap = (which[1:-1] < 0) & (which[:-2] >= 0) & (which[2:] >= 0)
    which[1:-1][gap] = which[2:][gap]  # a pixel between two samples takes its neighbour's
    at = np.nonzero(which >= 0)
    k = which[at]
    return _Seen(row=at[0], col=at[1], r=r[k], z=z[k], half=half[k], nr=nr[k], nz=nz[k])


def _tone(can: Can, foot: float, frame: Frame, seen: _Seen, side: float) -> Floats:
    """Light of each place of the can."""
    x, r = frame.xs()[seen.col], np.maximum(seen.r, 1e-3)
    y = np.sqrt(np.maximum(r**2 - x**2, 0)) * seen.half
    nx, ny, up = seen.nr * x / r, seen.nr * y / r, seen.nz.copy()
    below = can.height - seen.z
    panel = (np.abs(below - PANEL) < 0.06) & (seen.r < can.rim - 5.0)
    slope_x, slope_y = _lid_slope(x[panel], y[panel], can.lid)
    nx[panel], ny[panel], up[panel] = -slope_x, -slope_y, 1.0
    norm = np.sqrt(nx**2 + ny**2 + up**2) + 1e-6
    tone = mirrored(side * nx / norm, ny / norm, up / norm)
    inner = (seen.r < can.rim - 1.0) & (below > 0.3)
    # Inside the rim less of the room is seen, least in the narrow groove.
    inside = tone * (1 - 0.30 * np.clip(below / 6.5, 0, 1) ** 1.5) + 0.03
    # Under the seam and above the cloth it is darker.
    under = np.where(below > 2.8, 0.62 + 0.38 * smooth(0, 2.2, below - 2.8), 1)
    outside = tone * under * (0.55 + 0.45 * smooth(-0.4, 3.2, seen.z - foot))
    tone = np.where(inner, inside, outside)
    return np.where(panel, tone * 0.97 + 0.07 * np.clip(-y / 20, -1, 1) + 0.06, tone)


@lru_cache(maxsize=4)
def metal(can: Can, foot: float, frame: Frame, fine: int, side: float) -> tuple[Floats, Floats]:
    """Light (0..1 times coverage) and coverage of the can from `foot` (mm, the sleeve's upper edge)
    upward, each pixel the mean of `fine` x `fine`; `side` as a Mood's."""
    big = frame.finer(fine)
    seen = _seen(can, foot, big)
    light = np.zeros((big.height_px, big.width_px), dtype=np.float32)
    height = np.full(light.shape, -1e3, dtype=np.float32)
    light[seen.row, seen.col] = np.maximum(_tone(can, foot, big, seen, side), 1e-3)
    height[seen.row, seen.col] = seen.z
    _lay_tab(light, height, big, can, side)
    mean = (frame.height_px, fine, frame.width_px, fine)
    cover = (light > 0).astype(np.float32).reshape(mean).mean((1, 3))
    return np.clip(light, 0, 1).reshape(mean).mean((1, 3)), cover
