"""Days that are typed: as the files take them, and in the other ways that mean one day alone."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proofgen.desk.days import read_day, typed_day
from proofgen.errors import UsageError
from proofgen.say.tongue import languages
from proofgen.shop.parsers import parse_date

# Ways of ISO 8601 that Python reads and an order's file refuses, no day, and half of one.
NONE = (
    "20261212", "2026-W50-6", "2026W506", "2026-346", "2026-02-30", "٢٠٢٦-12-12", "next friday",
    "18 december", "30.2.2026", "18-12-26", "18 december 2026 or later", "18-12.2026",
)  # fmt: skip
# The eighteenth of December, as people write it in the languages of the tool.
EIGHTEENTH = (
    "2026-12-18", "18-12-2026", "18.12.2026", "18/12/2026", "12/18/2026", "18 december 2026",
    "18. Dezember 2026", "Dec 18 2026", "December 18, 2026", "18 Dec 2026",
    "18 de diciembre de 2026",
    "18 ديسمبر 2026", " 18  december 2026",
)  # fmt: skip


@pytest.mark.parametrize("text", NONE)
def test_what_is_no_day_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(UsageError, match=f"“{text}” is not a day") as told:
        read_day(text, "2026-12-12")
    assert told.value.cure == "write it as 2026-12-12"
    with pytest.raises(ValueError, match="write it like 2026-12-12"):
        parse_date(text)


@pytest.mark.parametrize("text", EIGHTEENTH)
def test_what_can_mean_one_day_alone_is_taken(text: str) -> None:
    """“18-12-2026” and “18 december 2026” were refused."""
    assert typed_day(text) == date(2026, 12, 18)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("12 December", date(2026, 12, 12)),
        ("Dec 12", date(2026, 12, 12)),
        ("12. Januar", date(2027, 1, 12)),
        ("30 November", date(2026, 11, 30)),
        ("29 November", date(2027, 11, 29)),
        ("20.12.", date(2026, 12, 20)),
        ("12 December 2025", date(2025, 12, 12)),
    ],
)
def test_without_a_year_it_is_the_next_such_day(text: str, day: date) -> None:
    assert typed_day(text, today=date(2026, 11, 30)) == day


@pytest.mark.parametrize("text", ["December", "12/11", "Friday", "2026", "30 February"])
def test_what_is_no_day_without_a_year_either(text: str) -> None:
    with pytest.raises(ValueError, match="is not a day"):
        typed_day(text, today=date(2026, 11, 30))


@pytest.mark.parametrize("text", ["12-11-2026", "12.11.2026", "12/11/2026"])
def test_what_may_be_two_days_is_told_with_both(text: str) -> None:
    with pytest.raises(UsageError, match="12 November 2026 or 11 December 2026") as told:
        read_day(text, "2026-12-12")
    assert told.value.cure == "write it as 2026-11-12 or 2026-12-11"
    assert typed_day("12-12-2026") == date(2026, 12, 12)  # both are one


def test_months_are_read_in_every_language() -> None:
    from babel.dates import format_date

    for code in languages():
        written = format_date(date(2026, 3, 18), "d MMMM y", locale=code).translate(
            {0x660 + n: str(n) for n in range(10)}
        )
        assert typed_day(written) == date(2026, 3, 18), written


@given(st.one_of(st.dates().map(str), st.text("0123456789-W ", max_size=12)))
def test_what_files_take_options_take(text: str) -> None:
    try:
        day = parse_date(text)
    except ValueError:
        return
    assert read_day(text, "2026-12-12") == day


def test_no_day_is_none() -> None:
    assert read_day(None, "2026-12-12") is None
    assert read_day("", "2026-12-12") is None
