"""One line of an order as its page shows it: every picture cut from the rasters to be pressed."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import FaceName
from proofgen.model import Limits, Line, PlacedPhoto
from proofgen.model.documents import Verdict
from proofgen.proof.colour_words import say_colours, say_reach
from proofgen.proof.content import Drawing, Pair, Picture, RealSize, Work, picture
from proofgen.proof.shown import Look, Shown
from proofgen.render.drawing import blank_svg
from proofgen.say import number, pieces
from proofgen.say.parts import FACES, ON_NARROW_DRAWINGS, VIEWS
from proofgen.views.colours import kept_report
from proofgen.views.cut import face_picture, flat_view, real_size_crop
from proofgen.views.inround import ViewKind, round_views
from proofgen.views.pair import ink_pair
from proofgen.views.pictures import fitted

_LOOKS: dict[Verdict, str] = {"good": "sharp", "soft": "a little soft", "coarse": "coarse"}
VIEW_WIDTH = 640  # px: the picture is the loud thing on the page
FACE_WIDTH = 520
FLAT_WIDTH = 1000
# Type in the flat drawing, as a share of its width and height: smaller than the page's where there
# is room, large enough to read where the whole drawing is as wide as a phone.
LETTER, NARROW_LETTER = 1 / 58, 1 / 36
REAL_SIZE_MM = (85.0, 50.0)
SHOWN_FACES = 60  # a longer guest list shows its words, and these many pictures
# As it is turned in the hand.
_TURNED: tuple[ViewKind, ...] = ("front", "right", "closure", "back", "left")


def _sharpness(looks: Sequence[Look], limits: Limits) -> str:
    layers = (p for look in looks for p in look.variant.layout.layers)
    every = (p.ppi for p in layers if isinstance(p, PlacedPhoto) and p.ppi is not None)
    ppi = min(every, default=None)
    if ppi is None:
        return ""
    verdict = _LOOKS[limits.verdict(ppi)]
    return f"Your photo has {number(ppi, 0)} pixels for every printed inch: {verdict}."


def _faces(looks: Sequence[Look], title: str) -> list[Picture]:
    pictures = []
    for look in looks[:SHOWN_FACES]:
        # What is drawn all the way round shows the front as well.
        drawn = look.variant.layout.faces
        faces: list[FaceName] = ["round"] if "round" in drawn else list(drawn)
        several = len(faces) > 1
        whose = look.variant.pieces
        for face in faces:
            pictures.append(
                picture(
                    f"face-{look.number}-{face}",
                    fitted(face_picture(look.rasters, face), FACE_WIDTH),
                    f"{title}: {FACES[face]}, {pieces(whose)}",
                    f"{pieces(whose, capital=True)}, {FACES[face]}"
                    if several
                    else pieces(whose, capital=True),
                )
            )
    return pictures


def _drawings(rasters: Rasters, line: Line, title: str) -> list[Drawing]:
    plan = rasters.layout.plan
    drawings = []
    for panel, size in plan.panels.items():
        flat = picture(
            f"flat-{line.number}-{panel.replace(' ', '-')}",
            fitted(flat_view(rasters, panel), FLAT_WIDTH),
            f"{title}, laid flat",
        )
        wide, narrow = (
            blank_svg(
                plan,
                panel,
                prefix="flat",
                picture_href=flat.name,
                title=f"{title}, laid flat",
                desc="Where the edges, the join and the hidden strip fall.",
                letter_mm=(size.width + size.height) * share,
                labels=labels,
            )
            for share, labels in ((LETTER, None), (NARROW_LETTER, ON_NARROW_DRAWINGS))
        )
        label = "The whole cloth, laid flat" if len(plan.panels) == 1 else f"The {panel}, laid flat"
        drawings.append(Drawing(label=label, svg=wide, picture=flat, narrow_svg=narrow))
    return drawings


def _pair(shown: Shown, rasters: Rasters, line: Line, title: str) -> Pair:
    layout, at = rasters.layout, line.number
    inks = ink_pair(rasters, next(iter(layout.faces)), FACE_WIDTH, shown.printer)
    says: tuple[str, ...] = ()
    if layout.cloth_hex.lower() != "#ffffff":
        says = say_colours(kept_report(layout, shown.materials), shown.tongue)
    if inks.unreached:
        says = (*says, say_reach(inks.share, shown.tongue))
    on_cloth = f"{title}: the ink on {layout.cloth}"
    if inks.printed:
        on_cloth = f"{title}: the ink on {layout.cloth}, as the printer gives it"
    out_of_reach = f"{title}: what the printer cannot reach"
    return Pair(
        white=picture(f"ink-white-{at}", inks.white, f"{title}: the ink on white"),
        cloth=picture(f"ink-cloth-{at}", inks.cloth, on_cloth) if inks.cloth else None,
        cloth_name=layout.cloth,
        shape="round" if layout.plan.shape == "round" else "",
        says=says,
        printed=inks.printed,
        reach=picture(f"reach-{at}", inks.unreached, out_of_reach) if inks.unreached else None,
    )


def _real_size(rasters: Rasters, line: Line, title: str) -> RealSize:
    image, rect = real_size_crop(rasters, *REAL_SIZE_MM)
    part = picture(f"real-size-{line.number}", image, f"{title}: a part at its real size")
    return RealSize(picture=part, width_mm=rect.width, height_mm=rect.height)


def _views(rasters: Rasters, line: Line, title: str, plate: str) -> list[Picture]:
    views = round_views(rasters, VIEW_WIDTH, background=plate)
    return [
        picture(
            f"view-{line.number}-{view.kind}",
            view.image,
            f"{title}: {VIEWS[view.kind]}",
            VIEWS[view.kind],
        )
        for view in sorted(views, key=lambda view: _TURNED.index(view.kind))
    ]


def work_of(shown: Shown, line: Line) -> Work:
    """One line of the order, drawn: its first look from all sides, the others by their faces."""
    shop, looks = shown.shop, shown.looks(line)
    title = f"{shop.designs[line.design].title} on {shop.blanks[line.blank].name}, {line.cloth}"
    first = looks[0].rasters
    return Work(
        title=title,
        pieces=tuple(sorted(n for look in looks for n in look.variant.pieces)),
        views=tuple(_views(first, line, title, shown.plate)),
        faces=tuple(_faces(looks, title)) if len(looks) > 1 else (),
        drawings=tuple(_drawings(first, line, title)),
        pair=_pair(shown, first, line, title),
        real_size=_real_size(first, line, title),
        sharpness=_sharpness(looks, shop.settings.limits),
    )
