"""Sheets numbered once and for ever: what an order's records keep of its sheets, and give back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from proofgen.errors import StopError
from proofgen.model import Settings
from proofgen.press.pieces import PaperPiece
from proofgen.press.planning import SheetPlan, plan_sheets
from proofgen.store import digest

# One paper piece of an order: the piece's number and its panel.
Part = tuple[int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSheet:
    """One sheet as an order numbers it: on which paper, with which of its parts. Sheets of several
    orders that are one sheet of paper have the same `joint`."""

    number: int
    paper: str
    parts: tuple[Part, ...]
    joint: str

    def as_data(self) -> dict[str, object]:
        """For the records."""
        return {
            "number": self.number,
            "paper": self.paper,
            "parts": [list(part) for part in self.parts],
            "joint": self.joint,
        }


def kept_sheets(data: object) -> list[KeptSheet]:
    """What `as_data` gave the records. None for records that know of no sheets."""
    return [
        KeptSheet(
            number=one["number"],
            paper=one["paper"],
            parts=tuple((piece, panel) for piece, panel in one["parts"]),
            joint=one["joint"],
        )
        for one in (data if isinstance(data, list) else [])
    ]


def numbered_sheets(
    pieces: Sequence[PaperPiece],
    kept: Mapping[str, Sequence[KeptSheet]],
    settings: Settings,
) -> list[SheetPlan]:
    """Every sheet for `pieces`, each with its number in each order that is on it.

    Pieces whose sheet was numbered before lie together again under that number: all of them on the
    same paper, some of them (spoiled ones alone, or where the other order on it is not pressed now)
    on the cheapest paper that holds these. The others get the numbers after the last. A sheet that
    cannot be laid as it was, because papers or printer were changed since, is laid anew.
    """
    at = {
        (order, part): sheet
        for order, sheets in kept.items()
        for sheet in sheets
        for part in sheet.parts
    }
    together: dict[str, list[PaperPiece]] = {}
    new: list[PaperPiece] = []
    for piece in pieces:
        was = at.get((piece.order, (piece.piece, piece.panel)))
        (together.setdefault(was.joint, []) if was else new).append(piece)
    plans: list[SheetPlan] = []
    for joint, alike in together.items():
        laid = _as_it_was(alike, joint, kept, settings)
        if laid is None:
            new += alike
            continue
        numbers = {order: one.number for (order, _), one in at.items() if one.joint == joint}
        plans.append(replace(laid, numbers=tuple((o, numbers[o], 0) for o in laid.orders)))
    last = {order: max((s.number for s in sheets), default=0) for order, sheets in kept.items()}
    for sheet in plan_sheets(new, settings) if new else []:
        for order in sheet.orders:
            last[order] = last.get(order, 0) + 1
        plans.append(replace(sheet, numbers=tuple((o, last[o], 0) for o in sheet.orders)))
    plans = [replace(p, numbers=tuple((o, n, last[o]) for o, n, _ in p.numbers)) for p in plans]
    # By order and number, so that sheets laid anew and laid again lie in the same order.
    return sorted(plans, key=lambda plan: (plan.setting, sorted(plan.numbers)))


def _as_it_was(
    alike: Sequence[PaperPiece],
    joint: str,
    kept: Mapping[str, Sequence[KeptSheet]],
    settings: Settings,
) -> SheetPlan | None:
    """These pieces on one sheet: on the paper they were on if all of them are here."""
    sheets = [s for order in kept.values() for s in order if s.joint == joint]
    papers = [p for p in settings.papers if p.name == sheets[0].paper]
    ways = [papers]
    if len(alike) < sum(len(sheet.parts) for sheet in sheets):
        ways.insert(0, list(settings.papers))
    if len({piece.setting for piece in alike}) > 1:
        return None
    for way in filter(None, ways):
        try:
            found = plan_sheets(alike, replace(settings, papers=tuple(way)))
        except StopError:
            continue
        if len(found) == 1:
            return found[0]
    return None


def to_keep(
    plans: Sequence[SheetPlan], kept: Mapping[str, Sequence[KeptSheet]]
) -> dict[str, list[KeptSheet]]:
    """By order, all sheets its records must now keep; none for an order without a new one."""
    known = {(order, sheet.number) for order, sheets in kept.items() for sheet in sheets}
    found: dict[str, list[KeptSheet]] = {}
    for plan in plans:
        joint = digest(repr(plan.numbers).encode(), repr(_parts(plan)).encode())[:16]
        for order, number, _ in plan.numbers:
            if (order, number) in known:
                continue
            parts = tuple(part for owner, part in _parts(plan) if owner == order)
            sheet = KeptSheet(number=number, paper=plan.paper, parts=parts, joint=joint)
            found.setdefault(order, [*kept.get(order, ())]).append(sheet)
    return {order: sorted(sheets, key=lambda s: s.number) for order, sheets in found.items()}


def _parts(plan: SheetPlan) -> list[tuple[str, Part]]:
    return [(on.piece.order, (on.piece.piece, on.piece.panel)) for on in plan.pieces]
