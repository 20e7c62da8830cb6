"""What one piece of an order costs."""

from __future__ import annotations

from decimal import Decimal

from proofgen.model.design import Design
from proofgen.model.order import Line


def unit_price(design: Design | None, line: Line) -> Decimal | None:
    """The price of one piece: the one agreed on in the order, else the design's."""
    if line.price is not None or design is None:
        return line.price
    return design.price(line.blank, line.quantity)
