"""What the customer sees, all cut from the press rasters: faces, the round thing, real size."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from PIL import Image

from proofgen.artwork.raster import BARE
from proofgen.geometry import FaceName, Part, Rect, around
from proofgen.model import Layout, PlacedPhoto, PlacedWords
from proofgen.render.drawing import blank_svg
from proofgen.say.parts import VIEWS
from proofgen.units import MM_PER_INCH, px_to_mm
from proofgen.views import ink, inround

Rasters = Mapping[str, Image.Image]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One picture of the finished thing. `kind`: front, left, right, closure or back."""

    kind: str
    label: str
    image: Image.Image


def raster_ppi(layout: Layout, rasters: Rasters) -> float:
    """The resolution a layout's rasters were painted at, worked out from their sizes.

    A raster rounds its mm up to whole pixels, so a range of figures gives the same size; the
    roundest number in the range is meant, or, if no side was rounded up at all, the exact one.
    """
    low, high, ends = 0.0, math.inf, []
    for name, image in rasters.items():
        size = layout.plan.panels[name]
        for px, mm in ((image.width, size.width), (image.height, size.height)):
            side = mm + 2 * layout.plan.bleed
            low = max(low, (px - 1) * MM_PER_INCH / side)
            ends.append(px * MM_PER_INCH / side)
    high = min(ends)
    exact = max(ends) - high < 1e-6
    for step in (50, 10, 1):
        whole = math.floor(high / step + 1e-9) * step
        # A small raster leaves a wide range, in which any whole number would be a guess.
        if whole > low and not (step == 1 and exact and high - low > 0.5):
            return float(whole)
    return high


def _nearest(value: float) -> int:
    return math.floor(value + 0.5)


def _piece(
    panel: Image.Image, part: Part, rect: Rect, size: tuple[int, int], scale: float, bleed: float
) -> Image.Image:
    """`rect` (face frame) of a part cut from its panel, pixel for pixel, upright."""
    moved = part.to_panel(rect)
    left, top = _nearest((moved.x + bleed) * scale), _nearest((moved.y + bleed) * scale)
    cut = panel.crop((left, top, left + size[0], top + size[1]))
    return cut.transpose(Image.Transpose.ROTATE_180) if part.turned else cut


def _seen_part(layout: Layout, part: Part) -> Rect:
    """The part of a face's drawing that is seen on its panel: not the bleed, which at a seam would
    reach over the neighbouring face. In the face's frame."""
    shared = [
        seen
        for face in layout.plan.faces
        if face.panel == part.panel and (seen := face.rect.overlap(part.target)) is not None
    ]
    return part.to_face(max(shared, key=lambda r: r.width * r.height))


def face_picture(
    layout: Layout, rasters: Rasters, face: FaceName, *, cloth: bool = True
) -> Image.Image:
    """A finished face, upright, at the rasters' own resolution; where no ink can reach (the gap
    beside a seam) it is bare. With `cloth` the ink is shown on the cloth's colour."""
    plan = layout.plan
    canvas = plan.canvases[face]
    scale = raster_ppi(layout, rasters) / MM_PER_INCH
    whole = Rect(0.0, 0.0, canvas.size.width, canvas.size.height)
    picture = Image.new(
        "RGB", (_nearest(whole.width * scale), _nearest(whole.height * scale)), BARE
    )
    for part in canvas.parts:
        rect = _seen_part(layout, part).overlap(whole)
        if rect is None:
            continue
        left, top = _nearest(rect.x * scale), _nearest(rect.y * scale)
        size = _nearest(rect.right * scale) - left, _nearest(rect.bottom * scale) - top
        picture.paste(_piece(rasters[part.panel], part, rect, size, scale, plan.bleed), (left, top))
        for zone in plan.zones_on(part.panel):
            bare = part.to_face(zone.rect).overlap(rect) if zone.kind == "gap" else None
            if bare is not None:
                x0, y0 = _nearest(bare.x * scale), _nearest(bare.y * scale)
                x1, y1 = _nearest(bare.right * scale), _nearest(bare.bottom * scale)
                picture.paste(BARE, (x0, y0, x1, y1))
    return ink.on_cloth(picture, layout.cloth_hex, layout.correction) if cloth else picture


def flat_view(layout: Layout, rasters: Rasters, panel: str) -> Image.Image:
    """A panel as it lies print side up, its bleed cut off, on the cloth's colour."""
    scale = raster_ppi(layout, rasters) / MM_PER_INCH
    size, off = layout.plan.panels[panel], _nearest(layout.plan.bleed * scale)
    wide, high = _nearest(size.width * scale), _nearest(size.height * scale)
    cut = rasters[panel].crop((off, off, off + wide, off + high))
    return ink.on_cloth(cut, layout.cloth_hex, layout.correction)


