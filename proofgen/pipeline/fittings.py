"""Each design with a photo, made ready for "See your photo on it"."""

from __future__ import annotations

import base64
import io
import json
import math
from collections.abc import Sequence
from typing import TypedDict

import numpy as np
from PIL import Image

from proofgen import __version__, store
from proofgen.catalogue.fitting import Cloth, Fitting, FittingOffer, Sheet, View
from proofgen.colour import ink_on_cloth, law_of
from proofgen.geometry import Size
from proofgen.model import Design, Layout, PlacedPhoto
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.proof.colour_words import say_photo
from proofgen.say.parts import VIEWS
from proofgen.views.fitting import gaps_of, spot_of, stack_of, surface_of, without_photos
from proofgen.views.hand import lying
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.maps import Map, lying_map, map_of
from proofgen.views.hand.planes import lies_at, planes_picture, wall_of
from proofgen.views.hand.sleeve import frame_of, sleeve_of
from proofgen.views.hand.turntable import turntable_of
from proofgen.views.pictures import content_name
from proofgen.workshop import Workshop

VIEW_WIDTH = 640  # px, as the page's other pictures
_QUALITY, _COVER_QUALITY = 62, 70  # of WebP: of its colours, and of how much they cover
_FINER = 1.25  # px of what is laid on a piece to one of its views: their edges fall on whole px
# The sides in the order in which a piece turns, a quarter each; the last is a wrap's join.
_TURNING = ("front", "right", "back", "left")


class Kept(TypedDict):
    """A picture as the store keeps it, base64, and a number told beside it."""

    picture: str
    rows: int


class _Files:
    """Pictures by their address, each once."""

    def __init__(self, workshop: Workshop) -> None:
        self.by_name: dict[str, bytes] = {}
        self._store = workshop.store

    def add(self, content: bytes) -> str:
        name = f"pictures/{content_name(content, 'webp')}"
        self.by_name[name] = content
        return name

    def planes(self, map_: Map, key: str) -> tuple[str, int]:
        """The shares of a map as a picture, made once; its address and the rows of each."""

        def made() -> Kept:
            content, rows = planes_picture(map_)
            return {"picture": base64.b64encode(content).decode(), "rows": rows}

        kept: Kept = self._store.remember(
            "planes of a fitting/2", f"{__version__} {key}", made, json.loads, store.dump_json
        )
        return self.add(base64.b64decode(kept["picture"])), kept["rows"]


def _strip(surface: Size, per_mm: float) -> tuple[int, int]:
    """How many px the flat pictures of a surface have, for views of so many px a mm."""
    return round(surface.width * per_mm * _FINER), round(surface.height * per_mm * _FINER)


def _webp(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "WEBP", quality=_QUALITY, alpha_quality=_COVER_QUALITY, method=5)  # in memory
    return out.getvalue()


def _cloths(workshop: Workshop, layout: Layout) -> tuple[Cloth, ...]:
    blank, tongue = layout.blank, workshop.theme_for(None).tongue
    return tuple(
        Cloth(
            name=name,
            called=called,
            shade=shade,
            law=law_of(shade, blank.cloth.correction(name)),
            does=say_photo(shade, blank.cloth.correction(name), tongue),
        )
        for name, (called, shade) in zip(blank.cloth.colours, cloths_in(blank, tongue), strict=True)
    )


def _sheets(
    workshop: Workshop, layout: Layout, size: tuple[int, int], files: _Files
) -> tuple[Sheet, ...]:
    """The layers of a fitting. What lies below every photo is opaque, since
    it hides the bare cloth."""
    sheets: list[Sheet] = []
    spots = 0
    for layers in stack_of(layout):
        if isinstance(layers, PlacedPhoto):
            sheets.append(Sheet(spot=spots))
            spots += 1
            continue
        clear = bool(sheets)
        group, key = layers, f"{__version__} {size} {clear} {layers!r} {layout.blank!r}"

        def made(group: list = group, clear: bool = clear) -> list[str]:
            ink = without_photos(layout, group, size, workshop.materials, clear=clear)
            return [base64.b64encode(_webp(one)).decode() for one in _on_cloths(ink, layout)]

        pictures: list[str] = workshop.store.remember(
            "sheets of a fitting/3", key, made, json.loads, store.dump_json
        )
        sheets.append(Sheet(pictures=tuple(files.add(base64.b64decode(p)) for p in pictures)))
    return tuple(sheets)


