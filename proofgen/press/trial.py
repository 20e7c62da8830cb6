"""A press trial: cells at several heats and times, and a grid whose shrink a ruler shows."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from statistics import median

import pikepdf

from proofgen.errors import StopError, UsageError
from proofgen.geometry import Rect, Size
from proofgen.model import Blank, PressSetting, Settings
from proofgen.press.choosing import page_of, usable
from proofgen.press.furniture import furniture_pdf
from proofgen.press.packing import fits
from proofgen.press.pieces import OnPage, PaperPiece, on_paper, setting_of
from proofgen.press.planning import furnished, plan_sheets
from proofgen.press.sheet import add_drawn, finish
from proofgen.press.steps import cautions, source_of
from proofgen.render import Theme, html_to_pdf
from proofgen.render.at_scale import page_style
from proofgen.say import heat, number
from proofgen.units import f_to_c

NAME = "trial"
# Steps of the ladder: 10 °C, or 20 °F where the blank's file writes °F; a sixth of the time. Ours.
_STEP_C, _STEP_F = 10.0, 20.0
_HEATS, _TIMES = (-1, 0, 1), (-2, -1, 0, 1)
CELL = Size(44.0, 38.0)  # mm
_AROUND = 12.0  # mm of paper round the cells, where a strip's name stands
READ_MM = 0.5  # what a ruler is read to
# Share of a length that the mean of the readings may be off by, and the least paper between lines.
_FINE, _PITCH = 0.0003, 3.5
_LEAST_LINE = 30.0  # mm
_MOST_SHRINK = 0.2  # as a blank's file may say
_STRAY = 1.5  # mm; a reading so far from what the others say was misread


@dataclass(frozen=True, slots=True)
class Cell:
    """One paper of the ladder: its name, and its heat and time as they are typed and said."""

    name: str
    heat: str  # '400F'
    heat_says: tuple[str, str]  # '204 °C', '400 °F'
    time_s: float


@dataclass(frozen=True, slots=True)
class Span:
    """One line of the grid, from its first tick: mm of the blank before the press."""

    name: str
    x: float
    y: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The lines along the blank (x) and across it (y) on one panel."""

    panel: str
    size: Size
    along: tuple[Span, ...]
    across: tuple[Span, ...]


def ladder(press: PressSetting) -> list[list[Cell]]:
    """The strips, the coolest first: each has one heat and its cells the shortest time first, round
    the blank's own figures."""
    in_f = press.heat_f_written is not None
    own = press.heat_f_written if press.heat_f_written is not None else round(press.heat_c)
    size = max(5.0, round(press.time_s / 6 / 5) * 5.0)
    times = [t for k in _TIMES if (t := press.time_s + k * size) >= 5]
    strips = []
    for letter, k in zip("ABC", _HEATS, strict=True):
        shown = own + k * (_STEP_F if in_f else _STEP_C)
        celsius = f_to_c(shown) if in_f else shown
        typed = f"{number(shown)}{'F' if in_f else 'C'}"
        says = heat(celsius)
        strips.append([Cell(f"{letter}{n}", typed, says, t) for n, t in enumerate(times, 1)])
    return strips


def _area(blank: Blank) -> tuple[str, Size, Rect]:
    """The largest panel of the new blank, and where lines may lie on it, mm before the press."""
    plan = replace(blank, shrink=(0.0, 0.0)).plan()
    panel = max(plan.panels, key=lambda name: plan.panels[name].width * plan.panels[name].height)
    size = plan.panels[panel]
    area = size.rect
    for zone in plan.zones_on(panel):
        if zone.kind == "gap":
            area = area.without(zone.rect)
    area = area.inset(max(plan.safe, 3.0))
    if plan.shape != "rectangle":
        corner = area.width / 2 if plan.shape == "round" else max(plan.corner - plan.safe, 0.0)
        area = area.inset(corner * (1 - 1 / math.sqrt(2)))
    return panel, size, area


def _lines(longest: float, room: float) -> int:
    """How many lines of so many mm bring the mean of their readings to _FINE, as far as they fit
    into `room` mm."""
    return max(1, min(math.ceil(READ_MM / 2 / (_FINE * longest)), math.floor(room / _PITCH)))


def _lengths(longest: float, count: int) -> list[float]:
    """Lengths that lie evenly over one step of the ruler. Rounding then errs high as often as low:
    a mean of n is off by at most the n-th part of what one reading is."""
    return [round(longest - i * READ_MM / count, 3) for i in range(count)]


