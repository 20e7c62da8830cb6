"""Checks of the price: is there one, and would more pieces cost less."""

from __future__ import annotations

from proofgen.checks.frame import Remarks, check, note, skipped, warn
from proofgen.checks.subjects import OrderedLine, lines
from proofgen.model import Limits
from proofgen.model.bill import unit_price
from proofgen.say import count, plural, visible


def no_design(ordered: OrderedLine) -> str:
    """Why a check of the design has nothing to look at."""
    return f"The shop has no design called “{visible(ordered.line.design)}”."


@check(
    "order/price",
    lines,
    why="A proof shows what the order costs; without a price it promises nothing, or too little.",
    source="prices of the design's file",
    codes={
        "not-offered": "the design has no price on this blank",
        "too-few": "the price starts at a larger quantity",
        "no-design": "the shop has no such design",
    },
)
def price(ordered: OrderedLine, _: Limits) -> Remarks:
    """Every line has a price."""
    line, design = ordered.line, ordered.design
    if design is None:
        yield skipped("no-design", no_design(ordered))
        return
    if unit_price(design, line) is not None:
        return
    steps = [start for start, _ in design.offered.get(line.blank, ())]
    name = visible(ordered.blank.name if ordered.blank else line.blank)
    if steps:
        yield warn(
            "too-few",
            f"“{visible(design.title)}” on {name} has a price from {count(min(steps))} pieces on; "
            f"{count(line.quantity)} are ordered.",
            "Order more, or write a price for fewer in the design.",
            measure=line.quantity,
            limit=min(steps),
        )
    else:
        yield warn(
            "not-offered",
            f"“{visible(design.title)}” is not offered on {name}, so it has no price there.",
            f"Add it in designs/{visible(design.id)}/design.md, under offered:  "
            f"{visible(line.blank)}: 14.50 (your price); or choose another blank.",
        )


@check(
    "order/price-break",
    lines,
    why="Where more pieces cost less in all, the customer pays for being told too little.",
    source="prices of the design's file",
    codes={"more-for-less": "a larger quantity costs less in all"},
)
def price_break(ordered: OrderedLine, _: Limits) -> Remarks:
    """No larger quantity would cost less in all."""
    line, design = ordered.line, ordered.design
    each = design.price(line.blank, line.quantity) if design else None
    if design is None or each is None or line.price is not None or line.discount:
        return  # told by the check of the price, or agreed on
    ways = [(start * price, start, price) for start, price in design.offered[line.blank]]
    cheaper = [way for way in ways if way[1] > line.quantity and way[0] < each * line.quantity]
    if cheaper:
        total, more, price = min(cheaper)
        yield note(
            "more-for-less",
            f"{plural(more, 'piece')} at {price} are {total} in all; {count(line.quantity)} at "
            f"{each}, as ordered, {'is' if line.quantity == 1 else 'are'} "
            f"{each * line.quantity}.",
            "Tell the customer; or change the steps of the price in the design.",
            measure=line.quantity,
            limit=more,
        )
