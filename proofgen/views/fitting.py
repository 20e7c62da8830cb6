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
from proofgen.geometry import FaceName, Plan, Rect, Size
from proofgen.model import Layout, Placed, PlacedPhoto, PlacedWords
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
    `geometry.cover_crop`), and where it is seen. From its left, mm: `front` and `back` are what the
    view from the front shows and what the one from behind does, each from where to where; `over`
    are rectangles (left, top, width, height) that the design lays over it."""

    slot: str
    width: float
    height: float
    aim: tuple[float, float]
    windows: tuple[Window, ...]
    front: tuple[tuple[float, float], ...] = ()
    back: tuple[tuple[float, float], ...] = ()
    over: tuple[tuple[float, float, float, float], ...] = ()


def surface_of(plan: Plan) -> tuple[FaceName, Size]:
    """The face that shows all that is seen of a piece, and how much of it is (mm): of a sleeve once
    round without what lies under the can, of a flat piece its front."""
    if plan.way_round is None:
        return "front", plan.canvases["front"].size
    return "round", Size(plan.canvases["round"].size.width, ring_height(plan))


def spot_of(layout: Layout, placed: PlacedPhoto) -> Spot:
    """Where a photo of the layout lies on the surface."""
    plan = layout.plan
    canvas = plan.canvases[placed.face]
    windows = tuple(_windows(plan, placed))
    wide = surface_of(plan)[1].width
    middle, quarter = (
        (wide / 2, wide / 2) if plan.way_round is None else (plan.front_share * wide, wide / 4)
    )
    before, after = middle - quarter, middle + quarter
    return Spot(
        slot=placed.slot,
        width=placed.rect.width,
        height=placed.rect.height,
        aim=canvas.aim_in(placed.rect),
        windows=windows,
        front=_across(windows, [(before, after)]),
        back=_across(windows, [(0.0, before), (after, wide)]),
        over=tuple(_laid_over(layout, placed)),
    )


_HAIR = 0.01  # mm: parts no further apart are one


def _across(
    windows: Sequence[Window], bands: Sequence[tuple[float, float]]
) -> tuple[tuple[float, float], ...]:
    """Where a place (mm from its left) lies in bands of the surface (mm from its left)."""
    found = []
    for window in windows:
        left, _, wide, _ = window.clip
        for low, high in bands:
            begins, ends = max(left, low), min(left + wide, high)
            if ends - begins <= _HAIR:
                continue
            near, far = begins - window.x, ends - window.x
            found.append((-far, -near) if window.turned else (near, far))
    merged: list[tuple[float, float]] = []
    for near, far in sorted(found):
        if merged and near - merged[-1][1] <= _HAIR:
            merged[-1] = (merged[-1][0], max(far, merged[-1][1]))
        else:
            merged.append((near, far))
    return tuple(merged)


def _laid_over(layout: Layout, photo: PlacedPhoto) -> Iterator[tuple[float, float, float, float]]:
    """What of a photo's place later layers take; of rectangles inside one another the outer."""
    layers = list(layout.layers)
    later = layers[next(i for i, one in enumerate(layers) if one is photo) + 1 :]
    rects = [rect for placed in later for rect in _on_place(layout, photo, placed)]
    outer: list[Rect] = []
    for rect in sorted(rects, key=lambda r: r.width * r.height, reverse=True):
        if not any(rect.overlap(one) == rect for one in outer):
            outer.append(rect)
    for rect in outer:
        yield rect.x - photo.rect.x, rect.y - photo.rect.y, rect.width, rect.height


def _on_place(layout: Layout, photo: PlacedPhoto, placed: Placed) -> Iterator[Rect]:
    """Where a layer lies on a photo that is seen, mm in the frame of the photo's face."""
    box = placed.rect
    if isinstance(placed, PlacedWords) and not placed.slot:
        if placed.ink is None:
            return
        box = placed.ink
    for panel, lying in layout.on_panel(placed, box):
        for part in layout.plan.canvases[photo.face].parts:
            if part.panel != panel or (shared := lying.overlap(part.target)) is None:
                continue
            own = part.to_face(shared).overlap(photo.rect)
            if own and (seen := own.overlap(seen_part(layout.plan, part))):
                yield seen


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
