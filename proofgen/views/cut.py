"""What the customer sees flat, cut from the press rasters: faces, panels, a part at real size."""

from __future__ import annotations

from collections.abc import Collection
from typing import TypeAlias

from PIL import Image

from proofgen.artwork.rasters import BARE, Rasters, nearest
from proofgen.geometry import FaceName, Part, Plan, Rect, Size, around, held_parts
from proofgen.model import Layout, Placed, PlacedPhoto, PlacedWords
from proofgen.photo.opening import Pictures
from proofgen.units import px_to_mm
from proofgen.views.ink import on_its_cloth
from proofgen.views.spot import best_spot


def _piece(rasters: Rasters, part: Part, rect: Rect, size: tuple[int, int]) -> Image.Image:
    """`rect` (face frame) of a part cut from its panel, pixel for pixel, upright."""
    moved, bleed = part.to_panel(rect), rasters.layout.plan.bleed
    left, top = (nearest((v + bleed) * rasters.scale) for v in (moved.x, moved.y))
    cut = rasters[part.panel].crop((left, top, left + size[0], top + size[1]))
    return cut.transpose(Image.Transpose.ROTATE_180) if part.turned else cut


def seen_part(plan: Plan, part: Part) -> Rect:
    """The part of a face's drawing that is seen on its panel: not the bleed, which at a seam would
    reach over the neighbouring face. In the face's frame."""
    shared = [
        seen
        for face in plan.faces
        if face.panel == part.panel and (seen := face.rect.overlap(part.target)) is not None
    ]
    return part.to_face(max(shared, key=lambda r: r.width * r.height))


def face_picture(rasters: Rasters, face: FaceName, *, cloth: bool = True) -> Image.Image:
    """A finished face, upright, at the rasters' own resolution; where no ink can reach (the gap
    beside a seam) or a strip lies over it, it is bare. With `cloth` the ink is shown on the cloth's
    colour."""
    plan = rasters.layout.plan
    canvas = plan.canvases[face]

    def px(rect: Rect) -> tuple[int, int, int, int]:
        left, top, right, bottom = (
            nearest(edge * rasters.scale) for edge in (rect.x, rect.y, rect.right, rect.bottom)
        )
        return left, top, right, bottom

    whole = Rect(0.0, 0.0, canvas.size.width, canvas.size.height)
    picture = Image.new("RGB", px(whole)[2:], BARE)
    for part in canvas.parts:
        rect = seen_part(plan, part).overlap(whole)
        if rect is None:
            continue
        left, top, right, bottom = px(rect)
        picture.paste(_piece(rasters, part, rect, (right - left, bottom - top)), (left, top))
        for zone in plan.zones_on(part.panel):
            unseen = zone.kind == "gap" or zone.rect in plan.under_strip
            bare = part.to_face(zone.rect).overlap(rect) if unseen else None
            if bare is not None:
                picture.paste(BARE, px(bare))
    return on_its_cloth(picture, rasters.layout) if cloth else picture


def _whole_part(rasters: Rasters, part: Part) -> Image.Image:
    """All of a part, upright, on the cloth's colour."""
    size, scale = part.source.size, rasters.scale
    cut = _piece(
        rasters, part, part.source, (nearest(size.width * scale), nearest(size.height * scale))
    )
    return on_its_cloth(cut, rasters.layout)


def flat_view(rasters: Rasters, panel: str) -> Image.Image:
    """A panel as it lies print side up, its bleed cut off, on the cloth's colour."""
    whole = rasters.layout.plan.panels[panel].rect
    return _whole_part(rasters, Part(panel=panel, source=whole, target=whole))


def held_view(rasters: Rasters, name: str) -> Image.Image:
    """The same as it is held, by the names of `geometry.held_parts`: the back of a fold upright."""
    return _whole_part(rasters, held_parts(rasters.layout.plan)[name])


def on_face(
    layout: Layout, face: FaceName, placed: Placed, rect: Rect | None = None
) -> Rect | None:
    """Where the ink of a placed layer (or `rect` of its own face) is seen on a face, mm in the
    face's frame; None where it is not, or where nothing is placed. Of several places the largest.
    """
    if isinstance(placed, PlacedWords):
        rect = rect or placed.ink
        if rect is None:
            return None
    canvas = layout.plan.canvases[face]
    whole = canvas.size.rect
    seen = [
        inside
        for panel, lying in layout.on_panel(placed, rect)
        for part in canvas.parts
        if part.panel == panel and (shared := lying.overlap(part.target)) is not None
        if (inside := part.to_face(shared).overlap(whole)) is not None
    ]
    return max(seen, key=lambda r: r.width * r.height, default=None)


