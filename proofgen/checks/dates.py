"""Dates and weekdays as people write them, found in words in English and the shop's languages."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from functools import cache

from babel import Locale, UnknownLocaleError

_SHORTEST = 3  # shorter abbreviations mean too many other things, except right before a date
_BUDDHIST = 543  # years by which the Thai calendar is ahead
# Scripts that are written without spaces between words: a name may touch its neighbours.
_RUNNING = ("CJK", "HANGUL", "HIRAGANA", "KATAKANA", "THAI", "LAO", "KHMER")


@dataclass(frozen=True, slots=True)
class Written:
    """A date in a text: as written, and the days it can mean (none: there is no such day)."""

    text: str
    days: tuple[date, ...]


def _plain(name: str) -> str:
    return name.casefold().rstrip(".")


def _running(name: str) -> bool:
    return unicodedata.name(name[0], "").startswith(_RUNNING)


def _is_word(name: str) -> bool:
    return len(name) > 1 and unicodedata.category(name[-1]) in ("Lo", "Mc", "Mn")


def _names(language: str, what: str, shortest: int) -> dict[str, int]:
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
        if not _plain(name).isdigit()
        # Two letters of Hindi or Japanese are a whole word.
        and (len(_plain(name)) >= shortest or (what == "months" and _is_word(_plain(name))))
    }


def _all_names(languages: tuple[str, ...], what: str, shortest: int = _SHORTEST) -> dict[str, int]:
    """The same in several languages; where they differ the first counts."""
    names: dict[str, int] = {}
    for language in reversed(languages):
        names |= _names(language, what, shortest)
    return names


_DATE = "\N{WHITE SQUARE}"  # stands for a date while weekdays are looked for
_ORDINAL = r"(?:st|nd|rd|th|er|re|e|º|ª)?\.?"
_OF = r"[\s,]*(?:(?:of|de|del|du|da|den|d['’]|ב|ค\.ศ\.|พ\.ศ\.)\s*)?"


@dataclass(frozen=True, slots=True)
class _Calendar:
    """How some languages write days and dates; `weekday` None where no name of a day is known."""

    days: dict[str, int]
    months: dict[str, int]
    weekday: re.Pattern[str] | None
    date: re.Pattern[str]


@cache  # the patterns take longer to make than a guest list takes to search
def _calendar(languages: tuple[str, ...]) -> _Calendar:
    months = _all_names(languages, "months")
    return _Calendar(
        days=_all_names(languages, "days", 2),
        months=months,
        weekday=_weekday_pattern(languages),
        date=_date_pattern(months),
    )


def _one_of(names: Iterable[str]) -> str:
    return "|".join(re.escape(n) for n in sorted(names, key=len, reverse=True))


def _weekday_pattern(languages: tuple[str, ...]) -> re.Pattern[str] | None:
    names = _all_names(languages, "days")
    if not names:
        return None
    apart = [name for name in names if not _running(name)]
    close = [name for name in names if _running(name)]
    short = [name for name in _all_names(languages, "days", 2) if len(name) == 2]
    ways = [rf"(?<!\w)(?:{_one_of(apart)})(?![^\W\d_])"] if apart else []
    ways += [rf"(?:{_one_of(close)})"] if close else []
    ways += [rf"(?<!\w)(?:{_one_of(short)})(?=\.?,?\s?{_DATE})"] if short else []
    return re.compile("|".join(ways))


def _date_pattern(months: Iterable[str]) -> re.Pattern[str]:
    month = rf"(?:{_one_of(months)})(?![^\W\d_])"
    return re.compile(
        rf"(?<!\d)(?P<d1>\d{{1,2}}){_ORDINAL}{_OF}(?P<m1>{month})\.?{_OF}(?P<y1>\d{{4}})(?!\d)"
        rf"|(?<!\w)(?P<m2>{month})\.?\s+(?P<d2>\d{{1,2}}){_ORDINAL},?\s+(?P<y2>\d{{4}})(?!\d)"
        rf"|(?<!\d)(?P<y3>\d{{4}})(?:\.?|\s?m\.)\s+(?P<m3>{month})\.?\s+(?P<d3>\d{{1,2}})(?!\d)"
        rf"|(?<!\d)(?P<y6>\d{{4}})\.\s?gada\s+(?P<d6>\d{{1,2}})\.?\s+(?P<m6>{month})"
        r"|(?<!\d)(?P<y4>\d{4})(?:-|[年년]\s?)(?P<m4>\d{1,2})(?:-|[月월]\s?)(?P<d4>\d{1,2})(?!\d)[日일]?"
        r"|(?<!\d)(?P<a5>\d{1,2})(?P<s5>[./-])\s?(?P<b5>\d{1,2})(?P=s5)\s?(?P<y5>\d{4}|\d{2})(?!\d)"
    )


def weekdays(text: str, languages: tuple[str, ...]) -> list[int]:
    """Weekdays named in a text, Monday 0, in order; not those that are part of a date: in Spanish
    “mar” is Tuesday and March."""
    calendar = _calendar(languages)
    if calendar.weekday is None:
        return []
    rest = calendar.date.sub(_DATE, text.casefold())
    return [calendar.days[match[0]] for match in calendar.weekday.finditer(rest)]


def written_dates(text: str, languages: tuple[str, ...]) -> list[Written]:
    """Whole dates (with a year) in a text. All-number dates may mean two days: 5/6/2027.

    A year of two digits is taken as 20xx.
    """
    calendar = _calendar(languages)
    dates = []
    folded = text.casefold()
    for match in calendar.date.finditer(folded):
        part = match.groupdict()
        written = text[match.start() : match.end()] if len(folded) == len(text) else match[0]
        if part["a5"]:
            first, second = int(part["a5"]), int(part["b5"])
            year = int(part["y5"]) + (2000 if len(part["y5"]) == 2 else 0)
            pairs = [(second, first)] if part["s5"] == "." else [(second, first), (first, second)]
        elif part["y4"]:
            year, pairs = int(part["y4"]), [(int(part["m4"]), int(part["d4"]))]
        else:
            form = next(n for n in "1236" if part[f"y{n}"])
            year = int(part[f"y{form}"])
            pairs = [(calendar.months[part[f"m{form}"]], int(part[f"d{form}"]))]
        dates.append(Written(written.strip(), _days(year, pairs)))
    return dates


def _days(year: int, pairs: list[tuple[int, int]]) -> tuple[date, ...]:
    """The real days among (month, day) pairs, once each."""
    days = []
    if year > 2400:
        year -= _BUDDHIST
    for month, day in pairs:
        with suppress(ValueError):
            days.append(date(year, month, day))
    return tuple(dict.fromkeys(days))
