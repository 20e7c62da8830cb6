"""The ticket: the page that goes to the press with an order's sheets."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from itertools import groupby
from typing import TypedDict

from PIL import Image

from proofgen.artwork.rasters import Rasters, raster_names
from proofgen.model import Layout, Order, Shop, Variant
from proofgen.press.band import LADDER, LEGIBLE, BandFacts, Block, set_band
from proofgen.press.batches import LineWork, seconds, stages
from proofgen.press.job import Job
from proofgen.press.pieces import cloth_of, inked_panels, notes_of, words_of
from proofgen.press.planning import SheetPlan, page_of_measures
from proofgen.press.sheet import mirrored
from proofgen.press.steps import DEFERS, Step, cautions, press_steps, source_of
from proofgen.render import Theme, html_to_pdf, set_once
from proofgen.say import number, pieces, runs
from proofgen.say.parts import PANELS
from proofgen.signoff import leave_given
from proofgen.views.cut import flat_view
from proofgen.views.inround import shape_mask

# Longest side of a picture on the ticket, px: 300 a printed inch at 80 mm, and at the 42 mm of
# all but a line's first. Ours.
_LONGEST_PX, _SMALLER_PX = 950, 500
_QUALITY, _LESS = 88, 80  # of their JPEGs
# Of the band, mm: as wide as the page between its margins, and no higher than leaves room. Ours.
_BAND_WIDE, _BAND_HIGH = 182.0, 35.0


@dataclass(frozen=True, slots=True)
class Pictures:
    """A panel both ways as JPEG: as it will look on its cloth, and as its paper looks. `is_cut`: to
    a shape that is no rectangle, whose edge is drawn, so that it needs no frame."""

    look: bytes
    paper: bytes
    is_cut: bool


class TicketPanel(TypedDict):
    """A panel's name in words, and its pictures by the names of their files."""

    name: str
    look: str
    paper: str
    is_cut: bool


class TicketLook(TypedDict):
    """Pieces that look alike."""

    numbers: str
    words: list[str]
    panels: list[TicketPanel]


class TicketPiece(TypedDict):
    """Neighbours that look alike to tick off, and the sheets that their papers lie on; `notes`:
    what their list says of them beside their words."""

    numbers: str
    words: list[str]
    notes: list[str]
    sheets: str


class SheetsInFile(TypedDict):
    """An order's sheets in one file, all of one paper, and on which of its pages they lie."""

    numbers: str
    paper: str
    file: str
    pages: str


class TicketLine(TypedDict):
    """What the ticket says of one line of the order."""

    work: LineWork
    band: Block
    cloth: str
    celsius: str
    time: str
    sides: str
    papers: int
    spare_papers: int
    source: str
    minutes: str
    cycle: str
    steps: list[Step]
    looks: list[TicketLook]
    pieces: list[TicketPiece]


def small_pictures(
    layout: Layout, panel: str, image: Image.Image, ppi: float, *, leads: bool
) -> Pictures:
    """A panel's signed raster of `ppi` made small, both ways; `leads`: it is its line's first."""
    small, longest = image.copy(), _LONGEST_PX if leads else _SMALLER_PX
    small.thumbnail((longest, longest), Image.Resampling.LANCZOS, reducing_gap=2.0)
    quality = _QUALITY if leads else _LESS
    rasters = Rasters(layout=layout, ppi=ppi * small.width / image.width, panels={panel: small})
    return Pictures(
        look=_jpeg(_cut_out(rasters, panel), quality),
        paper=_jpeg(mirrored(small), quality),
        is_cut=layout.plan.shape != "rectangle",
    )


def _cut_out(rasters: Rasters, panel: str) -> Image.Image:
    """A panel as it will look, cut to a round blank's shape, whose edge is drawn."""
    look, plan = flat_view(rasters, panel), rasters.layout.plan
    if plan.shape == "rectangle":
        return look
    mask = shape_mask(look.size, plan.shape, plan.corner * rasters.scale)
    inner = Image.new("L", look.size, 0)
    inner.paste(mask.resize((look.width - 4, look.height - 4)), (2, 2))
    cut = Image.new("RGB", look.size, "white")
    cut.paste("#555555", mask=mask)
    cut.paste(look, mask=inner)
    return cut