def flat_svg(
    layout: Layout,
    panel: str,
    picture_href: str,
    *,
    title: str,
    desc: str,
    labels: Mapping[str, str] | None = None,
    prefix: str = "flat",
    line_mm: float | None = None,
    letter_mm: float | None = None,
) -> str:
    """The flat view as a drawing: the picture with edges, folds and hidden strips marked on it.
    `line_mm` (0.35, say) is for paper, where lines cannot keep 1.4 px; `letter_mm` sets the words
    at another size than the drawing's own."""
    return blank_svg(
        layout.plan,
        panel,
        title=title,
        desc=desc,
        picture_href=picture_href,
        labels=labels,
        prefix=prefix,
        line_mm=line_mm,
        letter_mm=letter_mm,
    )


def _stand(layout: Layout, height: float) -> inround.Stand:
    plan, blank = layout.plan, layout.blank
    assert plan.way_round is not None
    across = plan.way_round / math.pi  # 2 R, R = C / 2π
    can = blank.vessel_mm or across - 2 * blank.thickness_mm
    corner = 1.5 if plan.construction == "wrap" else 0.09 * across
    return inround.Stand(across=across, height=height, can=min(can, across), corner=corner)


def _ring(layout: Layout, rasters: Rasters) -> tuple[Image.Image, float]:
    """The cloth once round, as worn, on the cloth's colour, and its height in mm.

    Of a wrap this is its face `round`: what the overlap hides is not in it, so under the join the
    ink of the end on top is seen. The strip of a fold that lies under the can is left out.
    """
    picture = face_picture(layout, rasters, "round")
    height = layout.plan.canvases["round"].size.height
    base = max((z.rect.height for z in layout.plan.zones if z.kind == "base"), default=0.0)
    keep = round(picture.height * (height - base) / height)
    return picture.crop((0, 0, picture.width, keep)), height - base


def _edges(layout: Layout) -> list[tuple[float, int]]:
    """Edges that show, as shares of the way round, and the side that lies beneath (0: a seam)."""
    if layout.plan.construction == "wrap":
        # The top end reaches the join from the left when it is the right-hand end, so that what
        # lies to the right of the line is under it; and the other way about.
        return [(0.0, 1 if layout.plan.on_top == "right" else -1)]
    return [(0.0, 0), (0.5, 0)]


def round_views(
    layout: Layout, rasters: Rasters, width_px: int, *, background: str = inround.PAPER
) -> list[View]:
    """The finished thing, `width_px` wide. Can sleeves: front, left, right and the join (`closure`)
    or the `back`, rolled round their can; a flat thing: its front, cut to shape."""
    plan = layout.plan
    if plan.way_round is None:
        face = face_picture(layout, rasters, "front")
        image = inround.flat_thing(
            face,
            width_px,
            background,
            shape=plan.shape,
            corner_share=plan.corner / plan.panels["front"].width,
        )
        return [View(kind="front", label=VIEWS["front"], image=image)]
    wrap = plan.construction == "wrap"
    front = 0.5 if wrap else 0.25  # a ring of two faces starts with the front's left seam
    ring, height = _ring(layout, rasters)
    stand = _stand(layout, height)
    wide, high = inround.sleeve_size(stand, width_px)
    ring = inround.spread(ring, wide, high)
    views = []
    last = "closure" if wrap else "back"
    for kind, turn in (("front", 0.0), ("left", -0.25), ("right", 0.25), (last, 0.5)):
        centre = (front + turn) % 1.0
        sleeve = inround.roll(ring, centre, wide)
        for edge, beneath in _edges(layout):
            at = inround.turn_of(edge, centre)
            if at is not None:
                sleeve = inround.with_edge(sleeve, at, beneath)
        image = inround.on_can(inround.shaded(sleeve), stand, width_px, background)
        views.append(View(kind=kind, label=VIEWS[kind], image=image))
    return views


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


def real_size_crop(
    layout: Layout, rasters: Rasters, width_mm: float, height_mm: float
) -> tuple[Image.Image, Rect]:
    """At most `width_mm` × `height_mm` around the words (or the photo's focus), on the cloth, at
    the rasters' resolution; and where it lies on its face, mm, in whole pixels."""
    face, x, y = _subject(layout, width_mm, height_mm)
    ppi = raster_ppi(layout, rasters)
    scale = ppi / MM_PER_INCH
    picture = face_picture(layout, rasters, face)
    wide = min(_nearest(width_mm * scale), picture.width)
    high = min(_nearest(height_mm * scale), picture.height)
    left = min(max(_nearest(x * scale - wide / 2), 0), picture.width - wide)
    top = min(max(_nearest(y * scale - high / 2), 0), picture.height - high)
    lies = Rect(*(px_to_mm(v, ppi) for v in (left, top, wide, high)))
    return picture.crop((left, top, left + wide, top + high)), lies
