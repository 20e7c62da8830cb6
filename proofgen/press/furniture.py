"""Everything on a sheet that is not ink: marks, cuts, numbers, rulers and the R."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from proofgen.geometry import BOTH_FACES, Rect, around
from proofgen.model import Settings
from proofgen.press.lettering import BASELINE, shorten, width
from proofgen.press.pieces import OnPage
from proofgen.press.planning import SheetPlan
from proofgen.press.slug import HEAD, LEADING, TYPE, printer_notes, wrapped
from proofgen.render import Theme, html_to_pdf
from proofgen.render.at_scale import RULER_MM, page_style, ruler_ticks

# All mm on the page. Ours.
_CLEAR = 0.6  # between ink and a mark
_NUMBER = 3.4
_SMALL = 2.4
_TITLE = 4.6
_TICKS = (3.6, 2.4, 1.4)  # of the rulers: at tens, at fives, at each mm
_HALF = 10.0  # half the room for words that are centred
_R_HEIGHT = 11.0
_R_BOX = (10.0, 12.0)  # the drawing's own units, see the template


Anchor = Literal["start", "middle"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of type, `size` mm high, by the top left of its box."""

    left: float
    top: float
    size: float
    weight: int
    anchor: Anchor
    text: str


@dataclass(slots=True, kw_only=True)
class Furniture:
    """One page's drawing: plain lines, dashed cuts (x1, y1, x2, y2), arrows and words."""

    number: int
    width: float
    height: float
    marks: list[tuple[float, ...]] = field(default_factory=list)
    cuts: list[tuple[float, ...]] = field(default_factory=list)
    arrows: list[str] = field(default_factory=list)  # points of small triangles
    words: list[Words] = field(default_factory=list)
    r: dict[str, float] = field(default_factory=dict)

    def write(
        self,
        x: float,
        baseline: float,
        size: float,
        text: str,
        *,
        weight: int = 400,
        anchor: Anchor = "start",
    ) -> None:
        """Set a line of words from (x, baseline), or about it."""
        self.words.append(
            Words(
                left=round(x - (_HALF if anchor == "middle" else 0), 3),
                top=round(baseline - BASELINE * size, 3),
                size=size,
                weight=weight,
                anchor=anchor,
                text=text,
            )
        )

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        self.marks.append(tuple(round(v, 3) for v in (x1, y1, x2, y2)))


def _furnish(sheet: SheetPlan, total: int, settings: Settings, about: str) -> Furniture:
    """The drawing of one sheet; `about` is one short line such as the date."""
    drawn = Furniture(number=sheet.number, width=sheet.size.width, height=sheet.size.height)
    drawn.cuts = [tuple(round(v, 3) for v in cut) for cut in sheet.cuts]
    for on in sheet.pieces:
        _corner_marks(drawn, on)
        _labels(drawn, on)
    _rulers(drawn, sheet, settings)
    _strip(drawn, sheet, total, settings, about)
    return drawn


def furniture_pdf(
    sheets: Sequence[SheetPlan], settings: Settings, theme: Theme, about: Callable[[SheetPlan], str]
) -> bytes:
    """The furniture of all sheets, a page for each; `about` is one short line for each,
    such as the date. MachineError when PDFs
    cannot be made here."""
    drawings = [_furnish(sheet, len(sheets), settings, about(sheet)) for sheet in sheets]
    html = theme.render(
        "press_sheets.html", styles=("press",), own_style=_style(drawings), sheets=drawings
    )
    return html_to_pdf(html, {}, page_title="Press sheets")


def _style(drawings: Sequence[Furniture]) -> str:
    """Page sizes and places of words as CSS: numbers of ours alone, no one's words."""
    rules = []
    for it in drawings:
        rules.append(page_style(f"s{it.number}", round(it.width, 3), round(it.height, 3)))
        rules += [
            f"#w{it.number}-{index} {{ left: {words.left:.3f}mm; top: {words.top:.3f}mm; "
            f"font-size: {words.size:.2f}mm }}"
            for index, words in enumerate(it.words)
        ]
    return "\n".join(rules) + "\n"


