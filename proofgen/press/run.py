"""From signed jobs to sheets, tickets and the document: the order of the steps."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import partial
from typing import BinaryIO

from PIL import Image

from proofgen.artwork.rasters import raster_png
from proofgen.errors import ShopError, SignoffError
from proofgen.model import Order, Shop
from proofgen.press.batch_pdf import save_batch
from proofgen.press.batches import LineWork, batches_of, line_works
from proofgen.press.contact import contact_pdf
from proofgen.press.documents import press_document
from proofgen.press.files import (
    again_file,
    contact_file,
    packing_file,
    picture_file,
    sheets_file,
    ticket_file,
)
from proofgen.press.furniture import furniture_pdf
from proofgen.press.handing_over import handing_over_pdf
from proofgen.press.job import Job, PressRun, Save
from proofgen.press.numbering import KeptSheet, numbered_sheets, to_keep
from proofgen.press.pieces import InkKey, PaperPiece, Setting, paper_pieces
from proofgen.press.planning import SheetPlan, furnished, page_of_measures
from proofgen.press.sheet import Ink, as_on_paper, mirrored, packed
from proofgen.press.ticket import Pictures, small_pictures, ticket_pdf
from proofgen.render import Theme


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Signed orders as they will be printed and pressed, before a pixel is read: the sheets by the
    names of their files, and the work of each order's lines. `numbered` is what the records of each
    order must keep before any sheet is printed."""

    files: Mapping[str, Sequence[SheetPlan]]
    works: Mapping[str, Sequence[LineWork]]
    numbered: Mapping[str, Sequence[KeptSheet]]

    @property
    def sheets(self) -> list[SheetPlan]:
        return [sheet for sheets in self.files.values() for sheet in sheets]


def lay(jobs: Sequence[Job], shop: Shop, theme: Theme, *, made: datetime) -> Laid:
    """Papers, sheets and their numbers, and the work at the press; nothing is made.

    StopError for a piece no paper or platen holds or a blank without heat and time.
    """
    settings = shop.settings
    if len({job.order.id for job in jobs}) != len(jobs):
        raise ShopError("an order came to the press twice", "name each order once")
    pieces = [
        piece
        for job in jobs
        for piece in paper_pieces(job.order, job.variants, settings)
        if job.only is None or piece.piece in job.only
    ]
    kept = {job.order.id: job.sheets for job in jobs}
    again = any(job.only is not None for job in jobs)
    plans = [replace(plan, again=again) for plan in numbered_sheets(pieces, kept, settings)]
    about = f"Made {theme.date(made.date(), long=False)}"
    return Laid(
        files=_by_file(
            [furnished(plan, about, settings) for plan in plans], {j.order.id: j for j in jobs}
        ),
        works={job.order.id: line_works(job.order.id, job.variants, settings) for job in jobs},
        numbered=to_keep(plans, kept),
    )


def make(
    jobs: Sequence[Job],
    shop: Shop,
    theme: Theme,
    *,
    made: datetime,
    png: bool = False,
    contact: bool = False,
    customers: Callable[[Order], Theme] | None = None,
) -> PressRun:
    """Sheets, tickets and packing slips for signed orders: what saves each file, and what stands
    where (mm). On request each mirrored picture as PNG, too, and each order's contact sheet.
    `customers`: the theme in a customer's language, else `theme`.

    Errors: StopError for a piece no paper or platen holds or a blank without heat and time. When a
    file is saved: SignoffError for a picture that is not the signed one, MachineError when PDFs
    cannot be made here.
    """
    laid = lay(jobs, shop, theme, made=made)
    by_order = {job.order.id: job for job in jobs}
    placed = [on for sheet in laid.sheets for on in sheet.pieces]
    inks = _Inks(by_order, {on.ink_key: on.piece for on in placed}, shop)
    files: dict[str, Save] = {
        name: partial(
            save_batch,
            sheets=_pages(name, sheets, shop),
            sized=inks.size,
            inks=inks.packed,
            furnish=lambda some: furniture_pdf(some, theme),
            title=f"Press sheets: {sheets[0].paper}, {sheets[0].setting.in_words}",
        )
        for name, sheets in laid.files.items()
    }
    works = laid.works
    ticketed = [job for job in jobs if job.only is None]  # the order's own ticket lies there still
    for job in ticketed:
        save = partial(_save_ticket, job, works[job.order.id], laid.files, inks, shop, theme, made)
        files[ticket_file(job.order.id)] = save
        speaks = customers(job.order) if customers else theme
        if not job.order.is_own:
            files[packing_file(job.order.id)] = partial(_save_packing, job, inks, shop, speaks)
        if contact:
            files[contact_file(job.order.id)] = partial(_save_contact, job, inks, theme)
    pieces = [on.piece for on in placed] if png else []
    named = {picture_file(piece.order, piece.raster): piece for piece in pieces}
    files |= {name: partial(inks.save_picture, piece) for name, piece in named.items()}
    document = press_document(
        laid.files,
        [ticket_file(job.order.id) for job in ticketed],
        batches_of([work for job in ticketed for work in works[job.order.id]], shop.settings.times),
        pictures=list(named),
        contacts=[contact_file(job.order.id) for job in ticketed if contact],
        packing=[packing_file(job.order.id) for job in ticketed if not job.order.is_own],
        more=_further_columns(jobs),
    )
    return PressRun(files=files, document=document, numbered=laid.numbered)


