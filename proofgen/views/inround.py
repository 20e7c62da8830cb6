"""The finished thing as it is held: a can sleeve in the round, or a flat piece."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from PIL import Image, ImageDraw

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import Plan
from proofgen.model import Layout
from proofgen.render.mood import USUAL_MOOD, Mood
from proofgen.store import NoStore, Store
from proofgen.views.cut import face_picture
from proofgen.views.hand import lying
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.maps import lying_map, map_of
from proofgen.views.hand.picture import laid, printed, strip_of
from proofgen.views.hand.sleeve import frame_of, sleeve_of
from proofgen.views.hand.sleeve import natural_width as sleeve_natural

PAPER = "#f7f4ee"
_ALIKE = 1.4  # a pouch beside a can would make it a toy
_FINE = 3  # an outline is drawn this many times larger, then brought down

ViewKind = Literal["front", "left", "right", "closure", "back"]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One picture of the finished thing; `centre` is its middle as a share of the way round its
    face `round`, None of a flat thing."""

    kind: ViewKind
    image: Image.Image
    centre: float | None = None


def natural_width(layout: Layout, mood: Mood = USUAL_MOOD) -> float:
    """How wide (mm) a picture is that just holds the thing with its margin."""
    if layout.plan.way_round is None:
        return lying.natural_width(piece_of(layout, mood))
    return sleeve_natural(sleeve_of(layout, mood))


def shared_width(layout: Layout, others: Iterable[Layout], mood: Mood = USUAL_MOOD) -> float:
    """How wide (mm) its picture is among `others` on one page, so that they share one scale: as the
    widest of those that are at most _ALIKE times as wide as it."""
    own = natural_width(layout, mood)
    widths = [natural_width(other, mood) for other in others]
    return max([own, *(w for w in widths if w <= _ALIKE * own)])


def shape_mask(size: tuple[int, int], shape: str, corner_px: float) -> Image.Image:
    """Inside of a flat blank's shape: rectangle, rounded or round; mode L, smooth edge."""
    large = Image.new("L", (size[0] * _FINE, size[1] * _FINE), 0)
    draw = ImageDraw.Draw(large)
    box = (0, 0, large.width - 1, large.height - 1)
    if shape == "round":
        draw.ellipse(box, fill=255)
    elif shape == "rounded":
        draw.rounded_rectangle(box, radius=corner_px * _FINE, fill=255)
    else:
        draw.rectangle(box, fill=255)
    return large.resize(size, Image.Resampling.BOX)


def ring_of(rasters: Rasters, *, cloth: bool = True) -> Image.Image:
    """The cloth once round, as worn, on the cloth's colour; without `cloth` its ink.

    Of a wrap this is its face `round`: what the overlap hides is not in it, so under the join the
    ink of the end on top is seen. The strip of a fold that lies under the can is left out.
    """
    plan, picture = rasters.layout.plan, face_picture(rasters, "round", cloth=cloth)
    height = plan.canvases["round"].size.height
    keep = round(picture.height * ring_height(plan) / height)
    return picture.crop((0, 0, picture.width, keep))


def ring_height(plan: Plan) -> float:
    """How much (mm) of the face all the way round is seen above the can's bottom."""
    base = plan.base_mm
    return plan.canvases["round"].size.height - base


# How far each view is turned from the front, as a share of the way round.
_TURNS: tuple[tuple[ViewKind, float], ...] = (
    ("front", 0.0),
    ("left", -0.25),
    ("right", 0.25),
    ("closure", 0.5),
    ("back", 0.5),
)


def round_views(
    rasters: Rasters,
    width_px: int,
    *,
    background: str = PAPER,
    mood: Mood = USUAL_MOOD,
    kinds: Container[ViewKind] = get_args(ViewKind),
    most: int | None = None,
    width_mm: float | None = None,
    store: Store | None = None,
) -> list[View]:
    """The finished thing, `width_px` wide. Can sleeves: front, left, right and the join (`closure`)
    or the `back`, on their can, the first `most` of those among `kinds`; a flat thing: its front,
    cut to shape.

    Pictures that are `width_mm` wide show their things at one scale; without it each is as large
    as fits; `mood` is the theme's. What depends on the blank alone is kept in the `store`.
    """
    plan = rasters.layout.plan
    if plan.way_round is None:
        piece = piece_of(rasters.layout, mood)
        lies = lying_map(piece, lying.frame_of(piece, width_px, width_mm), store or NoStore())
        face = face_picture(rasters, "front")
        image = laid(face, lies, rasters.layout.cloth_hex, background)
        return [View(kind="front", image=image)]
    unseen = "back" if plan.construction == "wrap" else "closure"
    sleeve = sleeve_of(rasters.layout, mood)
    frame = frame_of(sleeve, width_px, width_mm)
    ring, strip = ring_of(rasters), None
    views = []
    for kind, turn in [one for one in _TURNS if one[0] != unseen and one[0] in kinds][:most]:
        seen = map_of(sleeve, frame, turn * 2 * math.pi, store or NoStore())
        strip = strip_of(ring, seen) if strip is None else strip
        centre = (plan.front_share + turn) % 1.0
        image = printed(strip, seen, centre, rasters.layout.cloth_hex, background)
        views.append(View(kind=kind, image=image, centre=centre))
    return views