def shown_faces(layout: Layout) -> list[FaceName]:
    """The faces that are looked at one by one: of two faces those that carry something; what is
    drawn all the way round shows the front as well."""
    if layout.plan.construction in ("fold", "sewn"):
        both = [face.name for face in layout.plan.faces]
        inked = [f for f in both if any(on_face(layout, f, placed) for placed in layout.layers)]
        return inked or both[:1]
    return ["round"] if "round" in layout.faces else list(layout.faces)


_POINT = 0.01  # mm: a point as a rectangle


def _to_judge(
    layout: Layout, face: FaceName, part: Size, pictures: Pictures
) -> tuple[float, float] | None:
    """The point of a face (mm) about which its photo, of several the coarsest, is best judged."""
    photos = [p for p in layout.layers if isinstance(p, PlacedPhoto) and p.ppi is not None]
    shown = layout.plan.canvases[face]
    for placed in sorted(photos, key=lambda p: p.ppi or 0.0):
        seen = [
            mine.to_face(shared)
            for mine in layout.plan.canvases[placed.face].parts
            for part_of in shown.parts
            if part_of.panel == mine.panel
            if (shared := part_of.to_panel(shown.size.rect).overlap(part_of.target))
            if (shared := shared.overlap(mine.target)) and mine.to_face(shared).overlap(placed.rect)
        ]
        bounds = max(seen, key=lambda r: r.width * r.height, default=None)
        point = bounds and best_spot(layout, placed, bounds, part, pictures)
        spot = point and on_face(layout, face, placed, Rect(*point, _POINT, _POINT))
        if spot:
            return spot.x, spot.y
    return None


def _words_on(layout: Layout, face: FaceName, part: Size, own: Collection[str] = ()) -> Rect | None:
    """Where words lie on a face (mm) that are worth measuring: the first of those of the `own`
    slots, else the first, with what else fits into the same `part`; None where there are none."""
    words = [placed for placed in layout.layers if isinstance(placed, PlacedWords)]
    inks = [
        rect
        for placed in sorted(words, key=lambda placed: placed.slot not in own)
        if (rect := on_face(layout, face, placed))
    ]
    if not inks:
        return None
    seen = inks[0]
    for rect in inks[1:]:
        both = around([seen, rect])
        if both.width <= part.width and both.height <= part.height:
            seen = both
    return seen


def _subject(layout: Layout, face: FaceName, part: Size, pictures: Pictures) -> tuple[float, float]:
    """The point of a face (mm) that a customer should see at its real size: where its photo is
    best judged, else the first words and those that fit beside them, else the middle."""
    best = _to_judge(layout, face, part, pictures)
    if best is not None:
        return best
    seen = _words_on(layout, face, part)
    if seen:
        return seen.centre_x, seen.centre_y
    for placed in layout.layers:
        point = placed.focus_on_face if isinstance(placed, PlacedPhoto) else None
        spot = point and on_face(layout, face, placed, Rect(*point, _POINT, _POINT))
        if spot:
            return spot.x, spot.y
    size = layout.plan.canvases[face].size
    return size.width / 2, size.height / 2


Cut: TypeAlias = tuple[Image.Image, Rect]  # on the cloth; where it lies on the face, mm


def real_size_crop(rasters: Rasters, face: FaceName, part: Size, pictures: Pictures) -> Cut:
    """At most a `part` (mm) of a face, where its photo is best judged (or around its words), at the
    rasters' resolution and in whole pixels."""
    return _cut_about(rasters, face, part, _subject(rasters.layout, face, part, pictures))


def words_crop(rasters: Rasters, face: FaceName, part: Size, own: Collection[str]) -> Cut | None:
    """The same around words, those of the `own` slots before others; None where there are none."""
    words = _words_on(rasters.layout, face, part, own)
    if words is None:
        return None
    return _cut_about(rasters, face, part, (words.centre_x, words.centre_y))


def shows_words(rasters: Rasters, face: FaceName, seen: Rect, own: Collection[str]) -> bool:
    """Whether a part of a face (`seen`, mm) holds all words that `words_crop` would be about."""
    words = _words_on(rasters.layout, face, seen.size, own)
    return words is None or seen.holds(words)


def _cut_about(rasters: Rasters, face: FaceName, part: Size, point: tuple[float, float]) -> Cut:
    x, y = point
    scale = rasters.scale
    picture = face_picture(rasters, face, cloth=False)
    wide = min(nearest(part.width * scale), picture.width)
    high = min(nearest(part.height * scale), picture.height)
    left = min(max(nearest(x * scale - wide / 2), 0), picture.width - wide)
    top = min(max(nearest(y * scale - high / 2), 0), picture.height - high)
    lies = Rect(*(px_to_mm(v, rasters.ppi) for v in (left, top, wide, high)))
    cut = picture.crop((left, top, left + wide, top + high))
    return on_its_cloth(cut, rasters.layout), lies
