"""Numbers in a sentence, with and without a unit."""

from __future__ import annotations

import pytest

from proofgen.say import at_most, count, mm, number, plural, size


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(91.6, 0, "91"), (119.999, 0, "119"), (120.0, 0, "120"), (2.96, 1, "2.9"), (2.9, 1, "2.9")],
)
def test_a_number_under_a_limit_never_reads_as_the_limit(
    value: float, places: int, text: str
) -> None:
    assert at_most(value, places) == text


def test_numbers_say_no_more_than_they_know() -> None:
    assert [number(66.10), number(4.0), number(100, 0), number(0.125, 3)] == [
        "66.1", "4", "100", "0.125",
    ]  # fmt: skip
    assert count(1867) == "1,867" and mm(9.5) == "9.5 mm"
    assert size(237.08, 100.0) == "237 × 100 mm" and size(60.0, 9.54) == "60 × 9.5 mm"
    assert plural(1, "name") == "1 name" and plural(1200, "copy", "copies") == "1,200 copies"
