"""Everything on a sheet that is not ink: marks, cuts, numbers, and what lies beside the pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from proofgen.geometry import BOTH_FACES, Rect, around
from proofgen.press.band import Block
from proofgen.press.beside import Thing
from proofgen.press.lettering import BASELINE, shorten, width
from proofgen.press.pieces import OnPage
from proofgen.press.planning import SheetPlan
from proofgen.render import Theme, html_to_pdf
from proofgen.render.at_scale import page_style

# All mm on the page. Ours.
_CLEAR = 0.6  # between ink and a mark
_LARGEST = 8.0  # a piece's number, where its strip has the room
_FIGURES = 0.74  # how high the figures of its type are, as a share of the type
_SMALL = 2.4
_ARROW = 2.0  # the small arrow at each blank's top edge


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of type, `size` mm high, by the top left of its box."""

    left: float
    top: float
    size: float
    weight: int
    text: str


@dataclass(slots=True, kw_only=True)
class Furniture:
    """One page's drawing: plain lines, dashed cuts (x1, y1, x2, y2), arrows, words, and blocks."""

    number: int
    width: float
    height: float
    marks: list[tuple[float, ...]] = field(default_factory=list)
    cuts: list[tuple[float, ...]] = field(default_factory=list)
    arrows: list[str] = field(default_factory=list)  # points of small triangles
    words: list[Words] = field(default_factory=list)
    blocks: list[tuple[str, Block]] = field(default_factory=list)  # with their transforms

    def write(self, x: float, baseline: float, size: float, text: str, weight: int = 400) -> None:
        """Set a line of words from (x, baseline)."""
        self.words.append(
            Words(
                left=round(x, 3),
                top=round(baseline - BASELINE * size, 3),
                size=size,
                weight=weight,
                text=text,
            )
        )

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        self.marks.append(tuple(round(v, 3) for v in (x1, y1, x2, y2)))


def _furnish(number: int, sheet: SheetPlan) -> Furniture:
    drawn = Furniture(number=number, width=sheet.size.width, height=sheet.size.height)
    drawn.cuts = [tuple(round(v, 3) for v in cut) for cut in sheet.cuts]
    for on in sheet.pieces:
        _corner_marks(drawn, on)
        _labels(drawn, on)
    drawn.blocks = [(_transform(thing), thing.block) for thing in sheet.beside]
    return drawn


def _transform(thing: Thing) -> str:
    """Where a block's own top left goes, in SVG's words."""
    if thing.turned:
        return f"translate({thing.at.right:.3f} {thing.at.y:.3f}) rotate(90)"
    return f"translate({thing.at.x:.3f} {thing.at.y:.3f})"


def furniture_pdf(sheets: Sequence[SheetPlan], theme: Theme) -> bytes:
    """The furniture of sheets, a page for each. MachineError when PDFs cannot be made here."""
    drawings = [_furnish(number, sheet) for number, sheet in enumerate(sheets, 1)]
    html = theme.render(
        "press_sheets.html",
        medium="sheet",
        styles=("press",),
        own_style=_style(drawings),
        sheets=drawings,
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
    """Short lines outside the ink, and the way up: two at each corner of the blank, and where its
    corners are round one that points at its middle from each side. A circle has these alone."""
    trim, ink, paper, shape = on.blank, _outside(on), on.paper, on.piece.size.shape
    at_x = [] if shape == "round" else [trim.x, trim.right]
    at_y = [] if shape == "round" else [trim.y, trim.bottom]
    if shape != "rectangle":
        at_x.append(trim.centre_x)
        at_y.append(trim.centre_y)
    for x in at_x:
        drawn.line(x, paper.y + _CLEAR, x, ink.y - _CLEAR)
        drawn.line(x, ink.bottom + _CLEAR, x, paper.bottom - _CLEAR)
    for y in at_y:
        drawn.line(paper.x + _CLEAR, y, ink.x - _CLEAR, y)
        drawn.line(ink.right + _CLEAR, y, paper.right - _CLEAR, y)
    if on.turned:  # the blank's top edge lies at the right
        x, y = ink.right + _CLEAR, trim.centre_y
        corners = ((x + _ARROW, y), (x, y - 1.3), (x, y + 1.3))
    else:
        x, y = trim.centre_x, ink.y - _CLEAR
        corners = ((x, y - _ARROW), (x - 1.3, y), (x + 1.3, y))
    drawn.arrows.append(" ".join(f"{round(a, 3)},{round(b, 3)}" for a, b in corners))


def _outside(on: OnPage) -> Rect:
    """Ink and the raster's whole pixels together: nothing may be drawn in here."""
    return around([on.ink, on.raster])


def _labels(drawn: Furniture, on: OnPage) -> None:
    """Number and words above the ink; order, side, cloth and setting below it, as far as each is
    short enough for its strip."""
    piece, ink = on.piece, _outside(on)
    ticked = piece.size.shape != "rectangle"  # in the middle: words end before it
    left, right = on.blank.x + 1, on.blank.centre_x - 1.5 if ticked else on.blank.right - 1
    above, below = ink.y - _CLEAR - 0.3, ink.bottom + _CLEAR + _SMALL * 0.8
    number = str(piece.piece)
    large = min(_LARGEST, (above - on.paper.y - _CLEAR / 2) / _FIGURES)
    drawn.write(left, above, large, number, weight=700)
    # The way-up arrow stands in the middle of the strip, so words keep to its left.
    after = left + width(number, large, 700) + 1.5
    room = (right if on.turned else on.blank.centre_x - 3) - after
    drawn.write(after, above, _SMALL, shorten(piece.words, _SMALL, room))
    face = "" if piece.panel in ("round", BOTH_FACES) else f" · {piece.panel}"
    side = f"{face} · ink side to the cloth"
    if width(f"{piece.order}{side}", _SMALL) > right - left:
        side = f"{face} · ink to cloth"
    for more in (f" · {piece.cloth}", f" · {piece.setting.in_words}"):
        if width(f"{piece.order}{side}{more}", _SMALL) <= right - left:
            side += more
    order = shorten(piece.order, _SMALL, right - left - width(side, _SMALL))
    drawn.write(left, below, _SMALL, f"{order}{side}")
