"""A blank drawn at its true size on paper, to lay the cloth on: pages in mm, no words of a shop."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from proofgen.geometry import Plan, Rect
from proofgen.render.at_scale import RULER_MM, page_style, ruler_ticks
from proofgen.render.drawing import blank_marks

_CARD_SAYS = "A bank card fits here"

# ISO/IEC 7810, ID-1: bank cards. The radius of its corners is 3.18 mm, 0.3 mm more or less.
CARD = (85.60, 53.98)
_CARD_CORNER = 3.18
_LETTER = 2.9  # mm
_LINE = 0.2
_GAP = 4.0
_LAP = 12.0  # of two sheets that are taped together
_STRIP = 9.0  # below each part of a drawing: its number
_FIGURES = 10.0  # height of the ruler with its figures
_NOTES = 46.0  # of words below it
_BESIDE = 6.0  # from the card to the ruler beside it
_HAIR = 1e-6
_LEAST = 100.0  # mm of room that a paper must have each way


@dataclass(frozen=True, slots=True)
class Sheet:
    """A paper by name, mm; a roll has height None."""

    name: str
    width: float
    height: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TruePage:
    """One page: its size (mm), the drawing, where words about it go, which part of how many."""

    width: float
    height: float
    svg: Markup
    notes: Rect | None = None
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueSize:
    """The pages, the paper they want, and whether one sheet of it holds the drawing."""

    pages: tuple[TruePage, ...]
    paper: str
    upright: bool
    whole: bool

    def style(self) -> str:
        """Page sizes and places of words as CSS: numbers of ours alone, no one's words."""
        rules = []
        for number, page in enumerate(self.pages, 1):
            rules.append(page_style(f"t{number}", page.width, page.height))
            if page.notes:
                rules.append(
                    f".t{number} .notes {{ left: {page.notes.x:.3f}mm; top: {page.notes.y:.3f}mm; "
                    f"width: {page.notes.width:.3f}mm }}"
                )
        return "\n".join(rules) + "\n"


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The blank's drawing and the scale (page mm for each of its mm) it is laid down with."""

    body: str
    view: Rect
    across: float
    down: float

    @property
    def width(self) -> float:
        return self.view.width * self.across

    @property
    def height(self) -> float:
        return self.view.height * self.down

    def at(self, x: float, y: float) -> str:
        """The drawing with the top left of its view at (x, y) of the page."""
        dx, dy = x - self.view.x * self.across, y - self.view.y * self.down
        return (
            f'<g transform="matrix({self.across:.8f} 0 0 {self.down:.8f} {dx:.5f} {dy:.5f})" '
            f'fill="none" color="#000">{self.body}</g>'
        )


@dataclass(frozen=True, slots=True)
class _Room:
    """A paper lying one way: its size, the part a printer reaches, and what that printer makes of
    1 mm per axis."""

    sheet: Sheet
    width: float
    height: float  # of a roll: without end
    margin: float
    scale: tuple[float, float]

    @property
    def free(self) -> tuple[float, float]:
        return self.width - 2 * self.margin, self.height - 2 * self.margin

    @property
    def card(self) -> tuple[float, float]:
        return CARD[0] / self.scale[0], CARD[1] / self.scale[1]

    def band(self, *, tall: bool) -> tuple[float, float]:
        """What the card, the ruler and words take: beside each other, or `tall`, below."""
        wide, high = self.card
        ruler = RULER_MM / self.scale[0]
        if tall:
            return max(wide, ruler) + 2, high + _GAP + _FIGURES + _NOTES
        return wide + _BESIDE + ruler + 2, high


