"""The catalogue: each design of the season laid on each blank it is offered on."""

from __future__ import annotations

import base64
import json
from collections.abc import Callable
from typing import TypedDict

from proofgen import __version__, catalogue, store
from proofgen.artwork.layout import lay_out
from proofgen.artwork.painting import paint
from proofgen.artwork.placing import Filling
from proofgen.errors import MachineError, ShopError
from proofgen.model import Blank, Design, Layout, PhotoUse, PlacedPhoto, Season
from proofgen.pipeline.cards import blank_cards
from proofgen.pipeline.rights import refuse_unshown
from proofgen.say import plural
from proofgen.say.parts import VIEWS
from proofgen.units import pixels
from proofgen.views.inround import round_views
from proofgen.views.pictures import content_name, jpeg
from proofgen.workshop import Workshop

VIEW_WIDTH = 640  # px; twice what a phone shows, common practice, no source
CATALOGUE_QUALITY = 78
VIEW_PPI = 110.0  # enough for VIEW_WIDTH across half a can


def current_season(workshop: Workshop) -> Season | None:
    """The season to publish: the last by name, as winter-2026 comes after summer-2026."""
    seasons = sorted(workshop.shop.seasons, key=lambda s: s.id)
    return seasons[-1] if seasons else None


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
    """Width and height in px of the smallest photo that is sharp in every photo slot."""
    slots = [p.rect for p in layout.layers if isinstance(p, PlacedPhoto)]
    if not slots:
        return None
    return (
        max(pixels(r.width, good_ppi) for r in slots),
        max(pixels(r.height, good_ppi) for r in slots),
    )


class KeptView(TypedDict):
    """A picture in the round as the store keeps it; the JPEG is base64."""

    label: str
    jpeg: str
    width_px: int
    height_px: int


def _views(workshop: Workshop, layout: Layout, ground: str) -> list[KeptView]:
    """The good sides of a layout."""
    rasters = paint(layout, VIEW_PPI, workshop.materials)
    return [
        {
            "label": VIEWS[view.kind],
            "jpeg": base64.b64encode(jpeg(view.image, CATALOGUE_QUALITY)).decode(),
            "width_px": view.image.width,
            "height_px": view.image.height,
        }
        for view in round_views(rasters, VIEW_WIDTH, background=ground)
        if view.kind != "closure"  # a shop window shows the good sides
    ]


def _plates(
    workshop: Workshop, design: Design, blank: Blank, layout: Layout
) -> tuple[catalogue.Plate, ...]:
    # A layout names its files' digests and every measure, so its own words are its key.
    ground = workshop.theme.plate
    views: list[KeptView] = workshop.store.remember(
        "catalogue views/1",
        f"{__version__} {ground} {layout!r}",
        lambda: _views(workshop, layout, ground),
        json.loads,
        store.dump_json,
    )
    made = []
    for view in views:
        content = base64.b64decode(view["jpeg"])
        made.append(
            catalogue.Plate(
                name=f"pictures/{content_name(content, 'jpg')}",
                content=content,
                alt=f"{design.title} on {blank.name}: {view['label']}",
                width_px=view["width_px"],
                height_px=view["height_px"],
                label=view["label"],
            )
        )
    return tuple(made)


def _offer(workshop: Workshop, design: Design, blank: Blank) -> catalogue.Offer:
    layout = sample_layout(workshop, design, blank)
    plan = layout.plan
    first = plan.canvases["round" if "round" in design.faces else next(iter(design.faces))]
    return catalogue.Offer(
        blank=blank.id,
        blank_name=blank.name,
        construction=blank.construction,
        finish=blank.cloth.finish,
        size_mm=(first.size.width, first.size.height),
        cloths=tuple(blank.cloth.colours),
        prices=tuple(sorted(design.offered[blank.id])),
        least_px=least_photo(layout, workshop.shop.settings.limits.good_ppi),
        plates=_plates(workshop, design, blank, layout),
    )


def entry(workshop: Workshop, design: Design) -> catalogue.Entry:
    """One design of the season. ShopError where a blank it is offered on cannot carry it."""
    offers = [
        _offer(workshop, design, workshop.shop.blanks[name])
        for name in design.offered
        if name in workshop.shop.blanks
    ]
    if not offers:
        raise ShopError(
            f"the design “{design.title}” is offered on no blank",
            "name one under offered:",
            design.place,
        )
    return catalogue.Entry(
        id=design.id,
        title=design.title,
        text=design.text,
        occasions=design.occasions,
        photo_slots=tuple(design.label(slot) for slot in design.slots("photo")),
        word_slots=tuple(design.label(slot) for slot in design.slots("words")),
        offers=tuple(offers),
    )


def make_catalogue(workshop: Workshop) -> list[str]:
    """Publish the season below site/; sentences that tell where it is."""
    season = current_season(workshop)
    settings = workshop.shop.settings
    if season is None:
        return [
            "There is no season yet, so no catalogue. The README shows how to write one "
            "(under “Your own designs and seasons”)."
        ]
    entries = []
    for name in season.designs:
        if name not in workshop.shop.designs:
            continue  # its fault was told when the folder was read
        with workshop.each(f"catalogue: {name}"):
            refuse_unshown(workshop, workshop.shop.designs[name])
            entries.append(entry(workshop, workshop.shop.designs[name]))
    content = catalogue.SeasonContent(
        shop_name=settings.name,
        contact=settings.contact,
        demo=settings.demo,
        title=season.title,
        sentence=season.sentence,
        text=season.text,
        entries=tuple(entries),
        texts=workshop.shop.words,
        blanks=blank_cards(workshop.shop, [e.id for e in entries]),
    )
    workshop.say("catalogue: pages and PDF")
    try:
        files = catalogue.build(
            content, workshop.theme, remember=lambda page, make: _remembered(workshop, page, make)
        )
    except MachineError as error:
        workshop.trouble.append(error)
        files = catalogue.build(content, workshop.theme, with_pdf=False)
    _publish(workshop, files)
    count = plural(len(entries), "design")
    sentences = [f"Catalogue: site/index.html ({count})"]
    if catalogue.PDF_NAME in files:
        sentences.append(f"Catalogue to print: site/{catalogue.PDF_NAME}")
    return sentences


def _remembered(workshop: Workshop, page: str, make: Callable[[], bytes]) -> bytes:
    """The booklet made from the same page before: its pictures are named by their content."""
    key = f"{__version__} {page}"
    return workshop.store.remember("catalogue booklet/1", key, make, bytes, bytes)


def _publish(workshop: Workshop, files: dict[str, bytes]) -> None:
    """Pictures first, pages after, and only then what no page shows any longer is removed."""
    for name, content in files.items():
        store.write(workshop.site / name, content)
    for part in ("pictures", "designs", "words"):
        folder = workshop.site / part
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if f"{part}/{path.name}" not in files:
                store.remove(path)
