"""When blanks were counted: a day for all of them, or each cloth its own moment."""

from __future__ import annotations

from datetime import date, datetime

from proofgen.model import Stock

MORNING = date(2026, 11, 20)
EVENING = datetime(2026, 11, 25, 21, 40)


def test_a_cloth_that_was_counted_alone_has_its_own_moment() -> None:
    stock = Stock(pieces={"white": 3, "sky": 4}, counted=MORNING, own={"sky": EVENING})
    assert (stock.counted_at("white"), stock.counted_at("sky")) == (MORNING, EVENING)
    assert Stock(pieces={"white": 3}).counted_at("white") is None
