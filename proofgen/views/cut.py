"""What the customer sees flat, cut from the press rasters: faces, panels, a part at real size."""

from __future__ import annotations

from PIL import Image

from proofgen.artwork.rasters import BARE, Rasters, nearest
from proofgen.geometry import FaceName, Part, Plan, Rect, around
from proofgen.model import Layout, PlacedPhoto, PlacedWords
from proofgen.units import px_to_mm
from proofgen.views.ink import on_its_cloth


def _piece(rasters: Rasters, part: Part, rect: Rect, size: tuple[int, int]) -> Image.Image:
    """`rect` (face frame) of a part cut from its panel, pixel for pixel, upright."""
    moved, bleed = part.to_panel(rect), rasters.layout.plan.bleed
    left, top = (nearest((v + bleed) * rasters.scale) for v in (moved.x, moved.y))
    cut = rasters[part.panel].crop((left, top, left + size[0], top + size[1]))
    return cut.transpose(Image.Transpose.ROTATE_180) if part.turned else cut


def _seen_part(plan: Plan, part: Part) -> Rect:
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
    beside a seam) it is bare. With `cloth` the ink is shown on the cloth's colour."""
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
        rect = _seen_part(plan, part).overlap(whole)
        if rect is None:
            continue
        left, top, right, bottom = px(rect)
        picture.paste(_piece(rasters, part, rect, (right - left, bottom - top)), (left, top))
        for zone in plan.zones_on(part.panel):
            bare = part.to_face(zone.rect).overlap(rect) if zone.kind == "gap" else None
            if bare is not None:
                picture.paste(BARE, px(bare))
    return on_its_cloth(picture, rasters.layout) if cloth else picture


def flat_view(rasters: Rasters, panel: str) -> Image.Image:
    """A panel as it lies print side up, its bleed cut off, on the cloth's colour."""
    plan = rasters.layout.plan
    size, off = plan.panels[panel], nearest(plan.bleed * rasters.scale)
    wide, high = nearest(size.width * rasters.scale), nearest(size.height * rasters.scale)
    cut = rasters[panel].crop((off, off, off + wide, off + high))
    return on_its_cloth(cut, rasters.layout)


def _subject(layout: Layout, width: float, height: float) -> tuple[FaceName, float, float]:
    """Face and point (mm) a customer should see at its real size: the first words and those that
    fit beside them, else a photo's focus."""
    inks = [(p.face, p.ink) for p in layout.layers if isinstance(p, PlacedWords) and p.ink]
    if inks:
        face, seen = inks[0]
        for other, ink_rect in inks[1:]:
            both = around([seen, ink_rect])
            if other == face and both.width <= width and both.height <= height:
                seen = both
        return face, seen.centre_x, seen.centre_y
    for placed in layout.layers:
        point = placed.focus_on_face if isinstance(placed, PlacedPhoto) else None
        if point:
            return placed.face, *point
    face = next(iter(layout.faces))
    size = layout.plan.canvases[face].size
    return face, size.width / 2, size.height / 2


def real_size_crop(rasters: Rasters, width_mm: float, height_mm: float) -> tuple[Image.Image, Rect]:
    """At most `width_mm` × `height_mm` around the words (or the photo's focus), on the cloth, at
    the rasters' resolution; and where it lies on its face, mm, in whole pixels."""
    face, x, y = _subject(rasters.layout, width_mm, height_mm)
    scale = rasters.scale
    picture = face_picture(rasters, face)
    wide = min(nearest(width_mm * scale), picture.width)
    high = min(nearest(height_mm * scale), picture.height)
    left = min(max(nearest(x * scale - wide / 2), 0), picture.width - wide)
    top = min(max(nearest(y * scale - high / 2), 0), picture.height - high)
    lies = Rect(*(px_to_mm(v, rasters.ppi) for v in (left, top, wide, high)))
    return picture.crop((left, top, left + wide, top + high)), lies
