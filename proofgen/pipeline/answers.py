"""Customers' answers into the records."""

from __future__ import annotations

from datetime import date

from proofgen import signoff
from proofgen.errors import UsageError
from proofgen.workshop import Workshop


def answer(workshop: Workshop, source: str | bytes, on: date | None) -> signoff.Outcome:
    """A slip, a mail, pasted text or a spoken code."""
    return signoff.take_answer(
        workshop.sound_records(), source, today=workshop.today, on=on, now=workshop.now
    )


def answer_in_person(
    workshop: Workshop, order: str, name: str, says: str, on: date | None
) -> signoff.Outcome:
    """An answer given at the counter, under the name of who gave it."""
    workshop.order(order)
    if on and on > workshop.today:
        raise UsageError(f"{on.isoformat()} has not come yet", "give the day the answer came")
    return signoff.take_in_person(
        workshop.sound_records(), order, name, says, now=workshop.now, today=on or workshop.today
    )
