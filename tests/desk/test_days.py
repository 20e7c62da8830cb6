"""Days that are typed: the options take what the files take, and nothing else."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proofgen.desk.ordering import read_day
from proofgen.errors import UsageError
from proofgen.shop.parsers import parse_date

# Ways of ISO 8601 that Python reads and an order's file refuses.
OTHER = ("20261212", "2026-W50-6", "2026W506", "2026-346", "12.12.2026", "2026-02-30", "٢٠٢٦-12-12")


@pytest.mark.parametrize("text", OTHER)
def test_a_day_is_written_in_one_way(text: str) -> None:
    with pytest.raises(UsageError, match=f"“{text}” is not a day"):
        read_day(text, "2026-12-12")
    with pytest.raises(ValueError, match="write it like 2026-12-12"):
        parse_date(text)


@given(st.one_of(st.dates().map(str), st.text("0123456789-W ", max_size=12)))
def test_options_and_files_agree(text: str) -> None:
    try:
        day: date | None = parse_date(text)
    except ValueError:
        day = None
    try:
        assert read_day(text, "2026-12-12") == day
    except UsageError:
        assert day is None


def test_no_day_is_none() -> None:
    assert read_day(None, "2026-12-12") is None
    assert read_day("", "2026-12-12") is None