def _pages(file: str, sheets: Sequence[SheetPlan], shop: Shop) -> Sequence[SheetPlan]:
    """A file's sheets, and after them the page for what full ones have no room for."""
    more = page_of_measures(file, sheets, shop.settings)
    return [*sheets, more] if more else sheets


def _further_columns(jobs: Sequence[Job]) -> dict[tuple[str, int], Mapping[str, str]]:
    """What lists say of pieces beside their words, by order and piece."""
    return {
        (job.order.id, piece.number): piece.more
        for job in jobs
        for line in job.order.lines
        for piece in line.pieces
        if piece.more
    }


def _by_file(plans: Sequence[SheetPlan], jobs: Mapping[str, Job]) -> dict[str, list[SheetPlan]]:
    """One file for each paper and batch, in the order of the sheets."""
    groups: dict[tuple[str, Setting], list[SheetPlan]] = {}
    for plan in plans:
        groups.setdefault((plan.paper, plan.setting), []).append(plan)
    files: dict[str, list[SheetPlan]] = {}
    for (paper, setting), sheets in groups.items():
        orders = list(dict.fromkeys(order for sheet in sheets for order in sheet.orders))
        only = jobs[orders[0]].only
        if len(orders) == 1 and only is not None:
            name = again_file(orders[0], only, paper, setting)
        else:
            name = sheets_file(orders, paper, setting)
        while name in files:  # settings and papers whose names differ in what no file name has
            name = name.replace(".pdf", "_.pdf")
        files[name] = sheets
    return files


def _save_ticket(
    job: Job,
    works: Sequence[LineWork],
    printed: Mapping[str, Sequence[SheetPlan]],
    inks: _Inks,
    shop: Shop,
    theme: Theme,
    made: datetime,
    stream: BinaryIO,
) -> None:
    stream.write(ticket_pdf(job, works, printed, inks.small, shop, theme, made=made))


def _save_packing(job: Job, inks: _Inks, shop: Shop, theme: Theme, stream: BinaryIO) -> None:
    stream.write(handing_over_pdf(job, inks.small, shop, theme))


def _save_contact(job: Job, inks: _Inks, theme: Theme, stream: BinaryIO) -> None:
    stream.write(contact_pdf(job, inks.small, theme))


@dataclass(slots=True)
class _Inks:
    """The signed rasters: packed for the sheets, and made small for the tickets when one of them is
    read anyway. None is held: those of a long list would not fit into memory together."""

    jobs: dict[str, Job]
    pieces: dict[InkKey, PaperPiece]
    shop: Shop
    _small: dict[tuple[str, str], Pictures] = field(default_factory=dict)  # by order and raster

    def size(self, key: InkKey) -> tuple[int, int]:
        """A picture's pixels as it lies on paper."""
        across, down = self.pieces[key].size.px
        return (down, across) if key.turned else (across, down)

    def packed(self, key: InkKey) -> Ink:
        """A picture as it lies on paper."""
        return packed(as_on_paper(self._read(key.order, key.raster, self.pieces[key]), key.turned))

    def save_picture(self, piece: PaperPiece, stream: BinaryIO) -> None:
        """A picture mirrored, upright, as PNG that tells the size it must be printed at."""
        scale = self.shop.settings.printer.scale
        pitch = (piece.size.pitch[0] / scale[0], piece.size.pitch[1] / scale[1])
        stream.write(raster_png(mirrored(self._read(piece.order, piece.raster, piece)), pitch))

    def small(self, order: str, raster: str) -> Pictures:
        """A picture both ways, small."""
        if (order, raster) not in self._small:
            known = (p for p in self.pieces.values() if (p.order, p.raster) == (order, raster))
            self._read(order, raster, next(known))
        return self._small[order, raster]

    def _read(self, order: str, raster: str, piece: PaperPiece) -> Image.Image:
        job = self.jobs[order]
        image = job.raster(raster)
        _check_size(image, piece)
        if (order, raster) not in self._small:
            layout = job.layout_of(piece.piece)
            self._small[order, raster] = small_pictures(
                layout,
                piece.panel,
                image,
                self.shop.settings.printer.ppi,
                leads=job.leads(piece.piece),
            )
        return image


def _check_size(image: Image.Image, piece: PaperPiece) -> None:
    if image.size != piece.size.px:
        raise SignoffError(
            f"order {piece.order}: the signed picture {piece.raster} is "
            f"{image.width} × {image.height} pixels, but its blank now asks for "
            f"{piece.size.px[0]} × {piece.size.px[1]}",
            f"proofgen proof {piece.order}, and have the new proof signed",
        )
