"""What goes into the records of what was used: by an order that is pressed, by pieces spoiled."""

from __future__ import annotations

import contextlib
from collections import Counter
from collections.abc import Collection

from proofgen import press
from proofgen.errors import StopError
from proofgen.model.bill import unit_price
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
    latest = workshop.records.latest(order.id)
    bill = latest.terms["bill"] if latest and latest.terms else []
    prices = {line["line"]: line["unit_price"] for line in bill}
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
        design = workshop.shop.designs.get(line.design)
        today = unit_price(design, line) if not bill else None
        one: UsedLine = {
            "line": line.number,
            "design": line.design,
            "blank": line.blank,
            "cloth": line.cloth,
            "blanks": -many if taken_back else many,
            "seconds": usage.seconds if usage else None,
            "papers": {n: f"{a:f}" for n, a in usage.papers.items()} if usage else None,
            "price": prices.get(line.number, None if today is None else str(today)),
        }
        lines += [one] if many else []
    return {
        "currency": settings.currency,
        "lines": lines,
        "own": order.is_own,
        "apart": True,
    }


def _owners(workshop: Workshop) -> Counter[str]:
    """Of how many orders each sheet is, by its joint."""
    records = workshop.records
    return Counter(
        sheet.joint
        for name in records.orders()
        if not records.is_forgotten(name)
        for sheet in press.kept_sheets(records.sheets(name))
    )
