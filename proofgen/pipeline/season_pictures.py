"""Pictures of a season: each design on each blank, the first ones together, the one to share."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable, Sequence
from typing import TypedDict

from PIL import Image

from proofgen import __version__, catalogue, store
from proofgen.artwork.layout import lay_out
from proofgen.artwork.painting import paint
from proofgen.artwork.placing import Filling
from proofgen.errors import ShopError
from proofgen.model import Blank, Design, Layout, PhotoUse
from proofgen.model.blank_names import called_in
from proofgen.pipeline.season_days import current_season
from proofgen.pipeline.stand_ins import with_stand_ins
from proofgen.say.parts import VIEWS
from proofgen.views import scene
from proofgen.views.inround import ViewKind, round_views
from proofgen.views.pictures import content_name, fitted, jpeg, webp
from proofgen.views.share import SIZE, share_picture
from proofgen.workshop import Workshop

# Widths in px, common practice, no source: a design's first picture is shown across a telephone and
# across half a screen, the others at a third of that; a season's scene across two thirds.
FRONT_WIDTHS, VIEW_WIDTHS, SCENE_WIDTHS = (320, 640, 960), (480,), (480, 800, 1200)
# How wide the one is that every browser and the booklet show.
FRONT_PLAIN, VIEW_PLAIN, SCENE_PLAIN = 640, 360, 1000
_PLAIN_QUALITY, _SLIM_QUALITY = 68, 70
_SAVES = 0.8  # of the plain one's bytes at most, else the slim ones are not worth their place
SCENE_PPI = 150.0
VIEW_PPI = 160.0  # enough for a front across half a can
_GOOD_SIDES: tuple[ViewKind, ...] = ("front", "left", "right", "back")  # not where it closes


class KeptScaled(TypedDict):
    """A picture in another size; its bytes, a WebP or a JPEG, are base64."""

    content: str
    ending: str
    width_px: int


class KeptView(TypedDict):
    """A picture in the round as the store keeps it; the JPEG is base64."""

    side: str
    jpeg: str
    width_px: int
    height_px: int
    scaled: list[KeptScaled]


def sample_layout(workshop: Workshop, design: Design, blank: Blank) -> Layout:
    """The design with its own sample photo and words on a blank."""
    photos = {s: PhotoUse(file=f, place=design.place) for s, f in design.sample_photos.items()}
    colours = list(blank.cloth.colours)
    return lay_out(
        design,
        blank,
        Filling(
            photos=photos,
            words=design.sample_words,
            least_letter_mm=workshop.shop.settings.limits.letter_height_mm,
        ),
        cloth=design.sample_cloth if design.sample_cloth in colours else colours[0],
        materials=workshop.materials,
        place=design.place,
    )


def picture_layout(workshop: Workshop, design: Design, blank: Blank) -> Layout:
    """A design on a blank as pictures show it: as its sample; a place for a photo that has none is
    a framed ground that says so, and words without a sample are called by what they are."""
    shown = with_stand_ins(design, workshop.theme_for(None).tongue)
    try:
        return sample_layout(workshop, shown, blank)
    except ShopError:
        if shown is design:
            raise
        return sample_layout(workshop, design, blank)  # no font for what stands in


def _base64(content: bytes) -> str:
    return base64.b64encode(content).decode()


def _kept(side: str, image: Image.Image, plain_px: int, widths: Iterable[int]) -> KeptView:
    """A picture as a JPEG `plain_px` wide and in other widths, as WebP where that saves enough."""
    plain = fitted(image, plain_px)
    content = jpeg(plain, _PLAIN_QUALITY)
    is_slim = len(webp(plain, _SLIM_QUALITY)) <= _SAVES * len(content)
    scaled = []
    for width in widths:
        if width > image.width or (width == plain.width and not is_slim):
            continue
        one = fitted(image, width)
        made = webp(one, _SLIM_QUALITY) if is_slim else jpeg(one, _PLAIN_QUALITY)
        ending = "webp" if is_slim else "jpg"
        scaled.append(KeptScaled(content=_base64(made), ending=ending, width_px=one.width))
    return {
        "side": side,
        "jpeg": _base64(content),
        "width_px": plain.width,
        "height_px": plain.height,
        "scaled": scaled,
    }


def _plate(view: KeptView, alt: str, label: str) -> catalogue.Plate:
    content = base64.b64decode(view["jpeg"])
    scaled = []
    for one in view["scaled"]:
        other = base64.b64decode(one["content"])
        name = f"pictures/{content_name(other, one['ending'])}"
        scaled.append(catalogue.Scaled(name=name, content=other, width_px=one["width_px"]))
    return catalogue.Plate(
        name=f"pictures/{content_name(content, 'jpg')}",
        content=content,
        alt=alt,
        width_px=view["width_px"],
        height_px=view["height_px"],
        label=label,
        side=view["side"],
        scaled=tuple(scaled),
    )


def _views(
    workshop: Workshop, layout: Layout, ground: str, wide: float, first: bool
) -> list[KeptView]:
    """A layout's front in pictures `wide` mm across; of a design's first blank large, and its other
    good sides."""
    rasters = paint(layout, VIEW_PPI, workshop.materials)

    def seen(kinds: tuple[ViewKind, ...], plain: int, widths: Sequence[int]) -> list[KeptView]:
        views = round_views(
            rasters,
            max(widths),
            background=ground,
            mood=workshop.theme.look.mood,
            kinds=kinds,
            width_mm=wide,
            store=workshop.store,
        )
        return [_kept(view.kind, view.image, plain, widths) for view in views]

    if not first:
        return seen(("front",), VIEW_PLAIN, VIEW_WIDTHS)
    front = seen(("front",), FRONT_PLAIN, FRONT_WIDTHS)
    if layout.plan.way_round is None:
        return front
    return [*front, *seen(_GOOD_SIDES[1:], VIEW_PLAIN, VIEW_WIDTHS)]


def ground_of(workshop: Workshop, design: Design) -> tuple[int, str]:
    """The ground that a design's pictures stand on: its number among the theme's, from 1, and its
    colour. Designs of a season take them in turn."""
    chosen, plates = current_season(workshop), workshop.theme.look.plates
    order = chosen[0].designs if chosen else ()
    turn = order.index(design.id) % len(plates) if design.id in order else 0
    return turn + 1, plates[turn]


def plates(
    workshop: Workshop, design: Design, blank: Blank, layout: Layout, wide: float, first: bool
) -> tuple[catalogue.Plate, ...]:
    """A design on a blank, in pictures `wide` mm across: from the front; on the first blank it is
    offered on from its other good sides as well."""
    # A layout names its files' digests and every measure, so its own words are its key.
    _, ground = ground_of(workshop, design)
    views: list[KeptView] = workshop.store.remember(
        "catalogue views/7",
        f"{__version__} {ground} {workshop.theme.look.mood} {wide} {first} {layout!r}",
        lambda: _views(workshop, layout, ground, wide, first),
        json.loads,
        store.dump_json,
    )
    tongue, made = workshop.theme_for(None).tongue, []
    name = called_in(blank, tongue)
    for view in views:
        side = tongue(VIEWS[view["side"]])
        alt = tongue("{design} on {blank}: {side}", design=design.title, blank=name, side=side)
        made.append(_plate(view, alt, side))
    return tuple(made)


class _KeptScene(TypedDict):
    scene: KeptView
    share: str  # base64 of a JPEG


def scene_of(
    workshop: Workshop, designs: Sequence[Design], colour: str
) -> tuple[catalogue.Plate | None, catalogue.Plate | None]:
    """The first designs that stand on cans, each on the first blank it is offered on, together; and
    that as the picture to share, with the season's `colour`. None, None of fewer than two."""
    blanks = [
        workshop.shop.blanks[next(b for b in d.offered if b in workshop.shop.blanks)]
        for d in designs
    ]
    standing = [(d, b) for d, b in zip(designs, blanks, strict=True) if b.construction != "flat"]
    shown = standing[: scene.MOST]
    if len(shown) < 2:
        return None, None
    layouts = [picture_layout(workshop, design, blank) for design, blank in shown]
    look, materials = workshop.theme.look, workshop.materials
    ground, band = look.plates[0], colour or look.tokens["season"]

    def made() -> _KeptScene:
        things = [paint(layout, SCENE_PPI, materials) for layout in layouts]
        widest = max(SCENE_WIDTHS)
        together = scene.scene(
            things, widest, background=ground, mood=look.mood, store=workshop.store
        )
        shared = share_picture(together, ground=ground, band=band)
        return {
            "scene": _kept("front", together, SCENE_PLAIN, SCENE_WIDTHS),
            "share": _base64(jpeg(shared, _PLAIN_QUALITY)),
        }

    kept: _KeptScene = workshop.store.remember(
        "season's scene/5",
        f"{__version__} {ground} {look.mood} {band} {layouts!r}",
        made,
        json.loads,
        store.dump_json,
    )
    tongue = workshop.theme_for(None).tongue
    side = tongue(VIEWS["front"])
    each = "{design} on {blank}: {side}"
    alt = "; ".join(
        tongue(each, design=d.title, blank=called_in(b, tongue), side=side) for d, b in shown
    )
    plate = _plate(kept["scene"], alt, " · ".join(design.title for design, _ in shown))
    content = base64.b64decode(kept["share"])
    wide, high = SIZE
    share = catalogue.Plate(
        name=f"pictures/{content_name(content, 'jpg')}",
        content=content,
        alt=alt,
        width_px=wide,
        height_px=high,
    )
    return plate, share