def _jpeg(image: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    image.convert("RGB").save(out, "JPEG", quality=quality, subsampling=0)
    return out.getvalue()


def ticket_pdf(
    job: Job,
    works: Sequence[LineWork],
    printed: Mapping[str, Sequence[SheetPlan]],
    pictures: Callable[[str, str], Pictures],
    shop: Shop,
    theme: Theme,
    *,
    made: datetime,
) -> bytes:
    """The ticket of one order, A4. `printed` are all sheets, by the names of their files, a page
    each; `pictures` gives those of an order's raster by its name."""
    files: dict[str, bytes] = {}
    sheets = [plan for some in printed.values() for plan in some if job.order.id in plan.orders]
    times = shop.settings.times
    html = theme.render(
        "ticket.html",
        medium="sheet",
        styles=("press",),
        shop=shop.settings.name,
        order=job.order,
        edition=job.signed.edition,
        made=made.date(),
        lines=[_line(job, work, sheets, pictures, files) for work in works],
        spares_share=f"{number(shop.settings.spares * 100)} %",
        setups=[number(stage.setup_s / 60) for stage in stages(works, times) if stage.setup_s],
        minutes=number(seconds(works, times) / 60, 0),
        sheets=_lying_in(job.order.id, printed),
        measures=_measures_in(job.order.id, printed, shop),
        cautions=cautions({work.blank.construction for work in works}),
        defers=DEFERS,
        remarks=job.remarks,
        customers_words=list(job.signed.words),
        rights=_rights(job),
        since=job.since,
        promised=job.promised,
        earlier=job.earlier,
        recorded=job.recorded(),
        accepted=[(finding.says, finding.accepted) for finding in job.accepted],
    )
    title = f"Press ticket {job.order.id}"
    make = partial(html_to_pdf, html, files, page_title=title)
    return set_once(theme.kept, title + html, files, make)


_SAID = {None: "nobody said", True: "yes", False: "no"}


def _rights(job: Job) -> dict[str, str]:
    """What the customer allows with their pictures; empty where the order has none of theirs."""
    if not job.order.has_photos:
        return {}
    leave = leave_given(job.order.rights, job.signed.answers)
    return {"print": _SAID[leave.print], "show": _SAID[leave.show]}


def _line(
    job: Job,
    work: LineWork,
    sheets: Sequence[SheetPlan],
    pictures: Callable[[str, str], Pictures],
    files: dict[str, bytes],
) -> TicketLine:
    """One line of the order; its pictures are put into `files`."""
    looks = [
        (variant, names)
        for variant, names in zip(job.variants, raster_names(job.variants), strict=True)
        if variant.line == work.line
    ]
    cloth = cloth_of(looks[0][0].layout)
    papers = [
        (plan, on)
        for plan in sheets
        for on in plan.pieces
        if (on.piece.order, on.piece.line) == (job.order.id, work.line)
    ]
    return {
        "work": work,
        "band": _band(job.order.id, work, cloth, [plan for plan, _ in papers]),
        "cloth": cloth,
        "celsius": work.setting.heat[0],
        "time": number(work.setting.time_s),
        "sides": "both sides, each for the full time" if work.sides > 1 else "one side",
        "papers": len(papers),
        "spare_papers": work.spares * len(work.panels),
        "source": source_of(work.press),
        "minutes": number(work.seconds / 60, 1),
        "cycle": number(work.cycle_s),
        "steps": press_steps(work.blank, work.panels),
        "looks": [_look(job, names, variant, pictures, files) for variant, names in looks],
        "pieces": _pieces(job.order, [variant for variant, _ in looks], sheets),
    }


def _band(order: str, work: LineWork, cloth: str, sheets: Sequence[SheetPlan]) -> Block:
    """What the band of the line's sheets says, in the largest type that leaves room for the rest;
    of a name too long for every size, in the least."""
    numbers = runs(plan.number_of(order) for plan in sheets)
    of = {of for plan in sheets for owner, _, of in plan.numbers if owner == order}
    facts = BandFacts(
        setting=work.setting,
        cloths=[(cloth, work.blank.name)],
        orders=[f"{order} {numbers} of {max(of)}"] if of else [order],
    )
    for sizes in (size for size in LADDER if size >= LEGIBLE):
        band = set_band(facts, sizes, _BAND_WIDE)
        if band and band.height <= _BAND_HIGH:
            return band
    return set_band(facts, LADDER[-1], math.inf) or Block(width=0, height=0)


def _lying_in(order: str, printed: Mapping[str, Sequence[SheetPlan]]) -> list[SheetsInFile]:
    """An order's sheets in words, with their paper, file and pages."""
    lying: list[SheetsInFile] = []
    for file, plans in printed.items():
        own = {page: p for page, p in enumerate(plans, 1) if order in p.orders}
        if own:
            lying.append(
                {
                    "numbers": runs(plan.number_of(order) for plan in own.values()),
                    "paper": plans[0].paper,
                    "file": file,
                    "pages": f"{'page' if len(own) == 1 else 'pages'} {runs(own)}",
                }
            )
    return lying


def _measures_in(
    order: str, printed: Mapping[str, Sequence[SheetPlan]], shop: Shop
) -> list[tuple[str, int]]:
    """The files of an order whose last page has what their sheets have no room for; which it is."""
    return [
        (file, len(plans) + 1)
        for file, plans in printed.items()
        if any(order in plan.orders for plan in plans)
        and page_of_measures(file, plans, shop.settings)
    ]


def _look(
    job: Job,
    names: Mapping[str, str],
    variant: Variant,
    pictures: Callable[[str, str], Pictures],
    files: dict[str, bytes],
) -> TicketLook:
    panels: list[TicketPanel] = []
    for panel in inked_panels(variant.layout):
        both = pictures(job.order.id, names[panel])
        stem = names[panel].removesuffix(".png")
        look, paper = f"{stem}-look.jpg", f"{stem}-paper.jpg"
        files |= {look: both.look, paper: both.paper}
        panels.append({"name": PANELS[panel], "look": look, "paper": paper, "is_cut": both.is_cut})
    return {
        "numbers": pieces(variant.pieces, capital=True),
        "words": words_of(variant.words),
        "panels": panels,
    }


def _pieces(
    order: Order, variants: Sequence[Variant], sheets: Sequence[SheetPlan]
) -> list[TicketPiece]:
    """Every piece of a line, by its number; neighbours that look alike, share their sheets and
    have the same notes are one row."""
    notes = notes_of(order)
    words = {piece: words_of(v.words) for v in variants for piece in v.pieces}
    lies_on: dict[int, list[int]] = {piece: [] for piece in words}
    for plan in sheets:
        own = (on.piece.piece for on in plan.pieces if on.piece.order == order.id)
        for piece in dict.fromkeys(own):
            if piece in lies_on:
                lies_on[piece].append(plan.number_of(order.id))
    alike = groupby(
        sorted(words), lambda piece: (words[piece], notes.get(piece, []), runs(lies_on[piece]))
    )
    return [
        {"numbers": runs(row), "words": said, "notes": noted, "sheets": on_sheets}
        for (said, noted, on_sheets), row in alike
    ]
