"""The catalogue: each design of the season laid on each blank it is offered on."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable, Iterable, Sequence
from typing import TypedDict

from PIL import Image

from proofgen import __version__, catalogue, store
from proofgen.artwork.layout import lay_out
from proofgen.artwork.painting import paint
from proofgen.artwork.placing import Filling
from proofgen.errors import MachineError, ShopError
from proofgen.model import Blank, Design, Layout, PhotoUse, PlacedPhoto, Season
from proofgen.model.blank_names import called_in, cloths_in
from proofgen.pipeline.cards import blank_cards, without_samples
from proofgen.pipeline.crew import crew_for, crew_there
from proofgen.pipeline.fittings import fitting_of
from proofgen.pipeline.rights import refuse_unshown
from proofgen.pipeline.season_days import current_season, days_of
from proofgen.pipeline.surroundings import surroundings
from proofgen.say import plural, quoted
from proofgen.say.parts import FINISH_WORDS, VIEWS
from proofgen.units import pixels
from proofgen.views import scene
from proofgen.views.inround import round_views, shared_width
from proofgen.views.pictures import content_name, jpeg
from proofgen.workshop import Workshop

VIEW_WIDTH = 640  # px; twice what a phone shows, common practice, no source
CATALOGUE_QUALITY = 78
SCENE_WIDTH, SCENE_QUALITY = 1200, 70  # px: as wide as a page shows it, or twice a phone's
SCENE_PPI = 150.0
VIEW_PPI = 110.0  # enough for VIEW_WIDTH across half a can


def _cloth(design: Design, blank: Blank) -> str:
    colours = list(blank.cloth.colours)
    return design.sample_cloth if design.sample_cloth in colours else colours[0]


def sample_layout(workshop: Workshop, design: Design, blank: Blank) -> Layout:
    """The design with its own sample photo and words on a blank."""
    photos = {s: PhotoUse(file=f, place=design.place) for s, f in design.sample_photos.items()}
    return lay_out(
        design,
        blank,
        Filling(
            photos=photos,
            words=design.sample_words,
            least_letter_mm=workshop.shop.settings.limits.letter_height_mm,
        ),
        cloth=_cloth(design, blank),
        materials=workshop.materials,
        place=design.place,
    )


def least_photo(layout: Layout, good_ppi: float) -> tuple[int, int] | None:
    """Width and height in px of the smallest photo with enough pixels for every photo slot."""
    slots = [p.rect for p in layout.layers if isinstance(p, PlacedPhoto)]
    if not slots:
        return None
    return (
        max(pixels(r.width, good_ppi) for r in slots),
        max(pixels(r.height, good_ppi) for r in slots),
    )


class KeptView(TypedDict):
    """A picture in the round as the store keeps it; the JPEG is base64."""

    side: str
    jpeg: str
    width_px: int
    height_px: int


def _kept(side: str, image: Image.Image, quality: int) -> KeptView:
    return {
        "side": side,
        "jpeg": base64.b64encode(jpeg(image, quality)).decode(),
        "width_px": image.width,
        "height_px": image.height,
    }


def _views(workshop: Workshop, layout: Layout, ground: str, wide: float) -> list[KeptView]:
    """The good sides of a layout, in pictures `wide` mm across."""
    rasters = paint(layout, VIEW_PPI, workshop.materials)
    return [
        _kept(view.kind, view.image, CATALOGUE_QUALITY)
        for view in round_views(
            rasters, VIEW_WIDTH, background=ground, width_mm=wide, store=workshop.store
        )
        if view.kind != "closure"  # a shop window shows the good sides
    ]


def _ground(workshop: Workshop, design: Design) -> tuple[int, str]:
    """The ground that a design's pictures stand on: its number among the theme's, from 1, and its
    colour. Designs of a season take them in turn."""
    chosen, plates = current_season(workshop), workshop.theme.look.plates
    order = chosen[0].designs if chosen else ()
    turn = order.index(design.id) % len(plates) if design.id in order else 0
    return turn + 1, plates[turn]


def _plates(
    workshop: Workshop, design: Design, blank: Blank, layout: Layout, wide: float
) -> tuple[catalogue.Plate, ...]:
    # A layout names its files' digests and every measure, so its own words are its key.
    _, ground = _ground(workshop, design)
    views: list[KeptView] = workshop.store.remember(
        "catalogue views/4",
        f"{__version__} {ground} {wide} {layout!r}",
        lambda: _views(workshop, layout, ground, wide),
        json.loads,
        store.dump_json,
    )
    tongue, made = workshop.theme_for(None).tongue, []
    name = called_in(blank, tongue)
    for view in views:
        content, side = base64.b64decode(view["jpeg"]), tongue(VIEWS[view["side"]])
        made.append(
            catalogue.Plate(
                name=f"pictures/{content_name(content, 'jpg')}",
                content=content,
                alt=tongue(
                    "{design} on {blank}: {side}", design=design.title, blank=name, side=side
                ),
                width_px=view["width_px"],
                height_px=view["height_px"],
                label=side,
                side=view["side"],
            )
        )
    return tuple(made)


def _scene(workshop: Workshop, designs: Sequence[Design]) -> catalogue.Plate | None:
    """The first designs that stand on cans, each on the first blank it is offered on, together."""
    blanks = [
        workshop.shop.blanks[next(b for b in d.offered if b in workshop.shop.blanks)]
        for d in designs
    ]
    standing = [(d, b) for d, b in zip(designs, blanks, strict=True) if b.construction != "flat"]
    shown = standing[: scene.MOST]
    if len(shown) < 2:
        return None
    layouts = [sample_layout(workshop, design, blank) for design, blank in shown]
    ground, materials = workshop.theme.look.plates[0], workshop.materials

    def made() -> KeptView:
        things = [paint(layout, SCENE_PPI, materials) for layout in layouts]
        together = scene.scene(things, SCENE_WIDTH, background=ground, store=workshop.store)
        return _kept("front", together, SCENE_QUALITY)

    view: KeptView = workshop.store.remember(
        "season's scene/3",
        f"{__version__} {ground} {layouts!r}",
        made,
        json.loads,
        store.dump_json,
    )
    content, tongue = base64.b64decode(view["jpeg"]), workshop.theme_for(None).tongue
    side = tongue(VIEWS["front"])
    each = "{design} on {blank}: {side}"
    return catalogue.Plate(
        name=f"pictures/{content_name(content, 'jpg')}",
        content=content,
        alt="; ".join(
            tongue(each, design=d.title, blank=called_in(b, tongue), side=side) for d, b in shown
        ),
        width_px=view["width_px"],
        height_px=view["height_px"],
        label=" · ".join(design.title for design, _ in shown),
        side="front",
    )


def _offer(
    workshop: Workshop, design: Design, blank: Blank, layout: Layout, wide: float
) -> catalogue.Offer:
    plan, tongue = layout.plan, workshop.theme_for(None).tongue
    first = plan.canvases["round" if "round" in design.faces else next(iter(design.faces))]
    return catalogue.Offer(
        blank=blank.id,
        blank_name=called_in(blank, tongue),
        construction=blank.construction,
        finish=tongue(FINISH_WORDS[blank.cloth.finish]),
        size_mm=(first.size.width, first.size.height),
        cloths=cloths_in(blank, tongue),
        prices=tuple(sorted(design.offered[blank.id])),
        least_px=least_photo(layout, workshop.shop.settings.limits.good_ppi),
        plates=_plates(workshop, design, blank, layout, wide),
        shape=blank.shape,
    )


def entry(workshop: Workshop, design: Design) -> catalogue.Entry:
    """One design of the season. ShopError where a blank it is offered on cannot carry it."""
    blanks = [workshop.shop.blanks[n] for n in design.offered if n in workshop.shop.blanks]
    layouts = [sample_layout(workshop, design, blank) for blank in blanks]
    widths = [shared_width(layout, layouts) for layout in layouts]
    offers = [
        _offer(workshop, design, blank, layout, wide)
        for blank, layout, wide in zip(blanks, layouts, widths, strict=True)
    ]
    if not offers:
        raise ShopError(
            f"the design “{design.title}” is offered on no blank",
            "name one under offered:",
            design.place,
        )
    number, ground = _ground(workshop, design)
    return catalogue.Entry(
        id=design.id,
        title=design.title,
        text=design.text,
        occasions=design.occasions,
        photo_slots=tuple(design.label(slot) for slot in design.slots("photo")),
        word_slots=tuple(design.label(slot) for slot in design.slots("words")),
        offers=tuple(offers),
        ground=number,
        fitting=fitting_of(workshop, design, list(zip(layouts, widths, strict=True)), ground),
        form=catalogue.order_form(design, workshop.shop.blanks, workshop.theme_for(None).tongue),
    )


def make_catalogue(workshop: Workshop) -> list[str]:
    """Publish the season below site/; sentences that tell where it is."""
    chosen = current_season(workshop)
    if chosen is None:
        return [
            "There is no season yet, so no catalogue. The README shows how to write one "
            "(under “Your own designs and seasons”)."
        ]
    season, why = chosen
    if crew := crew_there(workshop):
        crew.finish("design", "booklet")
    content = season_content(workshop, season)
    workshop.say("catalogue: pages and PDF")
    try:
        files = season_files(workshop, content)
    except MachineError as error:
        workshop.trouble.append(error)
        files = catalogue.build(content, workshop.theme_for(None), with_pdf=False)
    _publish(workshop, files)
    workshop.store.keep(_MADE, "", surroundings(workshop).shared.encode())
    count = plural(len(content.entries), "design")
    sentences = [
        f"Catalogue: site/index.html ({count})",
        f"    Its season is {season.id}: {why}.",
    ]
    if catalogue.PDF_NAME in files:
        sentences.append(f"Catalogue to print: site/{catalogue.PDF_NAME}")
    return [*sentences, *without_samples(workshop, season), *_foreign_told(workshop, files)]


_MADE = "season made/1"


def _is_made(workshop: Workshop) -> bool:
    """Whether an earlier run made the season from the same files on the same day."""
    return workshop.store.recall(_MADE, "") == surroundings(workshop).shared.encode()


def season_ahead(workshop: Workshop) -> None:
    """Ask for the season's designs to be drawn side by side, where no earlier run drew them."""
    chosen = current_season(workshop)
    if chosen is None or _is_made(workshop):
        return
    designs = [name for name in chosen[0].designs if name in workshop.shop.designs]
    if crew := crew_for(workshop, len(designs)):
        for name in designs:
            crew.add("design", name)


