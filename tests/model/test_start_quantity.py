"""How many blanks to start with: one answer for the stock and for the press."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proofgen.errors import ShopError
from proofgen.model import start_quantity


@pytest.mark.parametrize(
    ("good", "spoiled", "start"),
    [
        # Q / (1 - q), rounded up; Q (1 + q) would give 105 and 255. Groover, Fundamentals of Modern
        # Manufacturing, ch. on production measures (the book from memory, the numbers by hand).
        (100, 0.05, 106),
        (250, 0.02, 256),
        (95, 0.05, 100),  # exactly 100: a float would say 101
        (19, 0.05, 20),
        (12, 0.0, 12),
        (1, 0.05, 2),
        (14, 1 / 15, 15),  # exactly 15; the float's own digits would give 16
    ],
)
def test_start_quantity(good: int, spoiled: float, start: int) -> None:
    assert start_quantity(good, spoiled) == start


@given(st.integers(1, 10_000), st.integers(1, 2_000), st.data())
def test_any_share_is_reckoned_exactly(good: int, parts: int, data: st.DataObject) -> None:
    share = Fraction(data.draw(st.integers(0, parts // 2)), parts)
    assert start_quantity(good, float(share)) == math.ceil(good / (1 - share))


def test_all_spoiled_is_no_plan() -> None:
    with pytest.raises(ShopError):
        start_quantity(10, 1.0)
