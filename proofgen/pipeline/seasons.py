"""The catalogue: each design of the season laid on each blank it is offered on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from proofgen import __version__, catalogue
from proofgen.errors import ShopError
from proofgen.model import Blank, Design, Layout, PlacedPhoto, Season
from proofgen.model.blank_names import called_in, cloths_in, finish_in
from proofgen.pipeline.cards import blank_cards
from proofgen.pipeline.fittings import fitting_of
from proofgen.pipeline.rights import refuse_unshown
from proofgen.pipeline.season_days import days_of, when_of
from proofgen.pipeline.season_models import standing_of
from proofgen.pipeline.season_pictures import (
    ground_of,
    picture_layout,
    plates,
    sample_layout,
    scene_of,
)
from proofgen.pipeline.suiting import suiting_of
from proofgen.units import pixels
from proofgen.views.inround import shared_width
from proofgen.workshop import Workshop


def least_photo(layout: Layout, good_ppi: float) -> tuple[int, int] | None:
    """Width and height in px of the smallest photo with enough pixels for every photo slot."""
    slots = [p.rect for p in layout.layers if isinstance(p, PlacedPhoto)]
    if not slots:
        return None
    return (
        max(pixels(r.width, good_ppi) for r in slots),
        max(pixels(r.height, good_ppi) for r in slots),
    )


def _gone(workshop: Workshop, blank: Blank) -> frozenset[str]:
    """The cloths, as customers call them, of which none is left that no order needs."""
    tongue = workshop.theme_for(None).tongue
    stock = ((cloth, workshop.in_stock.get((blank.id, cloth))) for cloth in blank.cloth.colours)
    return frozenset(
        tongue.message(cloth)
        for cloth, one in stock
        if one and one.left is not None and one.left <= sum(one.needs.values())
    )


def _offer(
    workshop: Workshop, design: Design, blank: Blank, layout: Layout, wide: float, first: bool
) -> catalogue.Offer:
    plan, tongue = layout.plan, workshop.theme_for(None).tongue
    face = plan.canvases["round" if "round" in design.faces else next(iter(design.faces))]
    return catalogue.Offer(
        blank=blank.id,
        blank_name=called_in(blank, tongue),
        construction=blank.construction,
        finish=finish_in(blank, tongue),
        size_mm=(face.size.width, face.size.height),
        cloths=cloths_in(blank, tongue),
        prices=tuple(sorted(design.offered[blank.id])),
        least_px=least_photo(layout, workshop.shop.settings.limits.good_ppi),
        plates=plates(
            workshop, design, blank, picture_layout(workshop, design, blank), wide, first
        ),
        shape=blank.shape,
        gone=_gone(workshop, blank),
        base_mm=plan.base_mm,
    )


def entry(workshop: Workshop, design: Design) -> catalogue.Entry:
    """One design of the season. ShopError where a blank it is offered on cannot carry it."""
    blanks = [workshop.shop.blanks[n] for n in design.offered if n in workshop.shop.blanks]
    layouts = [sample_layout(workshop, design, blank) for blank in blanks]
    widths = [shared_width(layout, layouts, workshop.theme.look.mood) for layout in layouts]
    offers = [
        _offer(workshop, design, blank, layout, wide, blank is blanks[0])
        for blank, layout, wide in zip(blanks, layouts, widths, strict=True)
    ]
    if not offers:
        raise ShopError(
            f"the design “{design.title}” is offered on no blank",
            "name one under offered:",
            design.place,
        )
    number, ground = ground_of(workshop, design)
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
        model=standing_of(workshop, picture_layout(workshop, design, blanks[0])),
        form=catalogue.order_form(
            design,
            workshop.shop.blanks,
            workshop.theme_for(None).tongue,
            suiting_of(workshop, layouts),
        ),
    )


def _entries(workshop: Workshop, season: Season) -> list[catalogue.Entry]:
    """A season's designs; one that cannot be shown is gathered as trouble."""
    entries = []
    for name in season.designs:
        if name not in workshop.shop.designs:
            continue  # its fault was told when the folder was read
        with workshop.each(f"catalogue: {name}"):
            refuse_unshown(workshop, workshop.shop.designs[name])
            entries.append(entry(workshop, workshop.shop.designs[name]))
    return entries


def _issues(
    workshop: Workshop, shown: Season, entries: Sequence[catalogue.Entry]
) -> Iterator[catalogue.Issue]:
    """Every season that has a page of its own: the one that is shown, those to come, the first
    first, those that are over, the last first. Of one to come nothing is drawn."""
    others = [season for season in workshop.shop.seasons if season.id != shown.id]
    placed = [(when_of(workshop, season), season) for season in others]
    soon = [one for one in placed if one[0] == "soon"]
    soon.sort(key=lambda one: (one[1].begins or workshop.today, one[1].id))
    rest = [one for one in placed if one[0] in ("now", "past")]
    rest.sort(key=lambda one: (one[1].ends or one[1].begins or workshop.today, one[1].id))
    known = {made.id: made for made in entries}
    for when, season in [("now", shown), *soon, *reversed(rest)]:
        if when is None:
            continue
        made: Sequence[catalogue.Entry] = entries if season.id == shown.id else ()
        if when != "soon" and season.id != shown.id:
            made = [known.setdefault(one.id, one) for one in _entries(workshop, season)]
        yield catalogue.Issue(
            id=season.id,
            title=season.title,
            sentence=season.sentence,
            text=season.text,
            when=when,
            begins=season.begins,
            ends=season.ends,
            entries=tuple(made),
        )


def season_content(workshop: Workshop, season: Season) -> catalogue.SeasonContent:
    """All that a season's pages show; a design that cannot be shown is gathered as trouble."""
    settings = workshop.shop.settings
    theme = workshop.theme_for(None)
    entries = _entries(workshop, season)
    designs = [workshop.shop.designs[made.id] for made in entries]
    scene, share = scene_of(workshop, designs, season.colour)
    issues = tuple(_issues(workshop, season, entries))
    others = {one.id: one for issue in issues for one in issue.entries}
    every = [*entries, *(one for name, one in others.items() if name not in season.designs)]
    return catalogue.SeasonContent(
        shop_name=settings.name,
        contact=settings.contact,
        demo=settings.demo,
        title=season.title,
        sentence=season.sentence,
        text=season.text,
        entries=tuple(entries),
        texts=workshop.shop.pages_of_words,
        scene=scene,
        share=share,
        blanks=blank_cards(workshop.shop, every, theme),
        **days_of(workshop, season),
        colour=season.colour,
        site=settings.site,
        currency=settings.currency,
        today=workshop.today,
        issues=issues,
    )


def season_files(
    workshop: Workshop,
    content: catalogue.SeasonContent,
    feed_before: bytes = b"",
    with_pdf: bool = True,
) -> dict[str, bytes]:
    """A season's pages and booklet; `feed_before` is the feed that was written last. Errors:
    MachineError where no PDF can be made."""
    return catalogue.build(
        content,
        workshop.theme_for(None),
        with_pdf=with_pdf,
        feed_before=feed_before,
        remember=lambda page, make: _remembered(workshop, page, make),
    )


def _remembered(workshop: Workshop, page: str, make: Callable[[], bytes]) -> bytes:
    """The booklet made from the same page before: its pictures are named by their content."""
    key = f"{__version__} {page}"
    return workshop.store.remember("catalogue booklet/1", key, make, bytes, bytes)
