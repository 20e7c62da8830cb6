"""Days as they are typed: as the files have them, and in other ways that mean one day alone."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date

from proofgen.errors import UsageError
from proofgen.say import joined
from proofgen.say.local import say_date
from proofgen.say.tongue import HOME, languages
from proofgen.shop.parsers import parse_date

_LIKE = "2026-12-12"
# Day and month in figures, either of them first, and a whole year: two figures may be a day.
_FIGURES = re.compile(r"([0-9]{1,2})([./-])\s?([0-9]{1,2})\2\s?([0-9]{4})")


def typed_day(text: str, like: str = _LIKE, today: date | None = None) -> date:
    """The one day that was typed: 2026-12-18, 18.12.2026, 18 December 2026, Dec 18 2026; months
    are named in any language of the tool. With `today`, a day without a year is the next such day.
    ValueError (“what is wrong; what to write”) where it is
    no day, or may be one of two: it shows one `like` it, or both."""
    text = " ".join(text.split())
    with suppress(ValueError):
        return parse_date(text)
    days = _meant(text) or (_next(text, today) if today else [])
    if len(days) == 1:
        return days[0]
    if not days:
        raise ValueError(f"“{text}” is not a day; write it as {like}")
    both = joined((say_date(day, HOME, long=False) for day in days), "or")
    written = joined((day.isoformat() for day in days), "or")
    raise ValueError(f"“{text}” may be {both}; write it as {written}")


def _next(text: str, today: date) -> list[date]:
    """The next day, from today on, that a text without a year may mean."""
    for year in (today.year, today.year + 1):
        if days := [day for day in _meant(f"{text} {year}") if day >= today]:
            return days
    return []


def _meant(text: str) -> list[date]:
    """The days a text may mean, the day read first before the month read first."""
    if figures := _FIGURES.fullmatch(text):
        first, _, second, year = figures.groups()
        days = []
        for month, day in ((second, first), (first, second)):
            with suppress(ValueError):  # there is no month 18
                days.append(date(int(year), int(month), int(day)))
        return list(dict.fromkeys(days))
    from proofgen.checks.dates import written_dates  # only who names a month waits for the checks

    if not any(c.isalpha() for c in text):
        return []
    return [
        day
        for found in written_dates(text, languages())
        if len(found.text) == len(text)
        for day in found.days
    ]


def read_day(text: str | None, like: str) -> date | None:
    """A day given as an option; None for nothing. UsageError that shows one `like` it."""
    if not text:
        return None
    try:
        return typed_day(text, like)
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        raise UsageError(problem, cure) from None
