"""Which paper, which sheet, where on it: paper pieces become planned sheets, in page mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from proofgen.errors import ShopError, StopError
from proofgen.geometry import Rect, Size
from proofgen.model import Layout, NoRoom, Paper, Settings
from proofgen.press.band import BandFacts, Way
from proofgen.press.beside import (
    Thing,
    everything,
    has_room,
    lay_beside,
    measurable,
    printer_notes,
)
from proofgen.press.choosing import LONGEST_MM, Laid, choose, page_of, usable
from proofgen.press.packing import cuts, fits
from proofgen.press.pieces import (
    FROM,
    OnPage,
    OnPaper,
    PaperPiece,
    Setting,
    inked_panels,
    on_paper,
    place,
)
from proofgen.say import joined, number, runs

# A page of measures is at least so high, that of a roll too: both rulers, R, heat and words. Ours.
_LEAST_MM = 160.0
# Of a roll's sheet: so much is added at its end, the least that gives all that lies beside the
# pieces room. Ours.
_MORE_MM = (0.0, 10.0, 20.0, 30.0, 45.0, 60.0, 80.0, 110.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One page: its paper (mm), its setting, its pieces, what lies beside them, and the cuts that
    free them, as far as a printer can draw them (page mm). `numbers`: of each order on it, which
    of its sheets this is, of how many; `again`: printed once more, for pieces that were spoiled.
    """

    paper: str
    size: Size
    setting: Setting
    pieces: tuple[OnPage, ...]
    numbers: tuple[tuple[str, int, int], ...] = ()
    again: bool = False
    beside: tuple[Thing, ...] = ()
    cuts: tuple[tuple[float, float, float, float], ...] = field(default=())

    @property
    def orders(self) -> list[str]:
        """The orders on it, once each, in the order of their pieces."""
        return list(dict.fromkeys(on.piece.order for on in self.pieces))

    def number_of(self, order: str) -> int:
        """Which of an order's sheets this is. KeyError where it is none."""
        return {owner: number for owner, number, _ in self.numbers}[order]


def plan_sheets(pieces: Sequence[PaperPiece], settings: Settings) -> list[SheetPlan]:
    """All sheets for `pieces`, without their numbers and what lies beside the pieces.

    Pieces share a sheet only if they share heat, time and pressure. The papers are the cheapest by
    the shop's rates, else the least. StopError for a piece larger than every paper or the platen.
    """
    if not settings.papers:
        raise ShopError("the shop has no paper", "write paper: [A4] in shop.yaml", settings.place)
    groups: dict[Setting, list[PaperPiece]] = {}
    known: set[OnPaper] = set()
    for piece in pieces:
        if piece.size not in known:
            known.add(piece.size)
            _must_fit(piece, settings)
        groups.setdefault(piece.setting, []).append(piece)
    sheets: list[SheetPlan] = []
    for _, alike in sorted(groups.items(), key=lambda group: group[0]):
        nominal = _nominal(alike)

        def roomy(paper: Paper, papers: Sequence[Rect], facts: BandFacts = nominal) -> bool:
            return has_room(page_of(paper), papers, settings, facts)

        laid = choose([piece.size.paper for piece in alike], settings, roomy)
        sheets += [_sheet(one, alike, settings) for one in laid]
    return sheets


def _must_fit(piece: PaperPiece, settings: Settings) -> None:
    """StopError for a piece that the platen or every paper is too small for."""
    lacks = _no_room(piece.blank_name, piece.size, settings)
    if lacks:
        raise StopError(f"order {piece.order}: {lacks.says}", lacks.cure, settings.place)


def without_room(layout: Layout, settings: Settings) -> NoRoom | None:
    """Why a layout cannot be pressed in this shop; None where it can be."""
    blank = layout.blank
    sizes = (on_paper(blank, layout.plan, panel, settings) for panel in inked_panels(layout))
    return next(filter(None, (_no_room(blank.name, size, settings) for size in sizes)), None)


def _no_room(blank_name: str, size: OnPaper, settings: Settings) -> NoRoom | None:
    """The ink must lie under the heat at once; the bare paper round it may hang over."""
    platen = Size(*settings.platen_mm)
    if not fits(platen, size.ink):
        return NoRoom(
            "platen",
            f"the blank “{blank_name}” needs {_in_mm(size.ink)} under the press, with its bleed; "
            f"the platen is {_in_mm(platen)}",
            "press it on a larger platen and write its size under platen: in shop.yaml, "
            "or choose a smaller blank",
        )
    if not settings.papers or _on_some_paper(size, settings):
        return None
    largest = max(settings.papers, key=lambda p: p.width_mm * (p.height_mm or LONGEST_MM))
    high = f" × {number(largest.height_mm)} mm" if largest.height_mm else " mm wide"
    cure = "add a larger paper or a roll under paper: in shop.yaml"
    if _on_some_paper(size.with_cover(0), settings):
        cure += ", or make cover: smaller"
    return NoRoom(
        "paper",
        f"the blank “{blank_name}” needs a piece of paper of {_in_mm(size.paper)}; the largest "
        f"paper here is {largest.name}, {number(largest.width_mm)}{high}, less its margins",
        cure,
    )


