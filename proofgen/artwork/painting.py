"""A layout painted once, in pixels; every view and every press sheet comes from these."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import assert_never

from PIL import Image, ImageColor

from proofgen.artwork.materials import Materials
from proofgen.artwork.rasters import BARE, Rasters, nearest, panel_pixels, raster_names
from proofgen.artwork.repeats import cells, turned_over, with_neighbours
from proofgen.artwork.typeface import Typeface
from proofgen.geometry import Part, Rect, Size
from proofgen.model import (
    Layout,
    PhotoFacts,
    Placed,
    PlacedArt,
    PlacedColour,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    TextRun,
    Variant,
)
from proofgen.store import Lazy, Recent
from proofgen.units import MM_PER_INCH

_HAIR = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Span:
    """A rectangle of whole pixels: left and top inside, right and bottom outside."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def size(self) -> tuple[int, int]:
        return self.right - self.left, self.bottom - self.top


@dataclass(frozen=True, slots=True)
class _Frame:
    """Carries a face's mm to a panel's pixels, for one part of the face.

    Drawing happens upright, as the face is read; a turned part is turned when it is set down.
    """

    part: Part
    scale: float  # px per mm
    bleed: float
    outer: Size  # mm, the panel with bleed
    raster: tuple[int, int]

    def box(self, rect: Rect) -> tuple[float, float, float, float]:
        """Left, top, right, bottom in px of the panel's raster, exact."""
        moved = self.part.to_panel(rect)
        k, b = self.scale, self.bleed
        return (
            (moved.x + b) * k,
            (moved.y + b) * k,
            (moved.right + b) * k,
            (moved.bottom + b) * k,
        )

    def span(self, rect: Rect) -> Span:
        """The pixels of the part that belong to `rect`. Pixels beyond the last whole mm belong to
        whatever reaches the panel's right or bottom edge."""
        left, top, right, bottom = self._whole(self.box(rect))
        p_left, p_top, p_right, p_bottom = self._whole(self.box(self.part.source))
        left, top = max(left, p_left, 0), max(top, p_top, 0)
        right = max(min(right, p_right, self.raster[0]), left)
        bottom = max(min(bottom, p_bottom, self.raster[1]), top)
        return Span(left, top, right, bottom)

    def _whole(self, box: tuple[float, float, float, float]) -> tuple[int, int, int, int]:
        def far(edge: float, outer: float, last: int) -> int:
            return last if edge >= (outer - _HAIR) * self.scale else nearest(edge)

        return (
            nearest(box[0]),
            nearest(box[1]),
            far(box[2], self.outer.width, self.raster[0]),
            far(box[3], self.outer.height, self.raster[1]),
        )

    def set_down(self, panel: Image.Image, piece: Image.Image, at: Span) -> None:
        """Lay an upright piece on the panel; its clear parts let through what is below."""
        if self.part.turned:
            piece = piece.transpose(Image.Transpose.ROTATE_180)
        mask = piece.getchannel("A") if piece.mode == "RGBA" else None
        panel.paste(piece.convert("RGB"), (at.left, at.top), mask)

    def share(self, rect: Rect, at: Span) -> tuple[float, float, float, float]:
        """Which part of `rect`'s own picture lies on the pixels `at`, as shares of its sides,
        upright: exact, so that nothing drifts by the rounding of pixels."""
        left, top, right, bottom = self.box(rect)
        wide, high = right - left, bottom - top
        x0, x1 = (at.left - left) / wide, (at.right - left) / wide
        y0, y1 = (at.top - top) / high, (at.bottom - top) / high
        return (1 - x1, 1 - y1, 1 - x0, 1 - y0) if self.part.turned else (x0, y0, x1, y1)


def _wanted(photo: PhotoFacts, crop: Rect, rect: Rect, scale: float) -> tuple[int, int]:
    """The size of the whole photo that serves: its crop must not be coarser than the raster."""
    need = rect.width * scale / crop.width
    return (
        min(math.ceil(photo.width_px * need), photo.width_px),
        min(math.ceil(photo.height_px * need), photo.height_px),
    )


