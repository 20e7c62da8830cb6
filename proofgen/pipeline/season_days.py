"""Which season is published, which are to come and which are over, and the last days to order."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, timedelta
from typing import TypedDict

from proofgen.catalogue import DueDay, When
from proofgen.errors import Place, ShopError
from proofgen.model import Season
from proofgen.say import joined, quoted
from proofgen.workshop import Workshop


def current_season(workshop: Workshop) -> tuple[Season, str] | None:
    """The season to publish, and why it is that one: the one that shop.yaml names, else of those
    whose days hold today the one that began last, else the one that was last, else the only one
    without days. None where there is none, and where nothing but the maker can tell which
    (`undecided`)."""
    named, today = workshop.shop.settings.season, workshop.today
    seasons = {s.id: s for s in sorted(workshop.shop.seasons, key=lambda s: s.id)}
    if not seasons:
        return None
    if named in seasons:
        return seasons[named], "shop.yaml names it"
    dated = [s for s in seasons.values() if s.begins or s.ends]
    begun = [s for s in dated if not s.begins or s.begins <= today]
    held = [s for s in begun if not s.ends or today <= s.ends]
    if held:
        return max(held, key=lambda s: s.begins or date.min), "its days hold today"
    if begun:
        last = max(begun, key=lambda s: s.ends or date.min)
        return last, "no season's days hold today, and it was the last that did"
    undated = [s for s in seasons.values() if s not in dated]
    if not undated:
        return min(dated, key=lambda s: s.begins or date.max), "it is the next to begin"
    if len(undated) > 1:
        return None
    return undated[0], "it is the only one without days" if dated else "it is the only one"


def undecided(workshop: Workshop) -> ShopError | None:
    """What to tell where there are seasons and none is said to be the one to publish."""
    names = sorted(season.id for season in workshop.shop.seasons)
    if not names or current_season(workshop):
        return None
    return ShopError(
        f"of the seasons {joined(map(quoted, names))} none says its days, so which one to publish "
        "is not known",
        f"write season: {names[-1]} in shop.yaml, or from: and until: in each season",
        Place("shop.yaml"),
    )


def when_of(workshop: Workshop, season: Season) -> When | None:
    """Where a season stands today. None of one that says no days and is not shown now: a draft, but
    once its page was published, it is past."""
    chosen, today = current_season(workshop), workshop.today
    if chosen and chosen[0].id == season.id:
        return "now"
    if season.begins and season.begins > today:
        return "soon"
    if season.ends and season.ends < today:
        return "past"
    if season.begins or season.ends:
        return "now"
    was_shown = (workshop.site / "seasons" / f"{season.id}.html").is_file()
    return "past" if was_shown else None


class Days(TypedDict):
    due: tuple[DueDay, ...]
    answer_days: int
    lead_days: int


def _waiting_days(workshop: Workshop) -> int:
    """The evenings that are filled by the pieces which wait for the press, at one evening a day, by
    the shop's own times; 0 where none waits."""
    times, total = workshop.shop.settings.times, 0.0
    for (name, _), stock in workshop.in_stock.items():
        blank = workshop.shop.blanks.get(name)
        if blank and blank.press:
            each = blank.press.time_s + blank.press.preheat_s + times.handling_s
            total += sum(stock.needs.values()) * each * blank.press.sides
    if not total:
        return 0
    return math.ceil(total / max(times.evening_s - times.warm_up_s, 600.0))


def _wanted(season: Season) -> Iterator[tuple[str, date]]:
    yield from sorted(season.due.items(), key=lambda one: one[1])
    if season.ends and season.ends not in season.due.values():
        yield "", season.ends


def days_of(workshop: Workshop, season: Season) -> Days:
    """The days that people want things by and that can still be met, each with the last day to
    order for it; what an answer and the making take. Where more waits for the press than the
    shop's own days of making hold, those are as many as it takes and one more."""
    settings = workshop.shop.settings
    waiting = _waiting_days(workshop)
    lead = settings.lead_days if waiting < settings.lead_days else waiting + 1
    takes = timedelta(days=settings.answer_days + lead)
    every = [DueDay(name=name, day=day, order_by=day - takes) for name, day in _wanted(season)]
    return {
        "due": tuple(one for one in every if one.order_by >= workshop.today),
        "answer_days": settings.answer_days,
        "lead_days": lead,
    }