def _on_some_paper(size: OnPaper, settings: Settings) -> bool:
    return any(fits(usable(paper, settings), size.paper) for paper in settings.papers)


def _in_mm(size: Size) -> str:
    return f"{number(size.width)} × {number(size.height)} mm"


def _nominal(alike: Sequence[PaperPiece]) -> BandFacts:
    """What a band of these pieces says at most, as far as it is known before they are laid."""
    cloths = {(piece.cloth, piece.blank_name) for piece in alike}
    longest = max(cloths, key=lambda pair: len(pair[0]) + len(pair[1]))
    order = max((piece.order for piece in alike), key=len)
    return BandFacts(
        setting=alike[0].setting, cloths=[longest], orders=[f"{order} 88 of 88"], tops=[("", "up")]
    )


def _sheet(laid: Laid, pieces: Sequence[PaperPiece], settings: Settings) -> SheetPlan:
    scale, margin = settings.printer.scale, settings.printer.margin_mm
    placed = tuple(
        place(
            pieces[spot.index],
            (margin + spot.x / scale[0], margin + spot.y / scale[1]),
            spot.turned,
            scale,
        )
        for spot in laid.spots
    )
    size = page_of(laid.paper)
    if laid.paper.height_mm is None:
        size = Size(size.width, max(on.paper.bottom for on in placed) + margin)
    return SheetPlan(
        paper=laid.paper.name, size=size, setting=placed[0].piece.setting, pieces=placed
    )


def furnished(plan: SheetPlan, about: str, settings: Settings) -> SheetPlan:
    """A numbered sheet with the band and all else that lies beside its pieces, and with its cuts;
    `about` is one short line such as the date."""
    facts = band_facts(plan)
    papers = [on.paper for on in plan.pieces]
    notes = [f"{plan.paper}. {about}.{_origins(plan)}", *printer_notes(settings)]
    roll = not any(p.name == plan.paper and p.height_mm for p in settings.papers)
    for more in _MORE_MM if roll else (0.0,):
        size = Size(plan.size.width, plan.size.height + more)
        things = lay_beside(size, papers, settings, facts, notes)
        if everything(things):
            break
    inside = size.rect.inset(settings.printer.margin_mm)
    every = cuts(size.rect, papers, [thing.at for thing in things])
    return replace(
        plan, size=size, beside=tuple(things), cuts=tuple(_within(inside, cut) for cut in every)
    )


def page_of_measures(
    file: str, sheets: Sequence[SheetPlan], settings: Settings
) -> SheetPlan | None:
    """One page more for a file, its last, with the rulers, the R and the heat; None where its
    sheets have them between them, beside their pieces. It is no sheet of an order."""
    if measurable([thing for plan in sheets for thing in plan.beside]):
        return None
    first = sheets[0]
    facts = replace(band_facts(first), orders=[], tops=[])
    about = f"{file}: its sheets are too full for what this page has. Nothing here is pressed."
    size = Size(first.size.width, max(first.size.height, _LEAST_MM))
    things = lay_beside(size, [], settings, facts, [about, *printer_notes(settings)])
    if not measurable(things):
        return None
    return SheetPlan(
        paper=first.paper, size=size, setting=first.setting, pieces=(), beside=tuple(things)
    )


def _origins(plan: SheetPlan) -> str:
    """Where heat and time come from, in few words; of blanks that differ, which is whose."""
    whose: dict[str, list[str]] = {}
    for on in plan.pieces:
        if on.piece.origin:
            names = whose.setdefault(FROM[on.piece.origin], [])
            if on.piece.blank_name not in names:
                names.append(on.piece.blank_name)
    if not whose:
        return ""
    said = (f"{origin} ({joined(names, 'and')})" for origin, names in whose.items())
    return f" Heat and time: {next(iter(whose)) if len(whose) == 1 else '; '.join(said)}."


def _within(
    inside: Rect, cut: tuple[float, float, float, float]
) -> tuple[float, float, float, float]:
    """A cut as far as a printer can draw it."""
    x1, y1, x2, y2 = cut
    return max(x1, inside.x), max(y1, inside.y), min(x2, inside.right), min(y2, inside.bottom)


def band_facts(plan: SheetPlan) -> BandFacts:
    """What the band of a sheet says."""
    pieces = [on.piece for on in plan.pieces]
    ways: dict[Way, list[int]] = {}
    for on in plan.pieces:
        ways.setdefault("right" if on.turned else "up", []).append(on.piece.piece)
    tops = [("" if len(ways) == 1 else runs(which), way) for way, which in ways.items()]
    return BandFacts(
        setting=plan.setting,
        cloths=list(dict.fromkeys((piece.cloth, piece.blank_name) for piece in pieces)),
        orders=[
            f"{order} {at} of {of}{', again' if plan.again else ''}"
            for order, at, of in plan.numbers
        ],
        tops=tops,
    )
