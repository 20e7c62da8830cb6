"""From signed jobs to sheets, tickets and the document: the order of the steps."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

import pikepdf
from PIL import Image

from proofgen.errors import ShopError, SignoffError
from proofgen.model import Shop
from proofgen.press.batches import batches_of, line_works
from proofgen.press.documents import press_document
from proofgen.press.files import sheet_file, ticket_file
from proofgen.press.furniture import furniture_pdf
from proofgen.press.job import Job, PressRun
from proofgen.press.pieces import InkKey, PaperPiece, paper_pieces
from proofgen.press.planning import SheetPlan, plan_sheets
from proofgen.press.sheet import Ink, as_on_paper, packed, sheet_pdf
from proofgen.press.ticket import Pictures, small_pictures, ticket_pdf
from proofgen.render import Theme
from proofgen.say import plural


def make(jobs: Sequence[Job], shop: Shop, theme: Theme, *, made: datetime) -> PressRun:
    """Sheets and tickets for signed orders: PDFs by relative name, and what stands where (mm).

    Errors: SignoffError for a picture that is not the signed one, StopError for a piece no paper
    or platen holds or a blank without heat and time, MachineError when PDFs cannot be made here.
    """
    by_order = {job.order.id: job for job in jobs}
    if len(by_order) != len(jobs):
        raise ShopError("an order came to the press twice", "name each order once")
    pieces = [
        piece for job in jobs for piece in paper_pieces(job.order, job.variants, shop.settings)
    ]
    inks = _Inks(by_order, shop.settings.printer.ppi)
    plans = plan_sheets(pieces, shop.settings) if pieces else []
    sheets = [(sheet_file(plan.orders, plan.number), plan) for plan in plans]
    pdfs = _sheet_pdfs(plans, inks, shop, theme, made)
    files = {name: pdf for (name, _), pdf in zip(sheets, pdfs, strict=True)}
    works = {job.order.id: line_works(job.order.id, job.variants, shop.settings) for job in jobs}
    tickets = []
    for job in jobs:
        own = [(name, plan) for name, plan in sheets if job.order.id in plan.orders]
        name = ticket_file(job.order.id)
        tickets.append(name)
        files[name] = ticket_pdf(
            job, works[job.order.id], own, inks.pictures, shop, theme, made=made
        )
    batches = batches_of([work for own_works in works.values() for work in own_works])
    return PressRun(files=files, document=press_document(sheets, tickets, batches))


@dataclass(slots=True)
class _Inks:
    """Each signed raster decoded once: packed for the sheets, and made small for the tickets."""

    jobs: dict[str, Job]
    ppi: float
    packed: dict[InkKey, Ink] = field(default_factory=dict)
    pictures: dict[tuple[str, str], Pictures] = field(default_factory=dict)  # by order and raster

    def pack(self, plan: SheetPlan, later: set[InkKey]) -> None:
        """Make ready all that lies on one sheet, and let go of what no `later` one needs: the
        pictures of a long guest list would not fit into memory together."""
        needed = {on.ink_key: on.piece for on in plan.pieces}
        for key in set(self.packed) - set(needed) - later:
            del self.packed[key]
        for key, piece in needed.items():
            if key in self.packed:
                continue
            job = self.jobs[key.order]
            image = job.raster(key.raster)
            _check_size(image, piece)
            self.packed[key] = packed(as_on_paper(image, key.turned))
            if (key.order, key.raster) not in self.pictures:
                layout = job.layout_of(piece.piece)
                self.pictures[key.order, key.raster] = small_pictures(
                    layout, piece.panel, image, self.ppi
                )


def _check_size(image: Image.Image, piece: PaperPiece) -> None:
    if image.size != piece.size.px:
        raise SignoffError(
            f"order {piece.order}: the signed picture {piece.raster} is "
            f"{image.width} × {image.height} pixels, but its blank now asks for "
            f"{piece.size.px[0]} × {piece.size.px[1]}",
            f"proofgen proof {piece.order}, and have the new proof signed",
        )


def _sheet_pdfs(
    plans: Sequence[SheetPlan], inks: _Inks, shop: Shop, theme: Theme, made: datetime
) -> list[bytes]:
    """All furniture is set in one go, a page for each sheet; then each gets its pictures."""
    if not plans:
        return []
    day = f"made {theme.date(made.date(), long=False)}"

    def about(plan: SheetPlan) -> str:
        return f"{day} · {plural(len(plan.pieces), 'piece of paper', 'pieces of paper')}"

    drawn = furniture_pdf(plans, shop.settings, theme, about)
    keys = [{on.ink_key for on in plan.pieces} for plan in plans]
    pdfs = []
    with pikepdf.open(io.BytesIO(drawn)) as furniture:
        for i, plan in enumerate(plans):
            inks.pack(plan, set().union(*keys[i + 1 :]))
            title = f"Press sheet {plan.number} of {len(plans)}"
            pdfs.append(sheet_pdf(plan, inks.packed, furniture.pages[i], title))
    return pdfs
