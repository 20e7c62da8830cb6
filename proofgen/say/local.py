"""Dates, money and numbers as a language writes them."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.lists import format_list
from babel.numbers import format_currency, format_decimal, get_currency_precision

NARROW = "\N{NO-BREAK SPACE}"  # between a number and its unit: they stay on one line

# English as it is written in most places; the United States put the month first.
_ENGLISH = {
    "long": "EEEE d MMMM y",
    "short": "d MMMM y",
    "day": "EEEE d MMMM",
}
_AMERICAN = {
    "long": "EEEE, MMMM d, y",
    "short": "MMMM d, y",
    "day": "EEEE, MMMM d",
}


@functools.lru_cache(maxsize=64)
def locale_of(language: str) -> Locale:
    """Babel's locale for a tag such as 'en' or 'en-IE'; English when it knows none."""
    try:
        return Locale.parse(language.replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        return Locale("en")


def _date(day: date, language: str, kind: str) -> str:
    locale = locale_of(language)
    if locale.language == "en":
        pattern = (_AMERICAN if locale.territory == "US" else _ENGLISH)[kind]
        return format_date(day, pattern, locale=locale)
    return format_date(day, "long" if kind == "short" else "full", locale=locale)


def say_date(day: date, language: str, long: bool = True) -> str:
    """'Friday 4 December 2026'; without `long` '4 December 2026'."""
    return _date(day, language, "long" if long else "short")


def say_day(day: date, language: str) -> str:
    """'Friday 4 December': a day close enough to need no year (other languages keep the year)."""
    return _date(day, language, "day")


@functools.lru_cache(maxsize=64)
def day_form(language: str) -> dict[str, str | list[str]]:
    """How the language writes such a day, for a script that has no Babel: the `form` with its
    places {weekday}, {day}, {month} and, where it has one, {year}; the `weekdays`, Sunday first,
    and the `months`."""
    locale = locale_of(language)

    def said(kind: str, days: Iterable[date]) -> list[str]:
        return [format_date(one, kind, locale=locale) for one in days]

    weekdays = said("EEEE", (date(2026, 11, day) for day in range(1, 8)))  # the first is a Sunday
    months = said("MMMM", (date(2026, month, 1) for month in range(1, 13)))
    form = say_day(date(2026, 12, 25), language)
    for text, place in (
        (weekdays[5], "weekday"), (months[11], "month"), ("25", "day"), ("2026", "year"),
    ):  # fmt: skip
        form = form.replace(text, f"{{{place}}}")
    return {"form": form, "weekdays": weekdays, "months": months}


def say_money(amount: Decimal, currency: str, language: str) -> str:
    """'€14.50', as the language writes it. `currency` is an ISO 4217 code."""
    return _money(str(amount), currency, language)


# A season says the same few prices thousands of times. By their letters, since equal numbers may be
# written otherwise.
@functools.lru_cache(maxsize=1024)
def _money(amount: str, currency: str, language: str) -> str:
    return format_currency(Decimal(amount), currency, locale=locale_of(language))


@functools.lru_cache(maxsize=64)
def money_form(currency: str, language: str) -> dict[str, str | int]:
    """How the language writes an amount of money, for a script that has no Babel: what stands
    `before` and `after` the digits, what parts three of them (`group`) and the decimals (`point`),
    and how many of these there are (`places`)."""
    places = get_currency_precision(currency)
    said = say_money(Decimal(12345), currency, language)
    digits = re.search(r"\d.*\d", said)
    assert digits
    whole = digits[0][: -places - 1] if places else digits[0]
    return {
        "before": said[: digits.start()],
        "after": said[digits.end() :],
        "group": whole[2:-3],
        "point": digits[0][len(whole)] if places else "",
        "places": places,
    }


@functools.lru_cache(maxsize=1024)
def say_number(value: float, language: str, places: int = 1) -> str:
    """A number with at most `places` decimals, none that say nothing: '1,867', '22.9'."""
    return format_decimal(
        round(value, places) + 0.0, f"#,##0.{'#' * places}", locale=locale_of(language)
    )


# Millimetre as CLDR writes it short, where it is not the sign of the SI.
_MM = {"ar": "مم"}


def say_mm(value: float, language: str, places: int = 1) -> str:
    """'66.1 mm', held together by a no-break space."""
    unit = _MM.get(locale_of(language).language, "mm")
    return f"{say_number(value, language, places)}{NARROW}{unit}"


def say_list(things: Sequence[str], language: str) -> str:
    """'a, b and c', as the language joins them (CLDR)."""
    locale = locale_of(language)
    if locale.language == "en" and locale.territory != "US":
        locale = Locale("en", "GB")  # without a comma before the last
    return format_list(list(things), locale=locale)
