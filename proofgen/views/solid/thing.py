"""A piece with its print as a model: surfaces, the flat picture on them, the cloth's colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from PIL import Image

from proofgen.artwork.rasters import Rasters
from proofgen.colour.spaces import hex_to_rgb8, srgb_to_linear
from proofgen.model import Layout
from proofgen.views.cut import face_picture
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.sleeve import sleeve_of
from proofgen.views.inround import ring_of
from proofgen.views.pictures import jpeg
from proofgen.views.solid.plates import piece_parts
from proofgen.views.solid.sleeves import sleeve_parts
from proofgen.views.solid.turned import MM, Part

_MOST_PX = 2048  # a side of the picture: what any phone of today takes
_MOST_BYTES = 640_000  # of the picture, so that a model stays below a megabyte
_QUALITIES = (84, 76, 68, 58, 46)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Thing:
    """A model at its true size: `picture` is a JPEG of bare pixels, `cloth` the linear red, green
    and blue of what is not printed."""

    parts: Sequence[Part]
    picture: bytes = field(repr=False)
    cloth: tuple[float, float, float]

    @property
    def size(self) -> tuple[float, float, float]:
        """Width, height and depth of all of it, mm."""
        points = np.vstack([part.points for part in self.parts]) / MM
        wide, high, deep = (points.max(axis=0) - points.min(axis=0)).tolist()
        return wide, high, deep


def _pressed(image: Image.Image) -> bytes:
    """The picture small enough for a telephone."""
    image = image.copy()
    image.thumbnail((_MOST_PX, _MOST_PX), Image.Resampling.LANCZOS)
    made = b""
    for quality in _QUALITIES:
        made = jpeg(image, quality)
        if len(made) <= _MOST_BYTES:
            break
    return made


def picture_of(rasters: Rasters) -> bytes:
    """The flat picture of a layout as it was painted, on its cloth: a JPEG."""
    flat = rasters.layout.plan.way_round is None
    return _pressed(face_picture(rasters, "front") if flat else ring_of(rasters))


def thing_of(layout: Layout, picture: bytes) -> Thing:
    """The model of a layout with that picture."""
    red, green, blue = srgb_to_linear(np.array(hex_to_rgb8(layout.cloth_hex)) / 255).tolist()
    if layout.plan.way_round is None:
        parts = piece_parts(piece_of(layout))
    else:
        parts = sleeve_parts(sleeve_of(layout), layout.plan.front_share)
    return Thing(parts=parts, picture=picture, cloth=(red, green, blue))
