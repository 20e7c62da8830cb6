"""The rate of spares that a season suggests: small numbers are told as such."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from proofgen.model.yields import Spoilage

FIVE = Decimal("0.05")


@pytest.mark.parametrize(
    ("spoiled", "pressed", "verdict", "suggested"),
    [
        (12, 400, "enough", "0.05"),
        (0, 400, "enough", "0.01"),
        (0, 20, "not known yet", None),
        (2, 4, "not known yet", None),
        (0, 0, "nothing pressed", None),
        (40, 400, "too few", "0.10"),
        (20, 400, "not known yet", None),
    ],
)
def test_what_it_says_of_five_percent(spoiled, pressed, verdict, suggested):
    seen = Spoilage(pressed=pressed, spoiled=spoiled)
    assert seen.verdict(FIVE) == verdict
    told = seen.suggested(FIVE)
    assert (None if told is None else str(told)) == suggested


@pytest.mark.parametrize(("spoiled", "pressed"), [(0, 1), (12, 400), (7, 9), (9, 9)])
def test_the_ends_solve_their_equation(spoiled, pressed):
    """At either end of the interval the share seen lies 1.6449 standard errors away."""
    seen = Spoilage(pressed=pressed, spoiled=spoiled)
    share = spoiled / pressed
    for end in map(float, seen.between):
        if 0 < end < 1:
            error = math.sqrt(end * (1 - end) / pressed)
            assert abs(share - end) == pytest.approx(1.6449 * error, rel=1e-6)
