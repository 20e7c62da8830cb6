"""What each piece needs printed: its panels, their size on paper, and the setting they share."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple
from unicodedata import bidirectional

from proofgen.artwork.rasters import panel_pixels, raster_names
from proofgen.errors import StopError
from proofgen.geometry import Plan, Rect, Shape, Size
from proofgen.model import Blank, Layout, Order, PressSetting, Settings, Variant
from proofgen.model.blank import HeatSource
from proofgen.say import cut, heat, number
from proofgen.units import MM_PER_INCH

PRACTICE = "practice, no source"
# Where heat and time of a blank come from, in few words.
FROM: Mapping[HeatSource, str] = {
    "maker": "its maker’s figures",
    "ink": "the ink maker’s figures",
    "trial": "your own trial",
    "practice": PRACTICE,
}
# Paper kept free beyond the ink for corner marks and the piece's number, mm. Ours.
MARK_STRIP_MM = 3.5
# Letters of what a list's further columns say, so that a row of the ticket stays readable. Ours.
_NAME, _NOTE = 24, 60


@dataclass(frozen=True, slots=True, order=True)
class Setting:
    """Heat (°C), time (s) and pressure (a word): what may share a sheet and a batch. Settings sort
    in that order, the coolest first."""

    heat_c: float
    time_s: float
    pressure: str

    @property
    def heat(self) -> tuple[str, str]:
        """'204 °C' and '400 °F'."""
        return heat(self.heat_c)

    @property
    def heat_in_words(self) -> str:
        """'204 °C (400 °F)'."""
        return "{} ({})".format(*self.heat)

    @property
    def in_words(self) -> str:
        """'204 °C (400 °F) · 60 s · medium pressure'."""
        return f"{self.heat_in_words} · {number(self.time_s)} s · {self.pressure} pressure"


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPaper:
    """One printed panel, upright, in mm as it must come out of the printer.

    `blank` is the raw panel (it shrinks to the finished size under the heat), `bleed` the ink
    beyond it and `margin` the paper beyond it, per axis; `pitch` is the mm of one raster pixel,
    `px` the raster's size.
    """

    blank: Size
    bleed: tuple[float, float]
    margin: tuple[float, float]
    pitch: tuple[float, float]
    px: tuple[int, int]
    shape: Shape = "rectangle"

    @property
    def paper(self) -> Size:
        """The paper piece: blank and margin on every side."""
        return Size(self.blank.width + 2 * self.margin[0], self.blank.height + 2 * self.margin[1])

    def with_cover(self, cover: float) -> OnPaper:
        """With so much paper beyond the blank, or as much as bleed and marks need."""
        across, down = (max(cover, bleed + MARK_STRIP_MM) for bleed in self.bleed)
        return replace(self, margin=(across, down))

    @property
    def ink(self) -> Size:
        """The blank with its bleed."""
        return Size(self.blank.width + 2 * self.bleed[0], self.blank.height + 2 * self.bleed[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPiece:
    """One panel of one piece, to be printed."""

    order: str
    line: int
    piece: int
    panel: str
    raster: str  # the signed picture's name
    blank_name: str
    cloth: str  # its colour and finish
    words: str  # the piece's own, in one line
    setting: Setting
    size: OnPaper
    origin: HeatSource | None = None  # of heat and time; None where it is not said beside them


def cloth_named(colour: str, blank: Blank) -> str:
    """'white foam': the colour of a blank's cloth and its finish, as the shop names them; either
    may be ''."""
    return f"{colour} {blank.cloth.finish}".strip()


def cloth_of(layout: Layout) -> str:
    """The same of what is printed."""
    return cloth_named(layout.cloth, layout.blank)


def setting_of(blank: Blank) -> Setting:
    """The blank's heat, time and pressure. StopError when its file is silent about them."""
    press = press_of(blank)
    return Setting(round(press.heat_c, 3), round(press.time_s, 3), press.pressure)


def press_of(blank: Blank) -> PressSetting:
    """The blank's press figures. StopError when there are none."""
    if blank.press is None:
        raise StopError(
            f"the blank “{blank.name}” does not say how hot and how long to press it",
            "write heat and time under press: in its file; its maker's sheet comes first",
            blank.place_of("press"),
        )
    return blank.press


def sides_of(blank: Blank, panels: Sequence[str]) -> int:
    """How often a blank goes under the press: once for each inked panel, or as its maker says. Of a
    blank with two faces a bare one is never pressed: that would heat the print a second time.
    StopError as `press_of`."""
    press = press_of(blank)
    return len(panels) if blank.construction == "sewn" and panels else max(len(panels), press.sides)


def inked_panels(layout: Layout) -> list[str]:
    """The panels that get ink, in the blank's own order; an undecorated side needs no paper."""
    inked = {panel for placed in layout.layers for panel, _ in layout.on_panel(placed)}
    return [panel for panel in layout.plan.panels if panel in inked]