def true_size(
    plan: Plan,
    panel: str,
    *,
    shrink: tuple[float, float],
    scale: tuple[float, float],
    papers: Sequence[Sheet],
    margin: float,
    labels: Mapping[str, str] | None = None,
) -> TrueSize:
    """A panel as the new cloth lies before the maker, on the fewest and then smallest sheets.

    `plan` is in finished mm; `shrink` (shares per axis) makes it the new blank's size again, and
    `scale` is what the printer makes of 1 mm per axis, so that what comes out has these measures.
    A drawing that no paper holds is parted; its parts lap and carry crosses that meet. On every
    first or last page lie a 100 mm ruler and the outline of a bank card.
    Errors: ValueError if no paper has room for a card.
    """
    body, view = blank_marks(
        plan, panel, labels=labels, prefix="true", line_mm=_LINE, letter_mm=_LETTER
    )
    drawn = _Drawn(body, view, 1 / ((1 - shrink[0]) * scale[0]), 1 / ((1 - shrink[1]) * scale[1]))
    rooms = [r for sheet in papers for r in _rooms(sheet, margin, scale) if min(r.free) >= _LEAST]
    if not rooms:
        raise ValueError("no paper has room for a bank card")
    whole = [made for room in rooms if (made := _on_one(drawn, room))]
    return min(whole or [_parted(drawn, room) for room in rooms], key=_cost)


def _cost(made: TrueSize) -> tuple[int, float]:
    return len(made.pages), sum(p.width * p.height for p in made.pages)


def _rooms(sheet: Sheet, margin: float, scale: tuple[float, float]) -> list[_Room]:
    if sheet.height is None:
        return [_Room(sheet, sheet.width, math.inf, margin, scale)]
    ways = {(sheet.width, sheet.height), (sheet.height, sheet.width)}
    return [_Room(sheet, w, h, margin, scale) for w, h in sorted(ways)]


def _page_height(room: _Room, used: float) -> float:
    return room.height if math.isfinite(room.height) else used + 2 * room.margin


def _page(room: _Room, used: float, body: str, notes: Rect | None, part: str = "") -> TruePage:
    high = _page_height(room, used)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {room.width:.4f} {high:.4f}" '
        f'width="{room.width:.4f}mm" height="{high:.4f}mm" font-family="Press, sans-serif">'
        f"{body}</svg>"
    )
    return TruePage(width=room.width, height=high, svg=Markup(svg), notes=notes, part=part)


def _made(pages: Sequence[TruePage], room: _Room, whole: bool) -> TrueSize:
    return TrueSize(
        pages=tuple(pages),
        paper=room.sheet.name,
        upright=pages[0].height >= pages[0].width,
        whole=whole,
    )


def _on_one(drawn: _Drawn, room: _Room) -> TrueSize | None:
    """The drawing on one sheet with the card below or beside it, or on a sheet after it."""
    wide, high = room.free
    left = top = room.margin
    if drawn.width > wide or drawn.height > high:
        return None
    below, beside = top + drawn.height + _GAP, left + drawn.width + _GAP
    fits: list[tuple[float, float, float, bool]] = []  # what is used of the height; where; how
    for tall in (False, True):
        band = room.band(tall=tall)
        for x, y in ((left, below), (beside, top)):
            used = max(drawn.height, y + band[1] - top)
            if x + band[0] <= left + wide + _HAIR and used <= high + _HAIR:
                fits.append((used, x, y, tall))
    if fits:
        used, x, y, tall = min(fits, key=lambda fit: fit[0])  # of a roll, the shortest piece
        checks, notes = _checks(room, x, y, left + wide - x, tall=tall)
        return _made([_page(room, used, drawn.at(left, top) + checks, notes)], room, whole=True)
    first = _page(room, drawn.height, drawn.at(left, top), None)
    return _made([first, _check_page(room)], room, whole=True)


def _check_page(room: _Room) -> TruePage:
    tall = room.band(tall=False)[0] > room.free[0]
    checks, notes = _checks(room, room.margin, room.margin, room.free[0], tall=tall)
    return _page(room, room.band(tall=tall)[1], checks, notes)


