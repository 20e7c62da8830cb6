"""What an order takes at the press, line by line: blanks, paper and time."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from proofgen.model import Order, Settings, Variant
from proofgen.press.batches import line_works
from proofgen.press.numbering import KeptSheet, numbered_sheets
from proofgen.press.pieces import paper_pieces
from proofgen.press.planning import SheetPlan

_FINEST = Decimal("0.0001")  # of a sheet, or of a metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Usage:
    """One line: blanks, whole seconds, and of each paper the sheets, or of a roll the metres."""

    line: int
    blanks: int
    seconds: int
    papers: Mapping[str, Decimal]


def usage_of(
    order: Order,
    variants: list[Variant],
    settings: Settings,
    only: Collection[int] | None = None,
    kept: Sequence[KeptSheet] = (),
    owners: Mapping[str, int] | None = None,
) -> list[Usage]:
    """What the good pieces of an order, or `only` some of them, take when it is pressed alone, on
    the sheets that are `kept` of it: s of its pressings, without warming up, which an evening has
    once. A sheet belongs to its lines by the area of their papers; one of several orders, by its
    joint in `owners`, to all alike. StopError for a piece that cannot be pressed here."""
    works = line_works(order.id, variants, settings)
    blanks = {
        work.line: sum(
            only is None or piece in only
            for variant in variants
            if variant.line == work.line
            for piece in variant.pieces
        )
        for work in works
    }
    wanted = [
        piece
        for piece in paper_pieces(order, variants, settings)
        if only is None or piece.piece in only
    ]
    shared = {one.number: (owners or {}).get(one.joint, 1) for one in kept if only is None}
    papers = _papers(numbered_sheets(wanted, {order.id: kept}, settings), settings, shared)
    return [
        Usage(
            line=work.line,
            blanks=blanks[work.line],
            seconds=round(math.ceil(blanks[work.line] / work.at_once) * work.sides * work.cycle_s),
            papers=papers.get(work.line, {}),
        )
        for work in works
        if blanks[work.line]
    ]


def _papers(
    plans: Iterable[SheetPlan], settings: Settings, shared: Mapping[int, int]
) -> dict[int, dict[str, Decimal]]:
    rolls = {paper.name for paper in settings.papers if paper.height_mm is None}
    parts: dict[int, dict[str, Fraction]] = {}
    for plan in plans:
        areas = [(on.piece.line, round(on.paper.width * on.paper.height)) for on in plan.pieces]
        whole = sum(area for _, area in areas)
        whole *= max(shared.get(number, 1) for _, number, _ in plan.numbers)
        amount = Fraction(round(plan.size.height), 1000) if plan.paper in rolls else Fraction(1)
        for line, area in areas:
            own = parts.setdefault(line, {})
            own[plan.paper] = own.get(plan.paper, Fraction(0)) + amount * Fraction(area, whole)
    return {
        line: {name: _decimal(amount) for name, amount in own.items()}
        for line, own in parts.items()
    }


def _decimal(amount: Fraction) -> Decimal:
    return (Decimal(amount.numerator) / Decimal(amount.denominator)).quantize(_FINEST).normalize()
