"""The ticket: the page that goes to the press with an order's sheets."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from PIL import Image

from proofgen.model import Shop, Variant
from proofgen.press import sheet
from proofgen.press.batches import SETUP_S, Run
from proofgen.press.job import Job
from proofgen.press.pieces import inked_panels, numbered, press_of, setting_of, words_of
from proofgen.press.planning import SheetPlan
from proofgen.press.steps import DEFERS, SOURCES, cautions, steps
from proofgen.render import Theme, html_to_pdf
from proofgen.say import number
from proofgen.units import c_to_f
from proofgen.views.cut import flat_view

# Longest side of a picture on the ticket, px: 300 a printed inch at 80 mm. Ours.
_LONGEST_PX = 950
_PANEL_WORDS = {"round": "all the way round", "front and back": "front and back in one"}


@dataclass(frozen=True, slots=True)
class Pictures:
    """A panel both ways as JPEG: as it will look on its cloth, and as its paper looks."""

    look: bytes
    paper: bytes


def pictures(job: Job, name: str, image: Image.Image) -> Pictures:
    """Make a signed raster small, both ways."""
    variant, panel = _owner(job, name)
    small = image.copy()
    small.thumbnail((_LONGEST_PX, _LONGEST_PX), Image.Resampling.LANCZOS, reducing_gap=2.0)
    look = flat_view(variant.layout, {panel: small}, panel)
    return Pictures(_jpeg(look), _jpeg(sheet.mirrored(small)))


def _owner(job: Job, name: str) -> tuple[Variant, str]:
    for names, variant in numbered(job.variants):
        for panel, raster in names.items():
            if raster == name:
                return variant, panel
    raise KeyError(name)


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.convert("RGB").save(out, "JPEG", quality=88, subsampling=0)  # in memory
    return out.getvalue()


def ticket_pdf(
    job: Job,
    work: Sequence[Run],
    sheets: Sequence[tuple[str, SheetPlan]],
    drawn: Mapping[tuple[str, str], Pictures],
    shop: Shop,
    theme: Theme,
    *,
    made: datetime,
) -> bytes:
    """The ticket of one order, A4. `sheets` are those that carry pieces of it, with their files;
    `drawn` the pictures by (order, raster name)."""
    files: dict[str, bytes] = {}
    lines = [_line(job, run, sheets, drawn, files) for run in work]
    constructions = {v.layout.blank.construction for v in job.variants}
    minutes = (SETUP_S * len({r.setting for r in work}) + sum(r.seconds for r in work)) / 60
    html = theme.render(
        "ticket.html",
        styles=("press",),
        shop=shop.settings.name,
        order=job.order,
        edition=job.signed.edition,
        made=made.date(),
        lines=lines,
        quantity=sum(r.good for r in work),
        start=sum(r.start for r in work),
        spares_share=f"{number(shop.settings.spares * 100)} %",
        setup=number(SETUP_S / 60),
        minutes=number(minutes, 0),
        sheets=[(name, plan.number, plan.paper) for name, plan in sheets],
        cautions=cautions(constructions),
        defers=DEFERS,
        accepted=[(f.says, f.accepted, f.where) for f in job.accepted],
    )
    return html_to_pdf(html, files, page_title=f"Press ticket {job.order.id}")


def _line(
    job: Job,
    run: Run,
    sheets: Sequence[tuple[str, SheetPlan]],
    drawn: Mapping[tuple[str, str], Pictures],
    files: dict[str, bytes],
) -> dict[str, Any]:
    """What the ticket says of one line of the order."""
    own = [(names, v) for names, v in numbered(job.variants) if v.line == run.line]
    layout = own[0][1].layout
    blank, setting = layout.blank, setting_of(layout.blank)
    press = press_of(blank)
    panels = list(dict.fromkeys(p for _, v in own for p in inked_panels(v.layout)))
    return {
        "number": run.line,
        "blank": blank.name,
        "note": blank.note,
        "cloth": layout.cloth,
        "finish": blank.cloth.finish,
        "construction": blank.construction,
        "celsius": number(setting.heat_c, 0),
        "fahrenheit": number(c_to_f(setting.heat_c), 0),
        "time": number(setting.time_s),
        "pressure": setting.pressure,
        "sides": "both sides, each for the full time"
        if max(len(panels), press.sides) > 1
        else "one side",
        "source": SOURCES[press.source],
        "run": run,
        "minutes": number(run.seconds / 60, 1),
        "cycle": number(run.cycle_s),
        "steps": steps(blank, setting, panels),
        "looks": [_look(job, names, v, drawn, files) for names, v in own],
        "pieces": _pieces(job, run.line, sheets),
    }


def _look(
    job: Job,
    names: Mapping[str, str],
    variant: Variant,
    drawn: Mapping[tuple[str, str], Pictures],
    files: dict[str, bytes],
) -> dict[str, Any]:
    panels = []
    for panel in inked_panels(variant.layout):
        name = names[panel]
        stem = name.removesuffix(".png")
        files[f"{stem}-look.jpg"] = drawn[job.order.id, name].look
        files[f"{stem}-paper.jpg"] = drawn[job.order.id, name].paper
        panels.append(
            {
                "name": _PANEL_WORDS.get(panel, panel),
                "look": f"{stem}-look.jpg",
                "paper": f"{stem}-paper.jpg",
            }
        )
    return {
        "numbers": ranges(variant.pieces),
        "words": words_of(variant.words),
        "panels": panels,
    }


def ranges(numbers: Sequence[int]) -> str:
    """'1–4, 7' for 1, 2, 3, 4, 7."""
    parts: list[list[int]] = []
    for value in sorted(numbers):
        if parts and value == parts[-1][1] + 1:
            parts[-1][1] = value
        else:
            parts.append([value, value])
    return ", ".join(str(a) if a == b else f"{a}–{b}" for a, b in parts)


def _pieces(job: Job, line: int, sheets: Sequence[tuple[str, SheetPlan]]) -> list[dict[str, Any]]:
    """Every piece of a line: its number, its words, the sheets its papers lie on."""
    where: dict[int, list[int]] = {}
    for _, plan in sheets:
        for on in plan.pieces:
            if on.piece.order == job.order.id and plan.number not in where.get(on.piece.piece, []):
                where.setdefault(on.piece.piece, []).append(plan.number)
    words = {
        piece: words_of(variant.words)
        for variant in job.variants
        if variant.line == line
        for piece in variant.pieces
    }
    return [
        {
            "number": piece,
            "words": words[piece],
            "sheets": ", ".join(str(n) for n in where.get(piece, [])),
        }
        for piece in sorted(words)
    ]