def on_paper(blank: Blank, plan: Plan, panel: str, settings: Settings) -> OnPaper:
    """A panel's measures on paper: finished / (1 - shrink), per axis of the blank.

    The printer's own scale is not in here: it belongs to the page's axes.
    """
    grow = (1 / (1 - blank.shrink[0]), 1 / (1 - blank.shrink[1]))
    finished = plan.panels[panel]
    pixel = MM_PER_INCH / settings.printer.ppi
    bare = OnPaper(
        blank=Size(finished.width * grow[0], finished.height * grow[1]),
        bleed=(plan.bleed * grow[0], plan.bleed * grow[1]),
        margin=(0.0, 0.0),
        pitch=(pixel * grow[0], pixel * grow[1]),
        px=panel_pixels(plan, panel, settings.printer.ppi),
        shape=plan.shape,
    )
    return bare.with_cover(settings.cover_mm)


def words_of(words: Mapping[str, str]) -> list[str]:
    """The piece's words, each on one line; those left empty are left out."""
    return [" ".join(text.split()) for text in words.values() if text.strip()]


def notes_of(order: Order) -> dict[int, list[str]]:
    """What the lists say of each piece beside its words, for the press alone: 'table: 4', one line
    each, all visible, long ones cut; by the piece's number. The press document has them whole."""
    return {
        piece.number: [
            f"{cut(name, _NAME)}: {cut(text, _NOTE)}"
            for name, text in piece.more.items()
            if text.strip()
        ]
        for line in order.lines
        for piece in line.pieces
    }


def in_one_line(words: Sequence[str]) -> str:
    """Words side by side; those that run right to left are kept apart from their neighbours
    (first strong isolate, UAX 9) so that a date after a name stays after it."""
    return " · ".join(
        f"\u2068{text}\u2069" if any(bidirectional(c) in ("R", "AL") for c in text) else text
        for text in words
    )


def paper_pieces(order: Order, variants: list[Variant], settings: Settings) -> list[PaperPiece]:
    """Every paper piece of an order, by piece number, then by panel in the blank's own order."""
    papers = []
    for names, variant in zip(raster_names(variants), variants, strict=True):
        layout = variant.layout
        for panel in inked_panels(layout):
            one = PaperPiece(
                order=order.id,
                line=variant.line,
                piece=0,
                panel=panel,
                raster=names[panel],
                blank_name=layout.blank.name,
                cloth=cloth_of(layout),
                words=in_one_line(words_of(variant.words)),
                setting=setting_of(layout.blank),
                origin=press_of(layout.blank).source,
                size=on_paper(layout.blank, layout.plan, panel, settings),
            )
            papers += [replace(one, piece=piece) for piece in variant.pieces]
    return sorted(papers, key=lambda paper: paper.piece)


class InkKey(NamedTuple):
    """One picture as it lies on paper: equal keys are printed from the same pixels."""

    order: str
    raster: str
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPage:
    """A paper piece where it lies on its page: rectangles in page mm from the page's top left."""

    piece: PaperPiece
    turned: bool  # 90° clockwise, after the mirror
    paper: Rect
    blank: Rect
    ink: Rect
    raster: Rect  # the raster's whole pixels; reaches past the ink by less than one of them

    @property
    def ink_key(self) -> InkKey:
        """Which picture it is printed from."""
        return InkKey(self.piece.order, self.piece.raster, self.turned)


def place(
    piece: PaperPiece,
    at: tuple[float, float],
    turned: bool,
    scale: tuple[float, float],
) -> OnPage:
    """Lay a piece with its paper's top left `at` (page mm).

    All lengths are divided by the printer's `scale`, along the page's axes. The raster's excess
    lies right and bottom of the upright picture: mirrored it lies left and bottom, and after a
    quarter turn clockwise top and left. So the ink's right edge always is the raster's, and its
    top (upright) or bottom (turned) edge too.
    """

    def along(pair: tuple[float, float]) -> tuple[float, float]:
        wide, high = (pair[1], pair[0]) if turned else pair
        return wide / scale[0], high / scale[1]

    size = piece.size
    paper = along((size.paper.width, size.paper.height))
    blank = along((size.blank.width, size.blank.height))
    bleed, margin = along(size.bleed), along(size.margin)
    inner = Rect(at[0] + margin[0], at[1] + margin[1], *blank)
    ink = inner.grown(bleed[0], bleed[1], bleed[0], bleed[1])
    wide, high = along((size.px[0] * size.pitch[0], size.px[1] * size.pitch[1]))
    return OnPage(
        piece=piece,
        turned=turned,
        paper=Rect(*at, *paper),
        blank=inner,
        ink=ink,
        raster=Rect(ink.right - wide, ink.bottom - high if turned else ink.y, wide, high),
    )
