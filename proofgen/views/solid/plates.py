"""A plate with a rounded upper edge over an outline: a flat piece, the tab of a can."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from proofgen.views.hand.camera import Floats
from proofgen.views.hand.lying import Piece
from proofgen.views.solid.turned import MM, Material, Part, grid_faces

_ARC = 5  # points of the upper edge's rounding
_CORNER = 10  # steps round a corner
_AROUND = 128  # steps round a round piece
_SHARP = 0.4  # mm: radius of a corner that is none


def _normals(line: Floats) -> Floats:
    """Outward normals of a closed outline that runs to the left about its inside."""
    step = np.roll(line, -1, axis=0) - line
    step /= np.hypot(*step.T)[:, None]
    mean = step + np.roll(step, 1, axis=0)
    mean /= np.hypot(*mean.T)[:, None]
    return np.stack([mean[:, 1], -mean[:, 0]], axis=1)


def _hull(
    name: str, line: Floats, out: Floats, rows: list[tuple[float, float, float, float]]
) -> Part:
    """Walls over an outline: a row is how far in, how high, and how far its normal looks outward
    and upward."""
    closed, facing = (np.vstack([v, v[:1]]) for v in (line, out))
    flat = np.stack([closed - facing * row[0] for row in rows], axis=1)
    up = np.broadcast_to(np.array([row[1] for row in rows]), flat.shape[:2])
    side = np.stack([facing * row[2] for row in rows], axis=1)
    high = np.broadcast_to(np.array([row[3] for row in rows]), flat.shape[:2])
    return Part(
        name=name,
        material="cloth",
        points=_stood(flat, up).reshape(-1, 3).astype(np.float32),
        normals=_stood(side, high).reshape(-1, 3).astype(np.float32),
        faces=grid_faces(len(closed), len(rows)),
    )


def _stood(flat: Floats, up: Floats) -> Floats:
    """Outline (to the right, away) and height in the model's axes."""
    return np.stack([flat[..., 0], up, -flat[..., 1]], axis=-1)


def _cap(line: Floats, up: float, *, above: bool) -> Part:
    """A face over an outline that its middle sees all of."""
    points = np.vstack([line.mean(axis=0), line])
    count = len(line)
    ring = np.arange(count)
    faces = np.stack([0 * ring, ring + 1, (ring + 1) % count + 1], axis=1)
    return Part(
        name="top" if above else "underside",
        material="cloth",
        points=_stood(points, np.full(len(points), up)).astype(np.float32),
        normals=np.tile([0.0, 1.0 if above else -1.0, 0.0], (len(points), 1)).astype(np.float32),
        faces=(faces if above else faces[:, ::-1]).astype(np.uint32),
    )


def plate(
    name: str, material: Material, line: Floats, low: float, high: float, soft: float
) -> list[Part]:
    """Underside, walls and top of a plate over an outline (n x 2, to the right and away,
    counter-clockwise from above) between two heights, its upper edge rounded by `soft`; metres."""
    out = _normals(line)
    turn = np.linspace(0, math.pi / 2, _ARC)
    edge = [
        (soft * (1 - math.cos(t)), high - soft * (1 - math.sin(t)), math.cos(t), math.sin(t))
        for t in turn
    ]
    made = [
        _cap(line, low, above=False),
        _hull("walls", line, out, [(0.0, low, 1.0, 0.0), edge[0]]),
        _hull("edge", line, out, edge),
        _cap(line - out * soft, high, above=True),
    ]
    return [replace(part, name=f"{name}_{part.name}", material=material) for part in made]


def _corners(half_w: float, half_h: float, radius: float) -> Floats:
    """A rectangle with rounded corners, counter-clockwise from its right side; mm."""
    points = []
    for number, (x, y) in enumerate([(1, 1), (-1, 1), (-1, -1), (1, -1)]):
        first = number * math.pi / 2
        for t in np.linspace(first, first + math.pi / 2, _CORNER + 1):
            middle = x * (half_w - radius), y * (half_h - radius)
            points.append((middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)))
    return np.array(points)


def piece_parts(piece: Piece) -> list[Part]:
    """All surfaces of a flat piece that lies on the ground, its picture upward."""
    half_w, half_h = piece.width / 2, piece.height / 2
    soft = min(piece.soft, 0.8 * piece.thickness)
    if piece.shape == "round":
        t = np.linspace(0, 2 * math.pi, _AROUND, endpoint=False)
        line = np.stack([half_w * np.cos(t), half_h * np.sin(t)], axis=1)
    else:
        # The edge is rounded no further in than the corners are: a sharp one hardly at all.
        corner = max(piece.corner if piece.shape == "rounded" else 0.0, _SHARP)
        soft, line = min(soft, 0.9 * corner), _corners(half_w, half_h, corner)
    parts = plate("piece", "cloth", line * MM, 0.0, piece.thickness * MM, soft * MM)
    printed = ("piece_edge", "piece_top")
    return [_printed(part, piece) if part.name in printed else part for part in parts]


def _printed(part: Part, piece: Piece) -> Part:
    """With the place on the flat picture that each point lies over."""
    x, _, z = part.points.T / MM
    looks = np.stack([0.5 + x / piece.width, 0.5 - z / piece.height], axis=1)
    return replace(part, material="print", looks=np.clip(looks, 0, 1).astype(np.float32))
