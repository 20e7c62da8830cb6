"""A can sleeve on its can as surfaces."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from proofgen.views.hand.camera import Floats
from proofgen.views.hand.cans import Can, profile
from proofgen.views.hand.sleeve import Sleeve, bump_of
from proofgen.views.solid.lid import tab_of
from proofgen.views.solid.turned import MM, Part, grid_faces, simplified, turned

_AROUND = 128  # steps: the circle is nowhere more than .02 mm off
_ARC = 7  # points of a rounding
_BESIDE = 1e-3  # radians
_FINE = 0.03  # mm a can's outline may be off
_FOOT = 0.77  # of the wall's radius: the ring a can stands on; from memory
_DOME = 9.0  # mm that its bottom arches up; from memory
_TURN_IN = 6.0  # mm of height over which the wall comes in to that ring; from memory


def _angles() -> Floats:
    """Once round from the middle of the back, where a wrap's ends meet."""
    return np.linspace(-math.pi, math.pi, _AROUND + 1)


def _rounded(sleeve: Sleeve) -> list[tuple[float, float]]:
    """The outside (mm outward and upward): lower rounding, wall, upper rounding."""
    turn = np.linspace(0, math.pi / 2, _ARC)
    radius, sole = sleeve.radius, sleeve.sole
    crest, deep = sleeve.crest, sleeve.crest_deep
    low = [
        (radius - sole * (1 - math.sin(t)), sleeve.lift + sole * (1 - math.cos(t))) for t in turn
    ]
    high = [
        (radius - crest * (1 - math.cos(t)), sleeve.top - deep * (1 - math.sin(t))) for t in turn
    ]
    return [(float(r), float(z)) for r, z in (*low, *high)]


def _bump(sleeve: Sleeve, angles: Floats) -> Floats:
    """How far (mm) the closure lies out; at the join itself each end as just beside it."""
    beside = np.clip(angles, angles[0] + _BESIDE, angles[-1] - _BESIDE)
    return bump_of(sleeve, beside.astype(np.float32), 0.0)


def _bulged(sleeve: Sleeve, part: Part, angles: Floats) -> Part:
    """The cloth over the covered end of a wrap lies further out."""
    bump = _bump(sleeve, angles)
    along = len(part.points) // len(angles)
    out = np.stack([np.sin(angles), np.zeros_like(angles), np.cos(angles)], axis=1)
    moved = part.points + np.repeat(out * bump[:, None] * MM, along, axis=0)
    return replace(part, points=moved.astype(np.float32))


def _around(sleeve: Sleeve, front: float) -> list[Part]:
    """The printed cloth; `front` is where the front's middle is on the picture, as a share of the
    way round. The picture goes on beyond its end: it is a ring."""
    angles = _angles()
    made = []
    for part in turned("cloth", "print", _rounded(sleeve), angles):
        along = len(part.points) // len(angles)
        across = np.repeat(front + angles / (2 * math.pi), along)
        up = (part.points[:, 1] / MM - sleeve.lift) / sleeve.height
        looks = np.stack([across, np.clip(up, 0, 1)], axis=1).astype(np.float32)
        made.append(replace(_bulged(sleeve, part, angles), looks=looks))
    return made


def _edges(sleeve: Sleeve) -> list[Part]:
    """What is seen of the cloth's thickness, above and below, and of the end of a wrap."""
    angles, wall = _angles(), sleeve.can.across / 2
    inside = min(wall, sleeve.radius - sleeve.crest - 0.05)
    upper = [(sleeve.radius - sleeve.crest, sleeve.top), (inside, sleeve.top)]
    # The strip of a fold goes on under the can.
    within = 0.0 if sleeve.base else min(wall, sleeve.radius - sleeve.sole - 0.05)
    lower = [(within, sleeve.lift), (sleeve.radius - sleeve.sole, sleeve.lift)]
    made = [*turned("upper_edge", "cloth", upper, angles)]
    made += turned("lower_edge", "cloth", lower, angles)
    # Whichever of the rings meets the bulge of the closure goes with it.
    return [_bulged(sleeve, part, angles) for part in made] + _end(sleeve)


def _end(sleeve: Sleeve) -> list[Part]:
    """The cut edge of a wrap's upper end, as high as the closure lies out."""
    angles = _angles()
    bump = _bump(sleeve, angles)
    step = float(bump[0] - bump[-1])
    if abs(step) < 1e-3:
        return []
    line = np.array(_rounded(sleeve))
    r, up = line.T
    low, high = r + min(bump[0], bump[-1]), r + max(bump[0], bump[-1])
    points = np.vstack([np.stack([0 * up, up, -out], axis=1) for out in (low, high)]) * MM
    # The end whose angle is half a turn looks to the left, the other one to the right.
    facing = np.array([-1.0 if step < 0 else 1.0, 0.0, 0.0])
    faces = grid_faces(2, len(line))
    a, b, c = points[faces[0]]
    if np.dot(np.cross(b - a, c - a), facing) < 0:
        faces = faces[:, ::-1]
    return [
        Part(
            name="end",
            material="cloth",
            points=points.astype(np.float32),
            normals=np.tile(facing, (len(points), 1)).astype(np.float32),
            faces=np.ascontiguousarray(faces),
        )
    ]


def _outline(can: Can, hidden: float) -> list[tuple[float, float]]:
    """A can from the middle of its arched bottom over wall and rim to the middle of its lid, mm; of
    one whose lowest mm are `hidden` only what is above."""
    wall = can.across / 2
    r, z, _, _ = profile(can, max(hidden, _TURN_IN) + 0.5, 0.1)
    above = simplified(list(zip(r.tolist(), z.tolist(), strict=True)), _FINE)
    above[-1] = (0.0, above[-1][1])
    if hidden:
        return above
    foot = _FOOT * wall
    arch = [
        (foot * 0.94 * math.sin(t), 0.4 + _DOME * math.cos(t))
        for t in np.linspace(0, math.pi / 2, 9)
    ]
    ring = [(foot * 0.97, 0.0), (foot * 1.03, 0.0)]
    turn = np.linspace(0, math.pi / 2, 7)
    come = [
        (foot * 1.03 + (wall - foot * 1.03) * math.sin(t), _TURN_IN * (1 - math.cos(t)))
        for t in turn[1:]
    ]
    return [(float(a), float(b)) for a, b in (*arch, *ring, *come, *above)]


def sleeve_parts(sleeve: Sleeve, front: float) -> list[Part]:
    """All surfaces of a sleeve on its can, standing on the ground."""
    can = turned(
        "can", "metal", _outline(sleeve.can, sleeve.sole if sleeve.base else 0.0), _angles()
    )
    return [*_around(sleeve, front), *_edges(sleeve), *can, *tab_of(sleeve.can)]
