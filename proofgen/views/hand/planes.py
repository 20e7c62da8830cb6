"""What a page's script must have to put a print on a thing as `picture.printed` does."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
from PIL import Image

from proofgen.views.hand.camera import COS, SIN
from proofgen.views.hand.lying import Piece, face_at
from proofgen.views.hand.lying import frame_of as lying_frame
from proofgen.views.hand.maps import Map
from proofgen.views.hand.sleeve import Sleeve, bump_of, frame_of

_QUALITY = 62  # greys of a soft light; the script agrees with the pictures within its bar
_STEPS = 144  # of a full turn, at which the step of a join is told


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """Where a strip of cloth lands on a view, px: the column at x from the middle shows the way
    round at asin(x / radius) and begins at row rise + sqrt(radius² − x²) × sin, `tall` rows high.
    `bump` (rows) is how much lower it begins where a wrap's end lies on the other, at even steps of
    the way round from the front; empty without."""

    radius: float
    rise: float
    sin: float
    tall: float
    bump: tuple[float, ...] = ()


def wall_of(sleeve: Sleeve, width_px: int, width_mm: float | None = None) -> Wall:
    """The wall of the views that `frame_of` frames with the same numbers."""
    frame = frame_of(sleeve, width_px, width_mm)
    bump: tuple[float, ...] = ()
    if sleeve.join is not None:
        at = np.arange(_STEPS) / _STEPS * 2 * np.pi
        rises = [float(bump_of(sleeve, np.zeros(1, np.float32), turn)[0]) for turn in at]
        bump = tuple(round(mm * SIN * frame.per_mm, 2) for mm in rises)
    return Wall(
        radius=round(sleeve.radius * frame.per_mm, 4),
        rise=round((-sleeve.top * COS - frame.top) * frame.per_mm, 4),
        sin=round(SIN, 6),
        tall=round(sleeve.height * COS * frame.per_mm, 4),
        bump=bump,
    )


def lies_at(
    piece: Piece, width_px: int, width_mm: float | None = None
) -> tuple[float, float, float, float, float, float]:
    """Where a flat piece's place (mm from its top left) lands in its picture (px): X = a x + c y +
    e, Y = b x + d y + f, as a canvas takes them."""
    a, b, c, d, e, f = face_at(piece, lying_frame(piece, width_px, width_mm), piece.thickness)
    back = np.linalg.inv(np.array([[a, b, c], [d, e, f], [0, 0, 1]]))
    (p, q, x), (r, s, y) = back[:2].tolist()
    return p, r, q, s, x, y


def planes_picture(map_: Map) -> tuple[bytes, int]:
    """The shares of a picture (ink, bare cloth, ground, metal) as greys one below the other, WebP;
    and the rows of each."""
    stacked = Image.fromarray(np.concatenate(list(map_.shares)))
    out = io.BytesIO()
    stacked.convert("RGB").save(out, "WEBP", quality=_QUALITY, method=5)  # in memory
    return out.getvalue(), map_.frame.height_px