def exactness(spans: Sequence[Span]) -> float:
    """Share by which the shrink that is read from the spans may be off."""
    return READ_MM / 2 / len(spans) / (sum(s.length for s in spans) / len(spans))


def grid_of(blank: Blank) -> Grid:
    """The grid of a blank. StopError where it is too small for one."""
    panel, size, area = _area(blank)
    wide, high = math.floor(area.width), math.floor(area.height)
    if min(wide, high) < _LEAST_LINE:
        raise StopError(
            f"the blank “{blank.name}” is too small for a grid: its lines would be "
            f"{number(min(wide, high))} mm long",
            "measure the shrink on a larger blank of the same cloth",
            blank.place,
        )
    rows, columns = _lines(wide, high - 2 * _PITCH), _lines(high, wide - 2 * _PITCH)
    left, top = area.centre_x - wide / 2, area.centre_y - high / 2
    down, over = high / (rows + 1), wide / (columns + 1)
    return Grid(
        panel=panel,
        size=size,
        along=tuple(
            Span(str(i + 1), left, top + (i + 1) * down, length)
            for i, length in enumerate(_lengths(wide, rows))
        ),
        across=tuple(
            Span(_letters(i), left + (i + 1) * over, top, length)
            for i, length in enumerate(_lengths(high, columns))
        ),
    )


def _letters(index: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[index]


def shrink_from(spans: Sequence[Span], readings: Sequence[float]) -> float:
    """The share by which the cloth shrank: of all lines together, read after the press in mm.

    UsageError for a count that is not the grid's, a reading that does not go with the others, and
    a cloth that grew or shrank as none does.
    """
    names = f"{spans[0].name} to {spans[-1].name}"
    if len(readings) != len(spans):
        raise UsageError(
            f"{len(readings)} readings, but lines {names} are {len(spans)}",
            "give one for each line, in their order, with commas between",
        )
    kept = median(read / span.length for span, read in zip(spans, readings, strict=True))
    for span, read in zip(spans, readings, strict=True):
        if abs(read - kept * span.length) > _STRAY:
            raise UsageError(
                f"line {span.name} was read as {number(read)} mm, but the others make it about "
                f"{number(kept * span.length, 1)} mm",
                "measure it again, between the middles of its two ticks",
            )
    shrink = 1 - sum(readings) / sum(span.length for span in spans)
    if not -2 * exactness(spans) <= shrink <= _MOST_SHRINK:
        way = "grew" if shrink < 0 else "shrank"
        raise UsageError(
            f"by these readings the cloth {way} by {number(abs(shrink) * 100, 2)} %",
            "check the ruler of the paper, that it was printed at actual size, and read again",
        )
    return round(max(shrink, 0.0), 5)


def trial_pdf(blank: Blank, settings: Settings, theme: Theme, *, made: date) -> bytes:
    """Three pages: the ladder to cut up, the grid to press on a whole blank, and what to do; the
    same bytes for the same input.

    Errors: StopError for a blank without heat and time, or too small or large; ShopError without a
    paper; MachineError where no PDF can be made.
    """
    setting_of(blank)
    assert blank.press is not None
    strips, grid = ladder(blank.press), grid_of(blank)
    pages = [
        _ladder_pdf(blank, strips, settings, theme),
        _grid_pdf(blank, grid, settings, theme, made),
        _words_pdf(blank, strips, grid, theme, made),
    ]
    with pikepdf.new() as pdf:
        kept = [pikepdf.open(io.BytesIO(page)) for page in pages]
        for one in kept:
            pdf.pages.extend(one.pages)
        finish(pdf, f"Press trial of {blank.name}")
        pdf.docinfo["/Keywords"] = " ".join(
            f"{cell.heat}/{cell.time_s:g}" for strip in strips for cell in strip
        )
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True)
        for one in kept:
            one.close()
    return out.getvalue()


def drawn_cells(pdf: bytes) -> list[tuple[str, float]]:
    """Heat as it is typed and seconds of each cell that a trial's sheet has; none where it does not
    tell."""
    try:
        with pikepdf.open(io.BytesIO(pdf)) as read:
            told = str(read.docinfo.get("/Keywords", ""))
            return [(heat, float(time)) for heat, time in (c.split("/") for c in told.split())]
    except (pikepdf.PdfError, ValueError):
        return []