def booklet_ahead(workshop: Workshop) -> None:
    """Ask for the season's booklet, once its designs were asked for."""
    chosen, crew = current_season(workshop), crew_there(workshop)
    if chosen and crew and not _is_made(workshop):
        crew.add("booklet", chosen[0].id)


def season_content(workshop: Workshop, season: Season) -> catalogue.SeasonContent:
    """All that a season's pages show; a design that cannot be shown is gathered as trouble."""
    settings = workshop.shop.settings
    theme = workshop.theme_for(None)
    entries = []
    for name in season.designs:
        if name not in workshop.shop.designs:
            continue  # its fault was told when the folder was read
        with workshop.each(f"catalogue: {name}"):
            refuse_unshown(workshop, workshop.shop.designs[name])
            entries.append(entry(workshop, workshop.shop.designs[name]))
    return catalogue.SeasonContent(
        shop_name=settings.name,
        contact=settings.contact,
        demo=settings.demo,
        title=season.title,
        sentence=season.sentence,
        text=season.text,
        entries=tuple(entries),
        texts=workshop.shop.words,
        scene=_scene(workshop, [workshop.shop.designs[made.id] for made in entries]),
        blanks=blank_cards(workshop.shop, entries, theme),
        **days_of(workshop, season),
        colour=season.colour,
    )


