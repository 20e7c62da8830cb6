"""One soft light from the left: what metal mirrors, how cloth and ground take it."""

from __future__ import annotations

import numpy as np

from proofgen.views.hand.camera import COS, SIN, Floats


def smooth(low: float, high: float, value: Floats) -> Floats:
    """0 below `low`, 1 above `high`, without a kink between."""
    t = np.clip((value - low) / (high - low), 0, 1)
    return np.asarray(t * t * (3 - 2 * t), dtype=np.float32)


def _lobe(angle: Floats, middle: float, half: float, soft: float) -> Floats:
    return 1 - smooth(half - soft, half + soft, np.abs(angle - middle))


def mirrored(nx: Floats, ny: Floats, nz: Floats) -> Floats:
    """How light (0..1) satin metal looks with that normal: a room of our own with a large soft
    window on the left, a narrow one on the right, a pale ceiling and a paper ground."""
    facing = ny * COS + nz * SIN
    x, y, z = 2 * facing * nx, 2 * facing * ny - COS, 2 * facing * nz - SIN
    turn = np.degrees(np.arctan2(x, y)).astype(np.float32)
    level = 1 - smooth(0.45, 0.95, np.abs(z))  # windows stand upright: none above or below
    wall = 0.55 + 0.16 * smooth(95, 170, np.abs(turn)) - 0.13 * _lobe(turn, 8, 24, 22)
    room = wall + level * (
        0.46 * _lobe(turn, -62, 25, 17)
        + 0.30 * _lobe(turn, 92, 12, 11)
        - 0.24 * _lobe(turn, 140, 16, 16)
        - 0.24 * _lobe(turn, -128, 20, 18)
    )
    ceiling = smooth(0.35, 0.9, z) * (0.36 - 0.16 * smooth(-0.2, 0.9, x))
    ground = smooth(0.1, 0.8, -z) * 0.10
    return np.clip(room + ceiling + ground, 0, 1.06)
