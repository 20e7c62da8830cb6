"""Which season is published, and the last day to order for it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TypedDict

from proofgen.model import Season
from proofgen.workshop import Workshop


def current_season(workshop: Workshop) -> tuple[Season, str] | None:
    """The season to publish, and why it is that one: the one that shop.yaml names, else of those
    whose days hold today the one that began last, else the one that was last, else the last by
    name. None where there is none."""
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
    why = "it is the only one without days" if dated else "it is the only one"
    if len(undated) > 1:
        why = "no season says its days, and it is the last by name: write from: and until: there"
    return undated[-1], why


class Days(TypedDict):
    until: date | None
    order_by: date | None
    answer_days: int
    lead_days: int


def days_of(workshop: Workshop, season: Season) -> Days:
    """The season's last day and the last to order for it, where it has one that can still be met,
    and what the days between are for."""
    settings = workshop.shop.settings
    takes = timedelta(days=settings.answer_days + settings.lead_days)
    last = season.ends - takes if season.ends else None
    in_time = last is not None and last >= workshop.today
    return {
        "until": season.ends if in_time else None,
        "order_by": last if in_time else None,
        "answer_days": settings.answer_days,
        "lead_days": settings.lead_days,
    }