def _parted(drawn: _Drawn, room: _Room) -> TrueSize:
    """The drawing over several sheets that lap by 12 mm, then a sheet with card and words."""
    wide, high = room.free
    high -= _STRIP
    across, down = _parts(drawn.width, wide), _parts(drawn.height, high)
    crosses = _crosses(drawn, across, down)
    pages = []
    total = len(across) * len(down)
    for row, y in enumerate(down):
        for column, x in enumerate(across):
            number = row * len(across) + column + 1
            shown = Rect(
                room.margin,
                room.margin,
                min(wide, drawn.width - x),
                min(high, drawn.height - y),
            )
            clip = f"part{number}"
            body = (
                f'<clipPath id="{clip}"><rect x="{shown.x:.4f}" y="{shown.y:.4f}" '
                f'width="{shown.width:.4f}" height="{shown.height:.4f}"/></clipPath>'
                f'<g clip-path="url(#{clip})">'
                f"{drawn.at(shown.x - x, shown.y - y)}"
                f'<g transform="translate({shown.x - x:.5f} {shown.y - y:.5f})">{crosses}</g></g>'
            )
            part = f"{number} of {total}"
            pages.append(_page(room, shown.height + _STRIP, body, None, part))
    return _made([*pages, _check_page(room)], room, whole=False)


def _parts(length: float, window: float) -> list[float]:
    """Where each part begins; neighbours share _LAP mm."""
    count = max(1, math.ceil((length - _LAP) / (window - _LAP) - 1e-9))
    return [i * (window - _LAP) for i in range(count)]


def _crosses(drawn: _Drawn, across: Sequence[float], down: Sequence[float]) -> str:
    """Crosses in the middle of each lap, three along it."""
    points = [
        (x + _LAP / 2, drawn.height * share) for x in across[1:] for share in (0.1, 0.5, 0.9)
    ] + [(drawn.width * share, y + _LAP / 2) for y in down[1:] for share in (0.1, 0.5, 0.9)]
    data = "".join(f"M{x - 4:.3f} {y:.3f}h8M{x:.3f} {y - 4:.3f}v8" for x, y in points)
    return f'<path d="{data}" fill="none" stroke="#000" stroke-width="{_LINE}"/>' if data else ""


def _checks(room: _Room, x: float, y: float, wide: float, *, tall: bool) -> tuple[str, Rect]:
    """Card and ruler from (x, y), and the room left for words."""
    card_wide, card_high = room.card
    card = (
        f'<rect x="{x:.4f}" y="{y:.4f}" width="{card_wide:.4f}" height="{card_high:.4f}" '
        f'rx="{_CARD_CORNER}" fill="none" stroke="#000" stroke-width="{_LINE}"/>'
        f'<text x="{x + card_wide / 2:.3f}" y="{y + card_high / 2:.3f}" text-anchor="middle" '
        f'font-size="3">{_CARD_SAYS}</text>'
    )
    if tall:
        ruler_x, ruler_y = x, y + card_high + _GAP
        notes = Rect(x, ruler_y + _FIGURES, wide, _NOTES)
    else:
        ruler_x, ruler_y = x + card_wide + _BESIDE, y + card_high - _FIGURES
        notes = Rect(ruler_x, y, wide - card_wide - _BESIDE, card_high - _FIGURES - 1)
    return card + _ruler(ruler_x, ruler_y, room.scale[0]), notes


def _ruler(x: float, y: float, scale: float) -> str:
    """100 mm, a tick each mm, longer at 5 and 10, figures in cm."""
    ticks = "".join(
        f"M{x + mm / scale:.4f} {y:.4f}v{high}" for mm, high in ruler_ticks(5.0, 3.6, 2.2)
    )
    figures = "".join(
        f'<text x="{x + mm / scale:.3f}" y="{y + 8.4:.3f}" text-anchor="'
        f'{"start" if mm == 0 else "middle"}">{mm // 10}{" cm" if mm == RULER_MM else ""}</text>'
        for mm in range(0, RULER_MM + 1, 10)
    )
    return (
        f'<path d="M{x:.4f} {y:.4f}h{RULER_MM / scale:.4f}{ticks}" fill="none" stroke="#000" '
        f'stroke-width="{_LINE}"/><g font-size="3">{figures}</g>'
    )
