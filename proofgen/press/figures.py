"""Where the figures of an evening's plan stand: a file and line of the shop, or practice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from proofgen.errors import Place
from proofgen.model import Order, Settings
from proofgen.press.batches import MOST_AT_ONCE, LineWork
from proofgen.press.pieces import FROM, PRACTICE, setting_of
from proofgen.say import number, plural


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure of the plan, and its place: the file and line that say so, or practice."""

    what: str
    value: str
    where: str


def figures_of(
    works: Sequence[LineWork], orders: Sequence[Order], settings: Settings
) -> tuple[Figure, ...]:
    """Every figure that the plan of these lines and orders is worked out from."""
    blanks = {work.blank.id: work for work in works}
    times = settings.times

    def shop(what: str, value: str, key: str) -> Figure:
        line = settings.lines.get(key)
        where = str(Place(settings.place.file, line)) if line else PRACTICE
        return Figure(what=what, value=value, where=where)

    wide, high = map(number, settings.platen_mm)
    return (
        *(_of_blank(work) for work in blanks.values()),
        shop("warming up, laying out", _minutes(times.warm_up_s), "evening.warm_up"),
        shop("each change of heat", _minutes(times.change_s), "evening.change"),
        shop("changing blanks", f"{number(times.handling_s)} s a pressing", "evening.handling"),
        shop("your evening", _minutes(times.evening_s), "evening.minutes"),
        shop("platen", f"{wide} × {high} mm", "platen"),
        Figure(what="side by side", value=f"{MOST_AT_ONCE} blanks at most", where=PRACTICE),
        shop("spares", f"{number(100 * settings.spares)} % may spoil", "spares"),
        shop("days for making", number(settings.lead_days), "days.lead"),
        shop("papers", ", ".join(paper.name for paper in settings.papers), "paper"),
        *(_of_order(order) for order in orders),
    )


def _of_blank(work: LineWork) -> Figure:
    press = work.press
    value = f"{setting_of(work.blank).in_words}, preheat {number(press.preheat_s)} s, " + plural(
        press.sides, "side"
    )
    where = f"{work.blank.place_of('press')}, {FROM[press.source]}"
    return Figure(what=work.blank.name, value=value, where=where)


def _of_order(order: Order) -> Figure:
    place = Place(order.place.file, order.keys.get("due", order.place.line))
    due = order.due.isoformat() if order.due else "no day"
    return Figure(what=f"{order.id} is due", value=due, where=str(place))


def _minutes(seconds: float) -> str:
    return f"{number(seconds / 60)} min"
