"""Which paper, which sheet, where on it: paper pieces become planned sheets, in page mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from proofgen.errors import ShopError, StopError
from proofgen.geometry import Size
from proofgen.model import Paper, Settings
from proofgen.press.packing import Spot, cuts, fill, fill_roll, fits
from proofgen.press.pieces import OnPage, OnPaper, PaperPiece, Setting, place
from proofgen.press.slug import Frame, frames
from proofgen.say import number

# The longest sheet cut from a roll, mm. PDF readers may stop at 14,400 units, which is 5,080 mm
# (ISO 32000-1:2008, annex C.2); a person cutting by hand stops sooner. Ours.
LONGEST_MM = 2000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One page: its paper (mm), its setting, its pieces, and the cuts that free them (page mm)."""

    number: int
    paper: str
    size: Size
    setting: Setting
    frame: Frame
    pieces: tuple[OnPage, ...]
    cuts: tuple[tuple[float, float, float, float], ...] = field(default=())

    @property
    def orders(self) -> list[str]:
        """The orders on it, once each, in the order of their pieces."""
        return list(dict.fromkeys(on.piece.order for on in self.pieces))


def plan_sheets(pieces: Sequence[PaperPiece], settings: Settings) -> list[SheetPlan]:
    """All sheets for `pieces`.

    Pieces share a sheet only if they share heat, time and pressure. Each goes to the smallest
    paper that holds it. StopError for a piece larger than every paper or than the platen.
    """
    if not settings.papers:
        raise ShopError("the shop has no paper", "write paper: [A4] in shop.yaml", settings.place)
    papers = sorted(
        settings.papers,
        key=lambda p: (p.height_mm is None, p.width_mm * (p.height_mm or LONGEST_MM)),
    )
    groups: dict[tuple[Setting, int], list[PaperPiece]] = {}
    choices: dict[OnPaper, int] = {}
    for piece in pieces:
        if piece.size not in choices:
            _on_the_platen(piece, settings)
            choices[piece.size] = _smallest(piece, papers, settings)
        groups.setdefault((piece.setting, choices[piece.size]), []).append(piece)
    sheets: list[SheetPlan] = []
    for (setting, paper), alike in sorted(groups.items(), key=lambda group: group[0]):
        for sheet in _lay(alike, setting, papers[paper], settings):
            sheets.append(replace(sheet, number=len(sheets) + 1))
    return sheets


def _on_the_platen(piece: PaperPiece, settings: Settings) -> None:
    """The ink must lie under the heat at once; the bare paper round it may hang over."""
    platen = Size(*settings.platen_mm)
    if not fits(platen, piece.size.ink):
        raise StopError(
            f"order {piece.order}: the blank “{piece.blank_name}” needs "
            f"{_in_mm(piece.size.ink)} under the press, with its bleed; "
            f"the platen is {_in_mm(platen)}",
            "press it on a larger platen and write its size under platen: in shop.yaml, "
            "or choose a smaller blank",
            settings.place,
        )


def _smallest(piece: PaperPiece, papers: Sequence[Paper], settings: Settings) -> int:
    for index, paper in enumerate(papers):
        if any(
            fits(_usable(frame, settings), piece.size.paper) for frame in _frames(paper, settings)
        ):
            return index
    largest = papers[-1]
    high = f" × {number(largest.height_mm)} mm" if largest.height_mm else " mm wide"
    raise StopError(
        f"order {piece.order}: the blank “{piece.blank_name}” needs a piece of paper of "
        f"{_in_mm(piece.size.paper)}; the largest paper here is {largest.name}, "
        f"{number(largest.width_mm)}{high}, less its margins and the strip for the rulers",
        "add a larger paper or a roll under paper: in shop.yaml, or make cover: smaller",
        settings.place,
    )


def _in_mm(size: Size) -> str:
    return f"{number(size.width)} × {number(size.height)} mm"


def _frames(paper: Paper, settings: Settings) -> list[Frame]:
    return frames(
        Size(paper.width_mm, paper.height_mm or LONGEST_MM),
        settings,
        kinds=("row", "column") if paper.height_mm else ("row",),
    )


def _usable(frame: Frame, settings: Settings) -> Size:
    """The frame's room for pieces, in mm as they come out of the printer."""
    scale = settings.printer.scale
    return Size(frame.room.width * scale[0], frame.room.height * scale[1])


def _lay(
    pieces: Sequence[PaperPiece], setting: Setting, paper: Paper, settings: Settings
) -> list[SheetPlan]:
    """The fewest sheets of one paper; of frames that need as many, the first."""
    sizes = [piece.size.paper for piece in pieces]
    best: tuple[Frame, list[list[Spot]]] | None = None
    for frame in _frames(paper, settings):
        room = _usable(frame, settings)
        if not all(fits(room, size) for size in sizes):
            continue
        filled = fill(room, sizes) if paper.height_mm else fill_roll(room.width, room.height, sizes)
        if best is None or len(filled) < len(best[1]):
            best = (frame, filled)
    if best is None:  # each fits some frame, but no one frame holds all: lay them apart
        half = len(pieces) // 2
        return [
            sheet
            for part in (pieces[:half], pieces[half:])
            for sheet in _lay(part, setting, paper, settings)
        ]
    frame, filled = best
    return [
        _sheet([(pieces[spot.index], spot) for spot in spots], setting, paper, frame, settings)
        for spots in filled
    ]


def _sheet(
    laid: list[tuple[PaperPiece, Spot]],
    setting: Setting,
    paper: Paper,
    frame: Frame,
    settings: Settings,
) -> SheetPlan:
    scale = settings.printer.scale
    placed = tuple(
        place(
            piece,
            (frame.room.x + spot.x / scale[0], frame.room.y + spot.y / scale[1]),
            spot.turned,
            scale,
        )
        for piece, spot in laid
    )
    if paper.height_mm is None:
        lowest = max(on.paper.bottom for on in placed)
        frame = frame.shortened(lowest)
    papers = [on.paper for on in placed]
    return SheetPlan(
        number=0,
        paper=paper.name,
        size=frame.page,
        setting=setting,
        frame=frame,
        pieces=placed,
        cuts=(*frame.edge_cuts(papers), *cuts(frame.room, papers)),
    )