def _corner_marks(drawn: Furniture, on: OnPage) -> None:
    """Two short lines at each corner of the blank, outside the ink, and the way up."""
    trim, ink, paper = on.blank, _outside(on), on.paper
    for x in (trim.x, trim.right):
        drawn.line(x, paper.y + _CLEAR, x, ink.y - _CLEAR)
        drawn.line(x, ink.bottom + _CLEAR, x, paper.bottom - _CLEAR)
    for y in (trim.y, trim.bottom):
        drawn.line(paper.x + _CLEAR, y, ink.x - _CLEAR, y)
        drawn.line(ink.right + _CLEAR, y, paper.right - _CLEAR, y)
    if on.turned:  # the blank's top edge lies at the right
        x, y = ink.right + _CLEAR, trim.centre_y
        corners = ((x + 2, y), (x, y - 1.3), (x, y + 1.3))
    else:
        x, y = trim.centre_x, ink.y - _CLEAR
        corners = ((x, y - 2), (x - 1.3, y), (x + 1.3, y))
    drawn.arrows.append(" ".join(f"{round(a, 3)},{round(b, 3)}" for a, b in corners))


def _outside(on: OnPage) -> Rect:
    """Ink and the raster's whole pixels together: nothing may be drawn in here."""
    return around([on.ink, on.raster])


def _labels(drawn: Furniture, on: OnPage) -> None:
    """Number and words above the ink, order and side below it, each short enough for its strip."""
    piece, ink = on.piece, _outside(on)
    left, right = on.blank.x + 1, on.blank.right - 1
    above, below = ink.y - _CLEAR - 0.3, ink.bottom + _CLEAR + _SMALL * 0.8
    number = str(piece.piece)
    drawn.write(left, above, _NUMBER, number, weight=700)
    # The way-up arrow stands in the middle of the strip, so words keep to its left.
    after = left + width(number, _NUMBER, 700) + 1.5
    room = (on.blank.centre_x - 3 if not on.turned else right) - after
    drawn.write(after, above, _SMALL, shorten(piece.words, _SMALL, room))
    face = "" if piece.panel in ("round", BOTH_FACES) else f" · {piece.panel}"
    side = f"{face} · ink side to the cloth"
    if width(f"{piece.order}{side}", _SMALL) > right - left:
        side = f"{face} · ink to cloth"
    order = shorten(piece.order, _SMALL, right - left - width(side, _SMALL))
    drawn.write(left, below, _SMALL, f"{order}{side}")


def _strip(drawn: Furniture, sheet: SheetPlan, total: int, settings: Settings, about: str) -> None:
    """The R, the sheet's number, its setting, and the notes on the printer."""
    strip, notes = sheet.frame.slug, printer_notes(settings)
    if sheet.frame.kind == "row":
        x, y = strip.x + 15 + RULER_MM / settings.printer.scale[0] + 6, strip.y
        title = f"Sheet {sheet.number} of {total} · {sheet.paper}"
        drawn.write(x, y + 4.4, _TITLE, title, weight=700)
        drawn.write(x, y + 8.4, TYPE, sheet.setting.in_words, weight=700)
        drawn.write(x, y + 11.8, TYPE, about)
        body, top = wrapped(notes, strip.width), y + HEAD + 1.5
    else:
        x, y = strip.x, strip.y + HEAD
        drawn.write(x, y + 4.5, _TITLE, f"Sheet {sheet.number}", weight=700)
        drawn.write(x, y + 9, TYPE, f"of {total} · {sheet.paper}", weight=700)
        body, top = wrapped([*sheet.setting.in_words.split(" · "), about], strip.width), y + 13.5
        for note in notes:
            body += ["", *wrapped([note], strip.width)]
    for line, text in enumerate(body):
        if text:
            drawn.write(strip.x, top + line * LEADING, TYPE, text)
    scale = _R_HEIGHT / _R_BOX[1]
    drawn.r = {"x": strip.x + _R_BOX[0] * scale, "y": strip.y + 0.5, "scale": round(scale, 4)}


def _rulers(drawn: Furniture, sheet: SheetPlan, settings: Settings) -> None:
    """100 mm each way, as they must come out: drawn at 100 mm / the printer's scale."""
    scale = settings.printer.scale
    x, y = sheet.frame.across
    mm = 1 / scale[0]
    drawn.line(x, y, x + RULER_MM * mm, y)
    for at, high in ruler_ticks(*_TICKS):
        drawn.line(x + at * mm, y, x + at * mm, y + high)
        if at % 50 == 0:
            drawn.write(
                x + at * mm,
                y + 6.4,
                _SMALL,
                f"{at}" if at < RULER_MM else "100 mm",
                anchor="start" if at == 0 else "middle",
            )
    x, y = sheet.frame.down
    mm = 1 / scale[1]
    drawn.line(x, y, x, y + RULER_MM * mm)
    for at, wide in ruler_ticks(*_TICKS):
        drawn.line(x, y + at * mm, x + wide, y + at * mm)
        if at % 50 == 0:
            drawn.write(x + 4.2, y + at * mm + 0.9, _SMALL, f"{at}")
