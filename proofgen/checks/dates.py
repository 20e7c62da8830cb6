"""Dates and weekdays as people write them, found in words in English and the shop's languages."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from functools import cache

from babel import Locale, UnknownLocaleError

_SHORTEST = 3  # shorter abbreviations mean too many other things


@dataclass(frozen=True, slots=True)
class Written:
    """A date in a text: as written, and the days it can mean (none: there is no such day)."""

    text: str
    days: tuple[date, ...]


def _plain(name: str) -> str:
    return name.casefold().rstrip(".")


@cache
def _names(language: str, what: str) -> dict[str, int]:
    """Casefolded names of weekdays (Monday 0) or months (January 1) in a language."""
    try:
        locale = Locale.parse(language.replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        return {}
    table = locale.days if what == "days" else locale.months
    return {
        _plain(name): int(number)
        for context in ("format", "stand-alone")
        for width in ("wide", "abbreviated")
        for number, name in table[context][width].items()
        if len(_plain(name)) >= _SHORTEST and not _plain(name).isdigit()
    }


def _all_names(languages: tuple[str, ...], what: str) -> dict[str, int]:
    names: dict[str, int] = {}
    for language in languages:
        for name, number in _names(language, what).items():
            names.setdefault(name, number)
    return names


def _one_of(names: dict[str, int]) -> str:
    return "|".join(re.escape(n) for n in sorted(names, key=len, reverse=True))


def weekdays(text: str, languages: tuple[str, ...]) -> list[int]:
    """Weekdays named in a text, Monday 0, in order."""
    names = _all_names(languages, "days")
    if not names:
        return []
    found = re.findall(rf"(?<!\w)({_one_of(names)})(?!\w)", text.casefold())
    return [names[f] for f in found]


_ORDINAL = r"(?:st|nd|rd|th|er|re|e|º|ª)?\.?"
_OF = r"[\s,]*(?:(?:of|de|del|du|da|den|d['’])\s*)?"


@cache
def _pattern(languages: tuple[str, ...]) -> re.Pattern[str]:
    month = f"(?:{_one_of(_all_names(languages, 'months'))})"
    return re.compile(
        rf"(?<!\d)(?P<d1>\d{{1,2}}){_ORDINAL}{_OF}(?P<m1>{month})\b\.?{_OF}(?P<y1>\d{{4}})(?!\d)"
        rf"|(?<!\w)(?P<m2>{month})\.?\s+(?P<d2>\d{{1,2}}){_ORDINAL},?\s+(?P<y2>\d{{4}})(?!\d)"
        rf"|(?<!\d)(?P<y3>\d{{4}})\.?\s+(?P<m3>{month})\.?\s+(?P<d3>\d{{1,2}})(?!\d)"
        r"|(?<!\d)(?P<y4>\d{4})-(?P<m4>\d{1,2})-(?P<d4>\d{1,2})(?!\d)"
        r"|(?<!\d)(?P<a5>\d{1,2})(?P<s5>[./-])\s?(?P<b5>\d{1,2})(?P=s5)\s?(?P<y5>\d{4}|\d{2})(?!\d)"
    )


def _days(year: int, pairs: list[tuple[int, int]]) -> tuple[date, ...]:
    """The real days among (month, day) pairs, once each."""
    found = []
    for month, day in pairs:
        try:
            found.append(date(year, month, day))
        except ValueError:
            continue
    return tuple(dict.fromkeys(found))


def dates(text: str, languages: tuple[str, ...]) -> list[Written]:
    """Whole dates (with a year) in a text. All-number dates may mean two days: 5/6/2027.

    A year of two digits is taken as 20xx.
    """
    months = _all_names(languages, "months")
    found = []
    folded = text.casefold()
    for match in _pattern(languages).finditer(folded):
        part = match.groupdict()
        written = text[match.start() : match.end()] if len(folded) == len(text) else match[0]
        if part["a5"]:
            first, second = int(part["a5"]), int(part["b5"])
            year = int(part["y5"]) + (2000 if len(part["y5"]) == 2 else 0)
            pairs = [(second, first)] if part["s5"] == "." else [(second, first), (first, second)]
        elif part["y4"]:
            year, pairs = int(part["y4"]), [(int(part["m4"]), int(part["d4"]))]
        else:
            form = next(n for n in "123" if part[f"y{n}"])
            year = int(part[f"y{form}"])
            pairs = [(months[part[f"m{form}"]], int(part[f"d{form}"]))]
        found.append(Written(written.strip(), _days(year, pairs)))
    return found
