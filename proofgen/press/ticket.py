"""The ticket: the page that goes to the press with an order's sheets."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import TypedDict

from PIL import Image

from proofgen.artwork.rasters import Rasters, raster_names
from proofgen.model import Layout, Shop, Variant
from proofgen.press.band import LADDER, LEGIBLE, BandFacts, Block, set_band
from proofgen.press.batches import SETUP_S, LineWork, minutes
from proofgen.press.job import Job
from proofgen.press.pieces import cloth_of, inked_panels, words_of
from proofgen.press.planning import SheetPlan
from proofgen.press.sheet import mirrored
from proofgen.press.steps import DEFERS, SOURCES, Step, cautions, press_steps
from proofgen.render import Theme, html_to_pdf
from proofgen.say import number, pieces, runs
from proofgen.say.parts import PANELS
from proofgen.signoff import leave_given
from proofgen.views.cut import flat_view

# Longest side of a picture on the ticket, px: 300 a printed inch at 80 mm, and at the 42 mm of
# all but a line's first. Ours.
_LONGEST_PX, _SMALLER_PX = 950, 500
# Of the band, mm: as wide as the page between its margins, and no higher than leaves room. Ours.
_BAND_WIDE, _BAND_HIGH = 182.0, 35.0


@dataclass(frozen=True, slots=True)
class Pictures:
    """A panel both ways as JPEG: as it will look on its cloth, and as its paper looks."""

    look: bytes
    paper: bytes


class TicketPanel(TypedDict):
    """A panel's name in words, and its pictures by the names of their files."""

    name: str
    look: str
    paper: str


class TicketLook(TypedDict):
    """Pieces that look alike."""

    numbers: str
    words: list[str]
    panels: list[TicketPanel]


class TicketPiece(TypedDict):
    """Neighbours that look alike to tick off, and the sheets that their papers lie on."""

    numbers: str
    words: list[str]
    sheets: str


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
    rasters = Rasters(layout=layout, ppi=ppi * small.width / image.width, panels={panel: small})
    return Pictures(_jpeg(flat_view(rasters, panel)), _jpeg(mirrored(small)))


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.convert("RGB").save(out, "JPEG", quality=88, subsampling=0)
    return out.getvalue()


def ticket_pdf(
    job: Job,
    works: Sequence[LineWork],
    sheets: Sequence[SheetPlan],
    pictures: Callable[[str, str], Pictures],
    shop: Shop,
    theme: Theme,
    *,
    made: datetime,
) -> bytes:
    """The ticket of one order, A4. `sheets` are those that carry pieces of it; `pictures` gives
    those of an order's raster by its name."""
    files: dict[str, bytes] = {}
    html = theme.render(
        "ticket.html",
        styles=("press",),
        shop=shop.settings.name,
        order=job.order,
        edition=job.signed.edition,
        made=made.date(),
        lines=[_line(job, work, sheets, pictures, files) for work in works],
        spares_share=f"{number(shop.settings.spares * 100)} %",
        setup=number(SETUP_S / 60),
        minutes=number(minutes(works), 0),
        sheets=_by_paper(job.order.id, sheets),
        cautions=cautions({work.blank.construction for work in works}),
        defers=DEFERS,
        customers_words=list(job.signed.words),
        rights=_rights(job),
        since=job.since,
        promised=job.promised,
        earlier=job.earlier,
        accepted=[(finding.says, finding.accepted) for finding in job.accepted],
    )
    return html_to_pdf(html, files, page_title=f"Press ticket {job.order.id}")


_SAID = {None: "nobody said", True: "yes", False: "no"}


def _rights(job: Job) -> dict[str, str]:
    """What the customer allows with their pictures; empty where the order has none of theirs."""
    if not any(line.photos for line in job.order.lines):
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
        "source": SOURCES[work.press.source],
        "minutes": number(work.seconds / 60, 1),
        "cycle": number(work.cycle_s),
        "steps": press_steps(work.blank, work.panels),
        "looks": [_look(job, names, variant, pictures, files) for variant, names in looks],
        "pieces": _pieces(job.order.id, [variant for variant, _ in looks], sheets),
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


def _by_paper(order: str, sheets: Sequence[SheetPlan]) -> list[tuple[str, str]]:
    """An order's sheets in words, with their paper."""
    numbers: dict[str, list[int]] = {}
    for plan in sheets:
        numbers.setdefault(plan.paper, []).append(plan.number_of(order))
    return [(runs(some), paper) for paper, some in numbers.items()]


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
        panels.append({"name": PANELS[panel], "look": look, "paper": paper})
    return {
        "numbers": pieces(variant.pieces, capital=True),
        "words": words_of(variant.words),
        "panels": panels,
    }


def _pieces(
    order: str, variants: Sequence[Variant], sheets: Sequence[SheetPlan]
) -> list[TicketPiece]:
    """Every piece of a line, by its number; neighbours that look alike and share their sheets
    are one row."""
    words = {piece: words_of(v.words) for v in variants for piece in v.pieces}
    lies_on: dict[int, list[int]] = {piece: [] for piece in words}
    for plan in sheets:
        for piece in dict.fromkeys(on.piece.piece for on in plan.pieces if on.piece.order == order):
            if piece in lies_on:
                lies_on[piece].append(plan.number_of(order))
    alike = groupby(sorted(words), lambda piece: (words[piece], runs(lies_on[piece])))
    return [
        {"numbers": runs(row), "words": said, "sheets": on_sheets}
        for (said, on_sheets), row in alike
    ]
