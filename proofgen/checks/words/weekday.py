"""Check words/weekday."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from babel.dates import format_date

from proofgen.checks.dates import Written, dates, weekdays
from proofgen.checks.phrases import day, joined, quoted
from proofgen.checks.registry import Said, check, warn
from proofgen.checks.subjects import TextSubject, texts

_HAS_YEAR = re.compile(r"\d{4}|\d[./-]\s?\d{2}(?!\d)")


@check(
    "words/weekday",
    over=texts,
    why="“Friday 12 June 2027” is wrong somewhere, and nobody but the customer knows where.",
    source="the Gregorian calendar; names of days and months from Unicode CLDR, through Babel",
    codes={
        "mismatch": "the weekday is not that of the date",
        "no-such-day": "there is no such day in the calendar",
    },
)
def weekday(subject: TextSubject) -> Iterator[Said]:
    """Every weekday is that of its date."""
    if not _HAS_YEAR.search(subject.text):
        return  # most words are names; no language's calendar is loaded for those
    given = subject.given
    languages = tuple(
        dict.fromkeys(
            tag
            for tag in ("en", given.shop.settings.language, given.order.customer.language)
            if tag
        )
    )
    found = dates(subject.text, languages)
    for one in found:
        if not one.days:
            yield warn(
                "no-such-day",
                f"There is no day such as {quoted(one.text)}.",
                "Please look at the date again.",
            )
    named = weekdays(subject.text, languages)
    for one, allowed in _paired(found, named):
        if one.days and not any(d.weekday() in allowed for d in one.days):
            truth = joined((f"{day(d)} is a {_name(d)}" for d in one.days), "or")
            yield warn(
                "mismatch",
                f"{quoted(subject.text)}: {truth}.",
                "Please say which is meant, the weekday or the date.",
                measure=_name(one.days[0]),
            )


def _paired(found: list[Written], named: list[int]) -> list[tuple[Written, list[int]]]:
    """Each date with the weekdays that may be its own; none where that cannot be told."""
    if len(found) == 1 and named:
        return [(found[0], named)]
    if len(found) == len(named):
        return [(one, [number]) for one, number in zip(found, named, strict=True)]
    return []


def _name(when: date) -> str:
    return str(format_date(when, "EEEE", locale="en"))
