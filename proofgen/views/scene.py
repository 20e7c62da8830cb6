"""Several can sleeves on one ground: the picture of a season."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from PIL import Image, ImageColor, ImageFilter

from proofgen.artwork.rasters import Rasters
from proofgen.render.mood import USUAL_MOOD, Mood
from proofgen.store import Store
from proofgen.views.hand.camera import SIN
from proofgen.views.hand.light import smooth
from proofgen.views.hand.maps import Bytes, RoundMap, map_of
from proofgen.views.hand.picture import printed, strip_of
from proofgen.views.hand.sleeve import Sleeve, frame_of, natural_width, sleeve_of
from proofgen.views.inround import ring_of

# Where each stands, mm to the right of the middle and nearer to the camera, and by how many degrees
# it is turned, so that its front looks out of what is seen of it; the last stands before all.
_PLACES = {
    1: ((0.0, 0.0, 0.0),),
    2: ((31.0, -18.0, -7.0), (-31.0, 16.0, 0.0)),
    3: ((-62.0, -20.0, 9.0), (62.0, -30.0, -9.0), (0.0, 28.0, 0.0)),
}
_LIDS = (62.0, 236.0, 110.0)  # degrees: nobody opens cans to match
MOST = len(_PLACES)


@dataclass(frozen=True, slots=True)
class _Standing:
    """One of them: what it is, its map, the first row and column of its picture."""

    rasters: Rasters
    map: RoundMap
    turn: float
    row: int
    col: int


def _shifted(mask: Image.Image, right: int, down: int) -> Image.Image:
    moved = Image.new("L", mask.size, 0)
    moved.paste(mask, (right, down))
    return moved


def _shade(canvas: Bytes, standing: Bytes, thing: Bytes, per_mm: float, mood: Mood) -> None:
    """What stands takes the shade of a `thing` before it: close about it, and away from the
    light."""
    shape = Image.fromarray(thing)
    near = shape.filter(ImageFilter.GaussianBlur(2.2 * per_mm))
    far = _shifted(shape, round(4 * mood.side * per_mm), round(2 * per_mm))
    far = far.filter(ImageFilter.GaussianBlur(7 * mood.softness * per_mm))
    dark = 0.34 * np.asarray(near, np.float32) + 0.42 * np.asarray(far, np.float32)
    dark = mood.strength * dark
    light = 1 - dark * standing.astype(np.float32) / 255**2
    canvas[:] = (canvas * light[..., None] + 0.5).astype(np.uint8)


def _common_ground(
    canvas: Bytes, across: float, foot: float, per_mm: float, strength: float
) -> None:
    """One wide soft shadow under all: `across` is half its width and `foot` the row (mm) of its
    middle. It is gone before the picture's edges."""
    high, wide = canvas.shape[:2]
    x = (np.arange(wide) / per_mm - wide / per_mm / 2)[None, :] / across
    y = (np.arange(high) / per_mm - foot)[:, None]
    y = y / np.where(y > 0, min(26.0, high / per_mm - foot - 1.0), 30.0)
    light = 1 - 0.16 * strength * (1 - smooth(0.25, 1.0, np.hypot(x, y)))
    spread = np.random.default_rng(11).random(light.shape, dtype=np.float32)
    shaded = np.floor(canvas * light[..., None] + spread[..., None])
    canvas[:] = np.minimum(canvas, shaded).astype(np.uint8)


def scene(
    things: Sequence[Rasters],
    width_px: int,
    *,
    background: str,
    store: Store,
    mood: Mood = USUAL_MOOD,
) -> Image.Image:
    """Up to MOST can sleeves seen from their fronts, at one scale, the first before the others, in
    a theme's `mood`; RGB. ValueError for none and for a flat piece."""
    things = things[:MOST]
    if not things:
        raise ValueError("a scene shows something")
    ordered = (*things[1:], things[0])
    places = _PLACES[len(things)]
    sleeves = [_sleeve(r, lid, mood) for r, lid in zip(ordered, _LIDS[-len(things) :], strict=True)]
    half = max(abs(x) + one.radius for (x, _, _), one in zip(places, sleeves, strict=True))
    per_mm = width_px / (2 * (half + mood.margin))
    frames = [frame_of(s, round(natural_width(s) * per_mm)) for s in sleeves]
    tops = [(f.top + near * SIN) * per_mm for f, (_, near, _) in zip(frames, places, strict=True)]
    first = math.floor(min(tops))
    standing = [
        _Standing(
            rasters,
            map_of(sleeve, frame, math.radians(turn), store),
            math.radians(turn),
            round(top) - first,
            round(width_px / 2 + x * per_mm - frame.width_px / 2),
        )
        for rasters, sleeve, frame, top, (x, _, turn) in zip(
            ordered, sleeves, frames, tops, places, strict=True
        )
    ]
    high = max(one.row + one.map.frame.height_px for one in standing)
    canvas = np.empty((high, width_px, 3), dtype=np.uint8)
    canvas[:] = ImageColor.getrgb(background)[:3]
    _common_ground(canvas, half + mood.margin - 2, -first / per_mm, per_mm, mood.strength)
    _stand(canvas, standing, per_mm, mood)
    return Image.fromarray(canvas)


def _sleeve(rasters: Rasters, lid: float, mood: Mood) -> Sleeve:
    sleeve = sleeve_of(rasters.layout, mood)
    return replace(sleeve, can=replace(sleeve.can, lid=math.radians(lid)))


def _stand(canvas: Bytes, standing: Sequence[_Standing], per_mm: float, mood: Mood) -> None:
    """All of them, from behind."""
    there = np.zeros(canvas.shape[:2], dtype=np.uint8)
    for one in standing:
        frame, layout = one.map.frame, one.rasters.layout
        part = np.s_[one.row : one.row + frame.height_px, one.col : one.col + frame.width_px]
        thing = np.zeros_like(there)
        thing[part] = np.where(one.map.shares[2] == 0, 255, 0)
        _shade(canvas, there, thing, per_mm, mood)
        strip = strip_of(ring_of(one.rasters), one.map)
        centre = (layout.plan.front_share + one.turn / (2 * math.pi)) % 1.0
        canvas[part] = np.asarray(printed(strip, one.map, centre, layout.cloth_hex, canvas[part]))
        there = np.maximum(there, thing)
