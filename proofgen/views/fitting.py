"""A design without its photos, so that a page's script can put a customer's own into their places:
where photos lie on what is seen of the piece, and what is drawn below and above them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from PIL import Image

from proofgen.artwork.materials import Materials
from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import Rasters
from proofgen.geometry import FaceName, Plan, Size
from proofgen.model import Layout, Placed, PlacedPhoto
from proofgen.units import MM_PER_INCH
from proofgen.views.cut import face_picture, seen_part
from proofgen.views.inround import ring_height, ring_of

_BLACK = (0, 0, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A part of a photo's place on the surface, mm from its top left: `x` and `y` are where the
    place's own top left lies (its bottom right where it stands on its head), `clip` what shows."""

    x: float
    y: float
    clip: tuple[float, float, float, float]  # left, top, width, height
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place of a photo: its size in mm, `aim` where the focus goes from its top left (as for
    `geometry.cover_crop`), and where it is seen."""

    slot: str
    width: float
    height: float
    aim: tuple[float, float]
    windows: tuple[Window, ...]


def surface_of(plan: Plan) -> tuple[FaceName, Size]:
    """The face that shows all that is seen of a piece, and how much of it is (mm): of a sleeve once
    round without what lies under the can, of a flat piece its front."""
    if plan.way_round is None:
        return "front", plan.canvases["front"].size
    return "round", Size(plan.canvases["round"].size.width, ring_height(plan))


def spot_of(layout: Layout, placed: PlacedPhoto) -> Spot:
    """Where a photo of the layout lies on the surface."""
    canvas = layout.plan.canvases[placed.face]
    return Spot(
        slot=placed.slot,
        width=placed.rect.width,
        height=placed.rect.height,
        aim=canvas.aim_in(placed.rect),
        windows=tuple(_windows(layout.plan, placed)),
    )


def _windows(plan: Plan, placed: PlacedPhoto) -> Iterator[Window]:
    face, size = surface_of(plan)
    for part in plan.canvases[placed.face].parts:
        for shown in plan.canvases[face].parts:
            own = placed.rect.overlap(part.source)
            seen = seen_part(plan, shown).overlap(size.rect)
            if part.panel != shown.panel or own is None or seen is None:
                continue
            clip = shown.to_face(part.to_panel(own)).overlap(seen)
            if clip is None:
                continue
            turned = part.turned != shown.turned
            whole = shown.to_face(part.to_panel(placed.rect))
            corner = (whole.right, whole.bottom) if turned else (whole.x, whole.y)
            yield Window(
                x=corner[0],
                y=corner[1],
                clip=(clip.x, clip.y, clip.width, clip.height),
                turned=turned,
            )


def gaps_of(plan: Plan) -> list[tuple[float, float, float, float]]:
    """Where on the surface no ink can reach: left, top, width, height, mm."""
    face, size = surface_of(plan)
    return [
        (bare.x, bare.y, bare.width, bare.height)
        for part in plan.canvases[face].parts
        for zone in plan.zones_on(part.panel)
        if zone.kind == "gap" and (bare := part.to_face(zone.rect).overlap(size.rect)) is not None
    ]


def stack_of(layout: Layout) -> list[PlacedPhoto | list[Placed]]:
    """The layers in the order they are drawn: each photo alone, what lies between them together."""
    stack: list[PlacedPhoto | list[Placed]] = []
    for placed in layout.layers:
        if isinstance(placed, PlacedPhoto):
            stack.append(placed)
        elif stack and isinstance(stack[-1], list):
            stack[-1].append(placed)
        else:
            stack.append([placed])
    return stack


def without_photos(
    layout: Layout,
    group: Sequence[Placed],
    size: tuple[int, int],
    materials: Materials,
    *,
    clear: bool,
) -> Image.Image:
    """Some layers of the layout on its surface, in ink, `size` px: RGB, or RGBA `clear` where none
    of them lies.

    Errors: as `paint`.
    """
    faces = {
        face: tuple(p for p in layers if any(p is one for one in group))
        for face, layers in layout.faces.items()
    }
    alone = replace(layout, faces=faces)
    _, seen = surface_of(layout.plan)
    ppi = size[0] / seen.width * MM_PER_INCH

    def drawn(on: tuple[int, int, int]) -> Image.Image:
        return _surface(paint(alone, ppi, materials, on=on)).resize(size, Image.Resampling.LANCZOS)

    white = drawn((255, 255, 255))
    return _cleared(white, drawn(_BLACK)) if clear else white


def _surface(rasters: Rasters) -> Image.Image:
    if rasters.layout.plan.way_round is None:
        return face_picture(rasters, "front", cloth=False)
    return ring_of(rasters, cloth=False)


def _cleared(on_white: Image.Image, on_black: Image.Image) -> Image.Image:
    """What was drawn once on white and once on black, without either."""
    light, dark = (np.asarray(image).astype(np.int32) for image in (on_white, on_black))
    cover = np.clip(255 - (light - dark).max(axis=2), 0, 255)
    ink = np.clip(dark * 255 // np.maximum(cover, 1)[..., None], 0, 255)
    return Image.fromarray(np.dstack([ink, cover]).astype(np.uint8), "RGBA")