def season_files(workshop: Workshop, content: catalogue.SeasonContent) -> dict[str, bytes]:
    """A season's pages and booklet. Errors: MachineError where no PDF can be made."""
    return catalogue.build(
        content,
        workshop.theme_for(None),
        remember=lambda page, make: _remembered(workshop, page, make),
    )


_PARTS = ("pictures", "designs", "words", "fonts")
# What hosts ask for is put there on purpose: _headers, robots.txt, .well-known, favicon.ico, CNAME.
_FOR_HOSTS = ("_", ".", "robots.txt", "favicon", "CNAME")


def _foreign_told(workshop: Workshop, files: Iterable[str]) -> list[str]:
    """What lies in site/ beside the catalogue and would be uploaded with it, for people."""
    ours = {"p", *_PARTS, catalogue.PDF_NAME, *(name.split("/")[0] for name in files)}
    if workshop.shop.settings.demo:
        ours.add("guide")  # which `proofgen demo` writes
    there = sorted(path.name for path in workshop.site.iterdir())
    foreign = [name for name in there if name not in ours and not name.startswith(_FOR_HOSTS)]
    if not foreign:
        return []
    more = f" and {len(foreign) - 5} more" if len(foreign) > 5 else ""
    named = ", ".join(map(quoted, foreign[:5])) + more
    return [
        f"In site/ also, and not made by proofgen: {named}. Once it is uploaded everybody can "
        "read it; if it is not meant for that, move it out first."
    ]


def _remembered(workshop: Workshop, page: str, make: Callable[[], bytes]) -> bytes:
    """The booklet made from the same page before: its pictures are named by their content."""
    key = f"{__version__} {page}"
    return workshop.store.remember("catalogue booklet/1", key, make, bytes, bytes)


def _publish(workshop: Workshop, files: dict[str, bytes]) -> None:
    """Pictures first, pages after, and only then what no page shows any longer is removed."""
    for name, content in files.items():
        store.write(workshop.site / name, content, private=False)
    for part in _PARTS:
        folder = workshop.site / part
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if f"{part}/{path.name}" not in files:
                store.remove(path)
