"""What one piece of an order costs, and what it brings once discounts are off."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from proofgen.model.design import Design
from proofgen.model.order import Line, Order

_CENT, _FINE = Decimal("0.01"), Decimal("0.00000001")


def unit_price(design: Design | None, line: Line) -> Decimal | None:
    """The price of one piece: the one agreed on in the order, else the design's."""
    if line.price is not None or design is None:
        return line.price
    return design.price(line.blank, line.quantity)


def line_total(line: Line, price: Decimal) -> Decimal:
    """What the pieces of a line come to at `price` each, its own discount off."""
    goods = price * line.quantity
    return goods - line.discount.of(goods) if line.discount else goods


def order_discount(order: Order, totals: Mapping[int, Decimal | None]) -> Decimal:
    """What the order's own discount takes off its lines' totals; nothing where one has none."""
    known = [total for total in totals.values() if total is not None]
    if order.discount is None or len(known) < len(totals):
        return Decimal(0)
    return order.discount.of(sum(known, Decimal(0)))


def brought_each(
    totals: Mapping[int, Decimal], pieces: Mapping[int, int], off: Decimal
) -> dict[int, Decimal]:
    """What one piece of each line brings: of `off`, the order's discount, each line bears the share
    that its total is of all. Whole cents where it comes to these, else finer, so that the sum of
    all pieces is right to the cent."""
    whole = sum(totals.values(), Decimal(0))
    left = (whole - off) / whole if whole else Decimal(1)
    each = {number: total * left / pieces[number] for number, total in totals.items()}
    return {
        number: one.quantize(_CENT) if one == one.quantize(_CENT) else one.quantize(_FINE)
        for number, one in each.items()
    }
