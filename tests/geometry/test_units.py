"""Lengths and pixels: a raster covers its mm, and no float's last digit adds a column."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proofgen.units import MM_PER_INCH, pixels


# 4.5 inches are 324 px at 72 ppi; in floats the product is 324.00000000000006.
@pytest.mark.parametrize(
    ("mm", "ppi", "px"), [(114.3, 72, 324), (241.3, 300, 2850), (10, 25.4, 10), (10.04, 25.4, 11)]
)
def test_pixels_cover_a_length(mm: float, ppi: float, px: int) -> None:
    assert pixels(mm, ppi) == px


@given(px=st.integers(1, 20_000), ppi=st.sampled_from([25.4, 72.0, 150.0, 300.0, 360.0]))
def test_whole_pixels_stay_so_many_and_a_little_more_takes_one_more(px: int, ppi: float) -> None:
    mm = px * MM_PER_INCH / ppi
    assert pixels(mm, ppi) == px
    assert pixels(mm + 0.001, ppi) == px + 1
