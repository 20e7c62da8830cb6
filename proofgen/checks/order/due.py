"""Check order/due."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from proofgen.checks.phrases import day, plural
from proofgen.checks.registry import Said, check, skipped, stop, warn
from proofgen.checks.subjects import OrderSubject, whole_order
from proofgen.errors import Place


@check(
    "order/due",
    over=whole_order,
    why="A proof takes days to be answered and pieces take days to be made; a date that is too "
    "near should be talked about now.",
    source="days in shop.yaml, counted by the calendar",
    codes={
        "past": "the day is over",
        "tight": "less time than answering and making take",
        "no-date": "the order names no day",
    },
)
def due(subject: OrderSubject) -> Iterator[Said]:
    """There is time to answer and to make the pieces."""
    order, settings = subject.order, subject.given.shop.settings
    where = str(Place(order.place.file, order.keys.get("due", order.place.line)))
    if order.due is None:
        yield skipped(
            "no-date",
            "This order does not say when it is due.",
            "If there is a day, write due: 2026-12-12 into order.yaml.",
            where=where,
        )
        return
    left = (order.due - subject.given.today).days
    need = settings.answer_days + settings.lead_days
    if left < 0:
        yield stop(
            "past",
            f"This order was due on {day(order.due)}, {plural(-left, 'day')} ago.",
            "Agree on a later day with the customer, and write it as due.",
            measure=left,
            limit=0,
            where=where,
        )
    elif left < need:
        earliest = subject.given.today + timedelta(days=need)
        yield warn(
            "tight",
            f"This order is due on {day(order.due)}, in {plural(left, 'day')}; answering the proof "
            f"({settings.answer_days}) and making ({settings.lead_days}) take {need}.",
            f"Answer the proof early, or agree on {day(earliest)} or later.",
            measure=left,
            limit=need,
            where=where,
        )
