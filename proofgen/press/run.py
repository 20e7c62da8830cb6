"""From signed jobs to sheets, tickets and the document: the order of the steps."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import pikepdf
from PIL import Image

from proofgen.errors import ShopError, SignoffError
from proofgen.model import Shop
from proofgen.press import batches, sheet, ticket
from proofgen.press.furniture import furnish, style_of
from proofgen.press.job import Job, PressRun
from proofgen.press.pieces import OnPage, PaperPiece, paper_pieces
from proofgen.press.planning import SheetPlan, plan_sheets
from proofgen.render import Theme, html_to_pdf

SCHEMA = "proofgen/press/1"


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
    inks = _Inks(by_order)
    sheets = plan_sheets(pieces, shop.settings) if pieces else []
    names = [_file_name(s) for s in sheets]
    files = dict(zip(names, _sheet_files(sheets, inks, shop, theme, made), strict=True))
    work = {job.order.id: batches.runs(job.order.id, job.variants, shop.settings) for job in jobs}
    tickets = []
    for job in jobs:
        own = [(name, s) for name, s in zip(names, sheets, strict=True) if job.order.id in s.orders]
        name = f"{job.order.id}-ticket.pdf"
        tickets.append(name)
        files[name] = ticket.ticket_pdf(
            job, work[job.order.id], own, inks.pictures, shop, theme, made=made
        )
    document = _document(sheets, names, tickets, [r for rs in work.values() for r in rs])
    return PressRun(files=files, document=document)


@dataclass(slots=True)
class _Inks:
    """Each signed raster decoded once: packed for the sheets, and made small for the tickets."""

    jobs: dict[str, Job]
    packed: dict[sheet.InkKey, tuple[bytes, int, int]] = field(default_factory=dict)
    pictures: dict[tuple[str, str], ticket.Pictures] = field(default_factory=dict)

    def pack(self, plan: SheetPlan, later: set[sheet.InkKey]) -> None:
        """Make ready all that lies on one sheet, and let go of what no `later` one needs: the
        pictures of a long guest list would not fit into memory together."""
        needed = {_key(on): on.piece for on in plan.pieces}
        for key in set(self.packed) - set(needed) - later:
            del self.packed[key]
        for key, piece in needed.items():
            if key in self.packed:
                continue
            order, name, turned = key
            job = self.jobs[order]
            image = job.raster(name)
            self._check(image, piece, job)
            self.packed[key] = sheet.packed(sheet.as_on_paper(image, turned))
            if (order, name) not in self.pictures:
                self.pictures[order, name] = ticket.pictures(job, name, image)

    def _check(self, image: Image.Image, piece: PaperPiece, job: Job) -> None:
        if image.size != piece.size.px:
            raise SignoffError(
                f"order {job.order.id}: the signed picture {piece.raster} is "
                f"{image.width} × {image.height} pixels, but its blank now asks for "
                f"{piece.size.px[0]} × {piece.size.px[1]}",
                f"proofgen proof {job.order.id}, and have the new proof signed",
            )


def _sheet_files(
    sheets: Sequence[SheetPlan], inks: _Inks, shop: Shop, theme: Theme, made: datetime
) -> list[bytes]:
    """All furniture is set in one go, a page for each sheet; then each gets its pictures."""
    if not sheets:
        return []
    day = f"made {theme.date(made.date(), long=False)}"
    drawings = [furnish(s, len(sheets), shop.settings, f"{day} · {_count(s)}") for s in sheets]
    html = theme.render("press_sheets.html", styles=("press",), sheets=drawings)
    html = html.replace("</style>", f"{style_of(drawings)}</style>", 1)
    drawn = html_to_pdf(html, {}, page_title="Press sheets")
    keys = [{_key(on) for on in s.pieces} for s in sheets]
    made_files = []
    with pikepdf.open(io.BytesIO(drawn)) as pdf:
        for i, s in enumerate(sheets):
            inks.pack(s, set().union(*keys[i + 1 :]))
            title = f"Press sheet {s.number} of {len(sheets)}"
            made_files.append(sheet.sheet_pdf(s, inks.packed, pdf.pages[i], title))
    return made_files


def _key(on: OnPage) -> sheet.InkKey:
    return on.piece.order, on.piece.raster, on.turned


def _count(plan: SheetPlan) -> str:
    return "1 piece of paper" if len(plan.pieces) == 1 else f"{len(plan.pieces)} pieces of paper"


def _file_name(plan: SheetPlan) -> str:
    """'fenn-wedding-sheet-02.pdf', or 'shared-sheet-02.pdf' for one that holds several orders."""
    whose = plan.orders[0] if len(plan.orders) == 1 else "shared"
    return f"{whose}-sheet-{plan.number:02d}.pdf"


def _document(
    sheets: Sequence[SheetPlan],
    names: Sequence[str],
    tickets: list[str],
    work: Sequence[batches.Run],
) -> dict[str, Any]:
    def mm(value: float) -> float:
        return round(value, 3)

    return {
        "schema": SCHEMA,
        "sheets": [
            {
                "file": name,
                "paper": plan.paper,
                "width_mm": mm(plan.size.width),
                "height_mm": mm(plan.size.height),
                "pieces": [
                    {
                        "order": on.piece.order,
                        "piece": on.piece.piece,
                        "face": on.piece.panel,
                        "raster": on.piece.raster,
                        "x_mm": mm(on.ink.x),
                        "y_mm": mm(on.ink.y),
                        "width_mm": mm(on.ink.width),
                        "height_mm": mm(on.ink.height),
                        "turned": on.turned,
                    }
                    for on in plan.pieces
                ],
            }
            for name, plan in zip(names, sheets, strict=True)
        ],
        "tickets": tickets,
        "batches": batches.batches(work),
    }
