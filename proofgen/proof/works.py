"""One line of an order as its page shows it: every picture cut from the rasters to be pressed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from PIL import Image

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import FaceName
from proofgen.model import Design, Layout, Limits, Line, PlacedPhoto
from proofgen.model.blank_names import called_in
from proofgen.model.documents import Verdict
from proofgen.proof.colour_words import say_colours, say_reach
from proofgen.proof.content import Pair, Picture, Work, picture
from proofgen.proof.drawings import drawings_of
from proofgen.proof.pieces import pieces_of
from proofgen.proof.real_sizes import real_sizes_of
from proofgen.proof.said import Window, colours_of, said_of
from proofgen.proof.shown import Look, Shown
from proofgen.say import sentences
from proofgen.say.parts import VIEWS
from proofgen.say.tongue import Tongue, to_say
from proofgen.views.colours import kept_report
from proofgen.views.cut import shown_faces
from proofgen.views.hand.sleeve import sleeve_of
from proofgen.views.hand.turntable import Turntable, turntable_of
from proofgen.views.inround import View, ViewKind, round_views, shared_width
from proofgen.views.pair import ink_pair
from proofgen.views.solid.made import Model, model_of, models_can_be_made

# Of the count alone: a smear has enough pixels, too, and a finding says what else there is.
_SHARP: Mapping[Verdict, str] = {
    "good": to_say(
        "Your photo has {ppi} pixels (the dots a picture is made of) for every printed inch: "
        "enough for this size."
    ),
    "soft": to_say(
        "Your photo has {ppi} pixels (the dots a picture is made of) for every printed inch: "
        "rather few for this size."
    ),
    "coarse": to_say(
        "Your photo has {ppi} pixels (the dots a picture is made of) for every printed inch: "
        "too few for this size."
    ),
}
VIEW_WIDTH = 640  # px: the picture is the loud thing on the page
_VIEW_QUALITY, _LARGE_QUALITY = 64, 54  # of WebP; of twice the pixels each may be coarser
FACE_WIDTH = 520
# As it is turned in the hand.
_TURNED: tuple[ViewKind, ...] = ("front", "right", "closure", "back", "left")


def sharpness_of(looks: Sequence[Look], design: Design, limits: Limits, tongue: Tongue) -> str:
    """How many pixels the coarsest photo has for its size, and which of several it is."""
    layers = (p for look in looks for p in look.variant.layout.layers)
    every = [(p.ppi, p.slot) for p in layers if isinstance(p, PlacedPhoto) and p.ppi is not None]
    if not every:
        return ""
    ppi, slot = min(every, key=lambda one: one[0])
    says = tongue(_SHARP[limits.verdict(ppi)], ppi=tongue.number(ppi, 0))
    if len(design.slots("photo")) < 2:
        return says
    return tongue("“{word}”: {sentence}", word=design.label(slot), sentence=says)


def _pair(shown: Shown, rasters: Rasters, line: Line, face: FaceName, told: bool) -> Pair:
    """`told`: with what the cloth does to the colours, which is said once for all faces."""
    tongue, layout = shown.tongue, rasters.layout
    inks = ink_pair(rasters, face, FACE_WIDTH, shown.printer)
    side, at = tongue(VIEWS[face]), f"{line.number}-{face}"

    def shows(name: str, image: Image.Image, said: str) -> Picture:
        return picture(f"{name}-{at}", image, sentences(said, colours_of(image, tongue)))

    says: tuple[str, ...] = ()
    if told and layout.cloth_hex.lower() != "#ffffff":
        says = say_colours(kept_report(layout, shown.materials), tongue)
    if inks.unreached:
        says = (*says, say_reach(inks.share, tongue))
    on_white = tongue("{side}: the ink on white.", side=side)
    cloth = tongue.message(layout.cloth)
    on_cloth = tongue("{side}: the ink on your cloth, {cloth}.", side=side, cloth=cloth)
    reach = tongue("{side}: what the printer cannot reach is hatched.", side=side)
    return Pair(
        side=side,
        white=shows("ink-white", inks.white, on_white),
        cloth=shows("ink-cloth", inks.cloth, on_cloth) if inks.cloth else None,
        cloth_name=cloth,
        shape="round" if layout.plan.shape == "round" else "",
        says=says,
        printed=inks.printed,
        reach=picture(f"reach-{at}", inks.unreached, reach) if inks.unreached else None,
    )


def _view(
    rasters: Rasters, line: Line, view: View, tongue: Tongue, larger: Image.Image | None
) -> Picture:
    """One side; of the two that are looked at first the colours are told."""
    window = Window(face="front")
    if view.centre is not None:
        window = Window(face="round", start=view.centre - 0.25)
    wide, high = view.image.size  # the cloth without can, ground and the dark of its limbs
    middle = view.image.crop((wide // 4, high * 2 // 5, wide * 3 // 4, high * 4 // 5))
    coloured = None if view.kind in ("left", "right") else middle
    alt = said_of(rasters.layout, window, view.kind, tongue, coloured)
    name = f"view-{line.number}-{view.kind}"
    caption = tongue(VIEWS[view.kind])
    small = picture(name, view.image, alt, caption, quality=_VIEW_QUALITY, fine=False)
    if larger is None:
        return small
    sharp = picture(f"{name}-large", larger, alt, caption, quality=_LARGE_QUALITY, fine=False)
    return replace(small, large=sharp)


def _views(rasters: Rasters, line: Line, shown: Shown) -> tuple[Picture, ...]:
    """All sides; of the first, which is shown large, twice the pixels as well. The things of an
    order share one scale where they are of about one size."""
    wide = shared_width(rasters.layout, [v.layout for v in shown.variants], shown.mood)
    seen = partial(
        round_views,
        rasters,
        background=shown.plate,
        mood=shown.mood,
        width_mm=wide,
        store=shown.materials.store,
    )
    views = seen(VIEW_WIDTH)
    (large,) = seen(2 * VIEW_WIDTH, most=1)
    turned = sorted(views, key=lambda view: _TURNED.index(view.kind))
    return tuple(
        _view(rasters, line, view, shown.tongue, large.image if view.kind == large.kind else None)
        for view in turned
    )


def _turntable(layout: Layout, shown: Shown) -> Turntable | None:
    """How the views turn; None of a flat piece."""
    if layout.plan.way_round is None:
        return None
    wide = shared_width(layout, [v.layout for v in shown.variants], shown.mood)
    return turntable_of(sleeve_of(layout, shown.mood), VIEW_WIDTH, wide)


def _model(rasters: Rasters, shown: Shown) -> Model | None:
    """What a telephone can set on a table."""
    if not (shown.shop.settings.models and models_can_be_made()):
        return None
    return model_of(rasters, shown.materials.store)


def work_of(shown: Shown, line: Line) -> Work:
    """One line of the order, drawn: its first look from all sides, and every piece of a list."""
    shop, looks, tongue = shown.shop, shown.looks(line), shown.tongue
    first, design = looks[0].rasters, shop.designs[line.design]
    every, every_says = pieces_of(shown, looks)
    faces = shown_faces(first.layout)
    return Work(
        title=tongue(
            "{design} on {blank}, {cloth}",
            design=design.title,
            blank=called_in(shop.blanks[line.blank], tongue),
            cloth=tongue.message(line.cloth),
        ),
        pieces=tuple(sorted(n for look in looks for n in look.variant.pieces)),
        views=_views(first, line, shown),
        turntable=_turntable(first.layout, shown),
        model=_model(first, shown),
        drawings=drawings_of(shown, first, line),
        pairs=tuple(_pair(shown, first, line, f, told=f == faces[0]) for f in faces),
        real_sizes=real_sizes_of(shown, looks, line, faces),
        sharpness=sharpness_of(looks, design, shop.settings.limits, tongue),
        every=every,
        every_says=every_says,
    )