def _on_cloths(ink: Image.Image, layout: Layout) -> list[Image.Image]:
    """Ink, RGB or RGBA, as it looks on each cloth of the blank."""
    cloth, seen = layout.blank.cloth, []
    for name, shade in cloth.colours.items():
        colour = ink_on_cloth(np.asarray(ink.convert("RGB")), shade, cloth.correction(name))
        one = Image.fromarray(colour)
        if ink.mode == "RGBA":
            one.putalpha(ink.getchannel("A"))
        seen.append(one)
    return seen


def fitting_offer(workshop: Workshop, layout: Layout, wide: float, files: _Files) -> FittingOffer:
    """A layout ready for a photo, its pictures `wide` mm across."""
    blank, tongue = layout.blank, workshop.theme_for(None).tongue
    plan, mood = layout.plan, workshop.theme.look.mood
    _, surface = surface_of(plan)
    shared = {
        "blank": blank.id,
        "called": called_in(blank, tongue),
        "cloths": _cloths(workshop, layout),
        "surface": (surface.width, surface.height),
        "spots": tuple(
            spot_of(layout, placed) for placed in layout.layers if isinstance(placed, PlacedPhoto)
        ),
        "bare": tuple(gaps_of(plan)),
    }
    if plan.way_round is None:
        piece = piece_of(layout, mood)
        frame = lying.frame_of(piece, VIEW_WIDTH, wide)
        map_ = lying_map(piece, frame, workshop.store)
        planes, _ = files.planes(map_, repr((piece, frame)))
        return FittingOffer(
            **shared,  # type: ignore[arg-type]
            strip=_strip(surface, frame.per_mm),
            size=(frame.width_px, frame.height_px),
            sheets=_sheets(workshop, layout, _strip(surface, frame.per_mm), files),
            views=(View(called=tongue(VIEWS["front"]), planes=planes),),
            lies=lies_at(piece, VIEW_WIDTH, wide),
        )
    sleeve = sleeve_of(layout, mood)
    frame = frame_of(sleeve, VIEW_WIDTH, wide)
    strip = _strip(surface, frame.per_mm)
    views = []
    for quarter, kind in enumerate(_TURNING):
        side = "closure" if kind == "back" and plan.construction == "wrap" else kind
        turn = quarter * math.pi / 2 if quarter < 3 else -math.pi / 2
        map_round = map_of(sleeve, frame, turn, workshop.store)
        planes, _ = files.planes(map_round, repr((sleeve, frame, quarter)))
        views.append(View(called=tongue(VIEWS[side]), planes=planes))
    return FittingOffer(
        **shared,  # type: ignore[arg-type]
        strip=strip,
        size=(frame.width_px, frame.height_px),
        sheets=_sheets(workshop, layout, strip, files),
        views=tuple(views),
        wall=wall_of(sleeve, VIEW_WIDTH, wide),
        turntable=turntable_of(sleeve, VIEW_WIDTH, wide),
        front=plan.front_share,
    )


def fitting_of(
    workshop: Workshop,
    design: Design,
    layouts: Sequence[tuple[Layout, float]],
    ground: str,
) -> Fitting | None:
    """A design's fitting from its layouts and how wide (mm) their pictures are; None of a design
    without a photo. Errors: as `paint`."""
    slots = design.slots("photo")
    if not slots:
        return None
    files = _Files(workshop)
    limits = workshop.shop.settings.limits
    offers = tuple(fitting_offer(workshop, layout, wide, files) for layout, wide in layouts)
    return Fitting(
        slots=tuple((slot, design.label(slot)) for slot in slots),
        limits=(limits.good_ppi, limits.floor_ppi),
        ground=ground,
        offers=offers,
        files=files.by_name,
    )
