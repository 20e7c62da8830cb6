"""Whether an answer on a day leaves the days that making takes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from proofgen.model import Settings

SETTINGS = replace(Settings(name="Ours", contact="us@example.org"), lead_days=10)
TODAY = date(2026, 11, 25)


def test_an_answer_is_in_time_where_making_still_fits() -> None:
    assert SETTINGS.in_time(date(2026, 12, 2), date(2026, 12, 12))
    assert not SETTINGS.in_time(date(2026, 12, 3), date(2026, 12, 12))
    assert SETTINGS.in_time(TODAY, None)


def test_the_last_day_for_an_answer_is_in_time_unless_none_can_be() -> None:
    for due in (date(2026, 12, 5), date(2026, 12, 6), date(2026, 12, 31)):
        assert SETTINGS.in_time(SETTINGS.answer_by(TODAY, due), due)
    for due in (date(2026, 11, 25), date(2026, 11, 27), date(2026, 12, 4)):
        assert not SETTINGS.in_time(SETTINGS.answer_by(TODAY, due), due)


def test_an_order_without_a_day_is_answered_in_the_usual_time() -> None:
    assert SETTINGS.answer_by(TODAY, None) == date(2026, 11, 30)
    assert replace(SETTINGS, answer_days=9).answer_by(TODAY, None) == date(2026, 12, 4)
