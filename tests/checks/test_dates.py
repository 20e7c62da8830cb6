"""Dates and weekdays as many languages write them; the calendar module is the judge."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

import pytest
from babel.dates import format_date

from proofgen.checks.dates import weekdays, written_dates
from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from tests.checks.cases_words import _text

LANGUAGES = [
    "en", "de", "fr", "es", "it", "pt", "nl", "pl", "sv", "da", "nb", "fi", "is", "cs",
    "sk", "sl", "hr", "sr", "uk", "ru", "bg", "el", "tr", "hu", "ro", "lt", "lv", "et",
    "ga", "cy", "ca", "gl", "vi", "id", "ms", "he", "ar", "fa", "hi", "th", "ko", "ja",
    "zh", "sq", "mk", "af", "fil", "sw", "az",
]  # fmt: skip
DAYS = [date(2027, 1, 4) + timedelta(days=31 * n + n % 7) for n in range(14)]


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_full_date_is_read_and_its_weekday_judged(language: str) -> None:
    for day in DAYS:
        text = format_date(day, "full", locale=language)
        (found,) = written_dates(text, ("en", language))
        assert found.days == (day,), text
        assert weekdays(text, ("en", language)) == [calendar.weekday(*day.timetuple()[:3])], text


@pytest.mark.parametrize("language", ["en", "de", "fr", "pl", "uk", "el", "tr", "hi", "th", "ja"])
def test_a_wrong_weekday_is_told_in_every_language(language: str) -> None:
    for day in DAYS[:7]:
        right = format_date(day, "EEEE", locale=language)
        text = format_date(day, "full", locale=language)
        wrong = text.replace(right, format_date(day + timedelta(days=2), "EEEE", locale=language))
        assert wrong != text
        for written, code in ((text, "pass"), (wrong, "mismatch")):
            found = run_check(CHECKS["words/weekday"], _text(written, language=language))
            assert [f.code for f in found] == [code], written
        assert calendar.day_name[day.weekday()] in found[0].says


@pytest.mark.parametrize(
    ("text", "language", "number"),
    [
        ("Mo. 7. Juni 2027", "de", 0),
        ("wo 9 juni 2027", "nl", 2),
        ("пт 11 июня 2027", "ru", 4),
        ("mar 2 mar 2027", "es", 1),
    ],
)
def test_short_names_right_before_a_date(text: str, language: str, number: int) -> None:
    assert weekdays(text, ("en", language)) == [number]


@pytest.mark.parametrize(
    "text", ["Mo und Jo, 7. Juni 2027", "so wie am 7. Juni 2027", "7 mar 2027"]
)
def test_two_letters_elsewhere_are_no_weekday(text: str) -> None:
    assert weekdays(text, ("en", "de", "es")) == []


def test_thai_years_count_from_the_buddha() -> None:
    (found,) = written_dates("12 มิถุนายน พ.ศ. 2570", ("th",))
    assert found.days == (date(2027, 6, 12),)
