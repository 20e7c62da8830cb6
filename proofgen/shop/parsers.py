"""Small readers of single values; a ValueError reads “what is wrong; what to write”."""

from __future__ import annotations

import re
from datetime import date, datetime

_NUMBER = re.compile(r"-?[0-9]{1,9}(?:\.[0-9]{1,9})?")
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2} [0-9]{2}:[0-9]{2}(?::[0-9]{2})?")
_WHOLE = re.compile(r"[0-9]{1,9}")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_COLOUR = re.compile(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})")
_YES = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


def parse_whole(text: str) -> int:
    """A whole number. ValueError says what to write."""
    if not _WHOLE.fullmatch(text.strip()):
        raise ValueError(f"“{text}” is not a whole number; write it like 12")
    return int(text)


def parse_number(text: str) -> float:
    """A plain number. ValueError says what to write."""
    if not _NUMBER.fullmatch(text.strip()):
        raise ValueError(f"“{text}” is not a number; write it like 1.2")
    return float(text)


def parse_date(text: str) -> date:
    """A date as year-month-day. ValueError says what to write."""
    try:
        if not _DATE.fullmatch(text.strip()):
            raise ValueError
        return date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(f"“{text}” is not a date; write it like 2026-12-12") from None


def parse_moment(text: str) -> date:
    """A day, or a datetime of a clock: 2026-12-12 21:40, or with seconds. ValueError says what to
    write."""
    if _DATE.fullmatch(text.strip()):
        return parse_date(text)
    try:
        if not _MOMENT.fullmatch(text.strip()):
            raise ValueError
        return datetime.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(
            f"“{text}” is no day and no time; write it like 2026-12-12, or 2026-12-12 21:40"
        ) from None


def parse_colour(text: str) -> str:
    """`#rrggbb` or `#rgb` as lower-case `#rrggbb`. ValueError says what to write."""
    colour = text.strip().lower()
    if not _COLOUR.fullmatch(colour):
        raise ValueError(f'“{text}” is not a colour; write it like "#6fb7e9", with the quotes')
    return "#" + "".join(2 * c for c in colour[1:]) if len(colour) == 4 else colour


def parse_yes(text: str) -> bool:
    """yes or no. ValueError says what to write."""
    if text.strip().lower() not in _YES:
        raise ValueError(f"“{text}” is neither yes nor no; write yes or no")
    return _YES[text.strip().lower()]