def _ladder_pdf(blank: Blank, strips: list[list[Cell]], settings: Settings, theme: Theme) -> bytes:
    """The cells, mirrored, in a strip for each heat."""
    needed = Size(
        CELL.width * len(strips[0]) + 2 * _AROUND, CELL.height * len(strips) + 2 * _AROUND
    )
    holds = [page for p in settings.papers if fits(usable(p, settings), needed) and p.height_mm
             for page in (page_of(p),)]  # fmt: skip
    page = min(holds, key=lambda p: p.width * p.height, default=Size(210.0, 297.0))
    if page.width < needed.width + 2 * settings.printer.margin_mm:
        page = Size(page.height, page.width)
    across, down = settings.printer.scale
    left = (page.width - CELL.width * len(strips[0]) / across) / 2
    html = theme.render(
        "trial-ladder.html",
        medium="sheet",
        styles=("press",),
        own_style=page_style("t1", page.width, page.height),
        blank=blank.name,
        page=page,
        cell=CELL,
        strips=strips,
        left=left,
        top=settings.printer.margin_mm + _AROUND + 8,
        across=1 / across,
        down=1 / down,
    )
    return html_to_pdf(html, {}, page_title="Ladder")


def _grid_pdf(blank: Blank, grid: Grid, settings: Settings, theme: Theme, made: date) -> bytes:
    """The grid laid like any other piece, with all that stands beside one; nothing is shrunk."""
    whole = replace(blank, shrink=(0.0, 0.0))
    piece = PaperPiece(
        order=NAME,
        line=1,
        piece=1,
        panel=grid.panel,
        raster=NAME,
        blank_name=blank.name,
        cloth=blank.cloth.finish,
        words=f"{blank.name}: how much it shrinks",
        setting=setting_of(blank),
        size=on_paper(whole, whole.plan(), grid.panel, settings),
    )
    plan = replace(plan_sheets([piece], settings)[0], numbers=((NAME, 1, 1),))
    plan = furnished(
        plan, f"Made {theme.date(made, long=False)}, to be measured, not sold", settings
    )
    html = theme.render(
        "trial-grid.html",
        medium="sheet",
        styles=("press",),
        own_style=page_style("t1", plan.size.width, plan.size.height),
        page=plan.size,
        matrix=_onto(plan.pieces[0], grid.size, settings.printer.scale),
        grid=grid,
    )
    drawn, beside = html_to_pdf(html, {}, page_title="Grid"), furniture_pdf([plan], theme)
    with (
        pikepdf.new() as pdf,
        pikepdf.open(io.BytesIO(drawn)) as lines,
        pikepdf.open(io.BytesIO(beside)) as furniture,
    ):
        add_drawn(pdf, plan, [lines.pages[0], furniture.pages[0]])
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True)
        return out.getvalue()


def _onto(on: OnPage, size: Size, scale: tuple[float, float]) -> str:
    """The blank's own mm to the page's as SVG's matrix: mirrored, then turned clockwise if the
    piece lies so, as `press.sheet.as_on_paper` does with pixels."""
    sx, sy = 1 / scale[0], 1 / scale[1]
    x, y = on.blank.x, on.blank.y
    if on.turned:
        values = (0.0, -sy, -sx, 0.0, x + size.height * sx, y + size.width * sy)
    else:
        values = (-sx, 0.0, 0.0, sy, x + size.width * sx, y)
    return " ".join(f"{value:.6f}" for value in values)


def _ways(size: Size) -> tuple[str, str]:
    """Along and across as one sees them on the blank, print side up."""
    ways = "from left to right", "from top to bottom"
    if abs(size.width - size.height) < READ_MM:
        return ways
    named = ("the long way", "the short way")[:: 1 if size.width > size.height else -1]
    return f"{named[0]}, {ways[0]}", f"{named[1]}, {ways[1]}"


def _words_pdf(
    blank: Blank, strips: list[list[Cell]], grid: Grid, theme: Theme, made: date
) -> bytes:
    """The page to read and to write on."""
    press = blank.press
    assert press is not None
    html = theme.render(
        "trial-words.html",
        medium="sheet",
        styles=("press",),
        own_style='@page ticket { @bottom-right { content: "page 3 of 3" } }\n',
        title=blank.name,
        blank=blank.id,
        made=made,
        strips=strips,
        grid=grid,
        middle=strips[1][len(strips[1]) // 2],
        preheat=number(press.preheat_s) if press.preheat_s else "",
        pressure=press.pressure,
        source=source_of(press),
        ways=_ways(grid.size),
        to_percent=[number(exactness(s) * 100, 2) for s in (grid.along, grid.across)],
        cautions=cautions(set()),
    )
    return html_to_pdf(html, {}, page_title="What to do")
