"""What goes into the records of what was used: by an order that is pressed, by pieces spoiled."""

from __future__ import annotations

import contextlib
from collections import Counter
from collections.abc import Collection
from decimal import Decimal

from proofgen import press
from proofgen.errors import StopError
from proofgen.model import Order
from proofgen.model.bill import brought_each, line_total, order_discount, unit_price
from proofgen.pipeline.preflight import Prepared
from proofgen.signoff import Tally, UsedLine
from proofgen.workshop import Workshop


def tally_of(
    workshop: Workshop,
    prepared: Prepared,
    only: Collection[int] | None = None,
    *,
    taken_back: bool = False,
) -> Tally:
    """What the pieces of an order, or `only` some of them, take, line by line."""
    settings, order = workshop.shop.settings, prepared.order
    prices = _prices(workshop, order)
    usages: dict[int, press.Usage] = {}
    # Pressed it was all the same; what it took besides blanks, nobody can tell then.
    with contextlib.suppress(StopError):
        kept = press.kept_sheets(workshop.records.sheets(order.id))
        owners = _owners(workshop) if kept and only is None else None
        taken = press.usage_of(order, prepared.variants, settings, only, kept, owners)
        usages = {usage.line: usage for usage in taken}
    lines: list[UsedLine] = []
    for line in order.lines:
        own = [n for v in prepared.variants if v.line == line.number for n in v.pieces]
        many = len(own) if only is None else len(set(own) & set(only))
        usage = usages.get(line.number)
        one: UsedLine = {
            "line": line.number,
            "design": line.design,
            "blank": line.blank,
            "cloth": line.cloth,
            "blanks": -many if taken_back else many,
            "seconds": usage.seconds if usage else None,
            "papers": {n: f"{a:f}" for n, a in usage.papers.items()} if usage else None,
            "price": prices.get(line.number),
        }
        lines += [one] if many else []
    return {
        "currency": settings.currency,
        "lines": lines,
        "own": order.is_own,
        "apart": True,
    }


def _prices(workshop: Workshop, order: Order) -> dict[int, str]:
    """What one piece of each line brings: by the terms that are signed, else by today's files;
    discounts are off. A line without a price has none."""
    latest = workshop.records.latest(order.id)
    terms = latest.terms if latest else None
    pieces = {line.number: line.quantity for line in order.lines}
    totals: dict[int, Decimal | None]
    if terms:
        totals = {one["line"]: _of(one["total"]) for one in terms["bill"]}
        pieces = {one["line"]: one["quantity"] for one in terms["bill"]}
        off = Decimal(terms.get("discount") or 0)
    else:
        designs = workshop.shop.designs
        each = {one.number: unit_price(designs.get(one.design), one) for one in order.lines}
        totals = {
            one.number: None if (price := each[one.number]) is None else line_total(one, price)
            for one in order.lines
        }
        off = order_discount(order, totals)
    known = {number: total for number, total in totals.items() if total is not None}
    return {number: f"{one:f}" for number, one in brought_each(known, pieces, off).items()}


def _of(amount: str | None) -> Decimal | None:
    return None if amount is None else Decimal(amount)


def _owners(workshop: Workshop) -> Counter[str]:
    """Of how many orders each sheet is, by its joint."""
    records = workshop.records
    return Counter(
        sheet.joint
        for name in records.orders()
        if not records.is_forgotten(name)
        for sheet in press.kept_sheets(records.sheets(name))
    )