@dataclass(frozen=True, slots=True)
class _Brush:
    """Paints layers on one part of a face, with what the run has opened."""

    materials: Materials
    panel: Image.Image
    frame: _Frame

    def layer(self, placed: Placed) -> None:
        match placed:
            case PlacedColour():
                at = self.frame.span(placed.rect)
                ink = ImageColor.getrgb(placed.colour)[:3]
                self.panel.paste(ink, (at.left, at.top, at.right, at.bottom))
            case PlacedPattern():
                self._pattern(placed)
            case PlacedArt():
                self._picture(placed.picture, placed.crop, placed.rect)
            case PlacedPhoto():
                if placed.photo and placed.crop:
                    self._picture(placed.photo, placed.crop, placed.rect)
            case PlacedWords():
                typeface = self.materials.typeface(placed.font_file)
                for run in placed.runs:
                    self._run(run, typeface, placed.colour)
            case _:
                assert_never(placed)

    def _picture(self, photo: PhotoFacts, crop: Rect, rect: Rect) -> None:
        """The part `crop` of a photo laid on `rect`."""
        frame = self.frame
        at = frame.span(rect)
        if 0 in at.size:
            return
        x0, y0, x1, y1 = frame.share(rect, at)
        box = (
            (crop.x + x0 * crop.width) / photo.width_px,
            (crop.y + y0 * crop.height) / photo.height_px,
            (crop.x + x1 * crop.width) / photo.width_px,
            (crop.y + y1 * crop.height) / photo.height_px,
        )
        wanted = _wanted(photo, crop, rect, frame.scale)

        def make() -> Image.Image:
            return self.materials.pictures.open_part(photo, wanted, {"box": box, "size": at.size})

        key = (photo.pixels, wanted, box, at.size)
        frame.set_down(self.panel, self.materials.pieces.remember(key, make), at)

    def _pattern(self, placed: PlacedPattern) -> None:
        """Repeats start at the rect's corner (of a fill: at the face's), each on its own pixels."""
        frame = self.frame
        at = frame.span(placed.rect)
        if 0 in at.size:
            return
        wide = placed.repeat_mm
        high = wide * placed.picture.height_px / placed.picture.width_px
        start = (0.0, 0.0) if placed.fill else (placed.rect.x, placed.rect.y)
        piece = Image.new("RGBA", at.size)
        for cell in cells(placed.rect, start, wide, high, placed.lay):
            left, top, right, bottom = (nearest(e + _HAIR) for e in frame.box(cell.rect))
            if right <= left or bottom <= top:
                continue
            if right <= at.left or left >= at.right or bottom <= at.top or top >= at.bottom:
                continue
            x, y = left - at.left, top - at.top
            if frame.part.turned:
                x, y = at.right - right, at.bottom - bottom
            tile = self._tile(placed, (right - left, bottom - top))
            piece.paste(turned_over(tile, cell), (x, y))
        frame.set_down(self.panel, piece, at)

    def _tile(self, placed: PlacedPattern, size: tuple[int, int]) -> Image.Image:
        """One repeat at a size in px; its edges are worked out with its neighbours there."""

        def make() -> Image.Image:
            tile = self.materials.pictures.open_pixels(placed.picture)
            wide, high = tile.size
            return with_neighbours(tile, placed.lay).resize(
                size, Image.Resampling.LANCZOS, box=(wide, high, 2 * wide, 2 * high)
            )

        key = (placed.picture.sha256, size, placed.lay)
        return self.materials.tiles.remember(key, make)

    def _run(self, run: TextRun, typeface: Typeface, colour: str) -> None:
        """A line of words: its large mask brought down to the raster by area, exactly in place."""
        frame = self.frame
        drawn = typeface.mask(run.text, 2 * run.size_mm * frame.scale)
        if drawn is None:
            return
        mask, ink = drawn
        rect = Rect(
            run.x_mm + ink.left * run.size_mm,
            run.baseline_mm + ink.top * run.size_mm,
            ink.width * run.size_mm,
            (ink.bottom - ink.top) * run.size_mm,
        )
        grown = rect.grown(2 / frame.scale, 2 / frame.scale, 2 / frame.scale, 2 / frame.scale)
        at = frame.span(grown)
        if 0 in at.size:
            return
        # Room around the mask, so that the pixels at its edge can be partly covered.
        x_room = math.ceil(4 / (rect.width * frame.scale) * mask.width)
        y_room = math.ceil(4 / (rect.height * frame.scale) * mask.height)
        roomy = Image.new("L", (mask.width + 2 * x_room, mask.height + 2 * y_room), 0)
        roomy.paste(mask, (x_room, y_room))
        x0, y0, x1, y1 = frame.share(rect, at)
        box = (
            x_room + x0 * mask.width,
            y_room + y0 * mask.height,
            x_room + x1 * mask.width,
            y_room + y1 * mask.height,
        )
        cover = roomy.resize(at.size, Image.Resampling.BOX, box=box)
        piece = Image.new("RGBA", at.size, colour)
        piece.putalpha(cover)
        frame.set_down(self.panel, piece, at)


def paint(
    layout: Layout, ppi: float, materials: Materials, *, on: tuple[int, int, int] = BARE
) -> Rasters:
    """Each panel of the layout as an RGB picture: the panel with its bleed, print side up, not
    mirrored; white is bare cloth. Faces are drawn in the design's order, layers bottom first, `on`
    what is bare.

    Errors: ProofgenError when a photo changed or went bad since it was looked at.
    """
    plan = layout.plan
    panels = {name: Image.new("RGB", panel_pixels(plan, name, ppi), on) for name in plan.panels}
    for face, layers in layout.faces.items():
        for placed in layers:
            for part in plan.canvases[face].parts:
                size = plan.panels[part.panel]
                frame = _Frame(
                    part=part,
                    scale=ppi / MM_PER_INCH,
                    bleed=plan.bleed,
                    outer=Size(size.width + 2 * plan.bleed, size.height + 2 * plan.bleed),
                    raster=panels[part.panel].size,
                )
                _Brush(materials, panels[part.panel], frame).layer(placed)
    return Rasters(layout=layout, ppi=ppi, panels=panels)


def paint_by_name(
    variants: Sequence[Variant], ppi: float, materials: Materials
) -> Mapping[str, Image.Image]:
    """The rasters of an order by the names under which an edition keeps them, each look painted
    when it is asked for; only the last stays in memory. Errors: as `paint`, then."""
    places = {
        name: (look, panel)
        for look, names in enumerate(raster_names(variants))
        for panel, name in names.items()
    }
    looks: Recent[Rasters] = Recent(1)

    def make(name: str) -> Image.Image:
        look, panel = places[name]
        layout = variants[look].layout
        return looks.remember(look, lambda: paint(layout, ppi, materials))[panel]

    return Lazy(places, make)
