"""Surfaces as triangles: a profile turned about the upright axis, or a hull laid round an outline.

Points are metres in the axes of both formats: x to the right, y up, z out of the front towards the
one who looks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from proofgen.views.hand.camera import Floats

Material = Literal["print", "cloth", "metal"]
Profile = Sequence[tuple[float, float]]
MM = 0.001  # of a metre
_CORNER = 0.5  # a profile that turns by more (cosine of the angle) has an edge there


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """One surface: points and normals (n x 3), triangles (m x 3, seen from their left turn), and
    where each point looks on the picture (n x 2, from its bottom left; None without one)."""

    name: str
    material: Material
    points: Floats
    normals: Floats
    faces: NDArray[np.uint32]
    looks: Floats | None = None


def grid_faces(across: int, along: int) -> NDArray[np.uint32]:
    """The triangles of a grid of points, `along` to each of `across` columns, seen from the side on
    which columns run to the right and points upward."""
    i, j = np.meshgrid(np.arange(across - 1), np.arange(along - 1), indexing="ij")
    low = (i * along + j).ravel()
    right = low + along
    faces = np.stack([low, right, right + 1, low, right + 1, low + 1], axis=1)
    return faces.reshape(-1, 3).astype(np.uint32)


def without_slivers(points: Floats, faces: NDArray[np.uint32]) -> NDArray[np.uint32]:
    """The triangles that have an area: at the axis a square is only one."""
    a, b, c = (points[faces[:, k]].astype(np.float64) for k in range(3))
    return faces[np.linalg.norm(np.cross(b - a, c - a), axis=1) > 1e-13]


def _smooth_runs(profile: Profile) -> list[NDArray[np.float64]]:
    """A profile cut where it has an edge, so that normals are not smoothed over it."""
    line = np.array(profile, dtype=np.float64)
    line = line[np.r_[True, np.hypot(*np.diff(line, axis=0).T) > 1e-6]]
    step = np.diff(line, axis=0)
    step /= np.hypot(*step.T)[:, None]
    edges = np.flatnonzero((step[:-1] * step[1:]).sum(axis=1) < _CORNER) + 1
    cuts = [0, *edges.tolist(), len(line) - 1]
    return [line[a : b + 1] for a, b in pairwise(cuts)]


def _outward(run: NDArray[np.float64]) -> NDArray[np.float64]:
    """The normal (outward, upward) at each point of a profile that runs upward outside."""
    step = np.diff(run, axis=0)
    step /= np.hypot(*step.T)[:, None]
    mean = np.vstack([step[:1], step[:-1] + step[1:], step[-1:]])
    mean /= np.hypot(*mean.T)[:, None]
    return np.stack([mean[:, 1], -mean[:, 0]], axis=1)


def turned(name: str, material: Material, profile: Profile, angles: Floats) -> list[Part]:
    """A profile (mm outward and upward, from below over the outside to the top) turned about the
    axis through the `angles` (radians from the front to the right): a part for each smooth run."""
    made = []
    for number, run in enumerate(_smooth_runs(profile), 1):
        out, sin, cos = _outward(run), np.sin(angles)[:, None], np.cos(angles)[:, None]
        r, up = run[:, 0][None, :], np.broadcast_to(run[:, 1][None, :], (len(angles), len(run)))
        nr, nu = out[:, 0][None, :], np.broadcast_to(out[:, 1][None, :], up.shape)
        points = np.stack([r * sin, up, r * cos], axis=2).reshape(-1, 3) * MM
        normals = np.stack([nr * sin, nu, nr * cos], axis=2).reshape(-1, 3)
        faces = grid_faces(len(angles), len(run))
        made.append(
            Part(
                name=f"{name}_{number}",
                material=material,
                points=points.astype(np.float32),
                normals=normals.astype(np.float32),
                faces=without_slivers(points, faces),
            )
        )
    return made


def simplified(profile: Profile, off: float) -> list[tuple[float, float]]:
    """The points of a profile without which it would be more than `off` mm from itself (Ramer,
    Douglas, Peucker)."""
    line = np.array(profile, dtype=np.float64)
    keep, todo = {0, len(line) - 1}, [(0, len(line) - 1)]
    while todo:
        a, b = todo.pop()
        if b - a < 2:
            continue
        way = line[b] - line[a]
        rest = line[a + 1 : b] - line[a]
        away = np.abs(way[0] * rest[:, 1] - way[1] * rest[:, 0]) / max(float(np.hypot(*way)), 1e-9)
        worst = int(away.argmax())
        if away[worst] > off:
            middle = a + 1 + worst
            keep.add(middle)
            todo += [(a, middle), (middle, b)]
    return [(float(r), float(z)) for r, z in line[sorted(keep)]]
