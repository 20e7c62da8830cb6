"""The evening from signed jobs: sheets shared with another evening, heats once each, days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from proofgen import press
from proofgen.model import PressSetting, PressTimes
from proofgen.press import Evening, Job
from tests.press.conftest import A3, MADE, make_blank, make_job, make_layout, make_shop, names

TODAY = date(2026, 11, 25)
WRAP = make_layout(make_blank("wrap"))


def due(job: Job, days: int | None) -> Job:
    """The job, due in so many days."""
    day = None if days is None else TODAY + timedelta(days=days)
    return replace(job, order=replace(job.order, due=day))


def planned(theme, jobs: list[Job], times: PressTimes, *named: str) -> Evening:
    shop = make_shop(papers=(A3,), times=times)
    laid = press.lay(jobs, shop, theme, made=MADE)
    orders = {job.order.id: job.order for job in jobs}
    return press.plan_evening(laid, orders, shop.settings, TODAY, named=named, left_out={})


def test_sheets_that_another_evening_shares_are_printed_and_its_papers_kept(theme) -> None:
    jobs = [
        due(make_job("first", (WRAP, names("A", "B"))), 12),
        due(make_job("later", (WRAP, names(*"CDEFGHI"))), 30),
    ]
    # 2 wraps and a spare: 2 pressings of 10 + 60 + 45 s after 10 minutes, which leaves no room
    # for the 4 of the other.
    evening = planned(theme, jobs, PressTimes(evening_s=900))
    assert [turn.order for turn in evening.tonight] == ["first"]
    assert [turn.order for turn in evening.another] == ["later"]
    assert evening.seconds == 600 + 2 * 115
    shop = make_shop(papers=(A3,))
    (sheets,) = press.lay(jobs, shop, theme, made=MADE).files.values()
    wanted = [page for page, plan in enumerate(sheets, 1) if "first" in plan.orders]
    (one,) = evening.prints
    assert list(one.pages) == wanted and one.whole == len(sheets) == 3 > len(wanted)
    assert one.numbers == {"first": tuple(range(1, len(wanted) + 1))}
    assert one.keep == ("later",)  # nine wraps, three to a sheet: they share one
    assert [(pick.good, pick.spares) for pick in evening.picks] == [(2, 1)]


def test_each_heat_once_from_the_coolest_however_soon_the_hottest_is_due(theme) -> None:
    heats = {"hot": (204.0, 12), "cool": (180.0, None), "same": (204.0, 40), "mild": (190.0, 20)}
    jobs = []
    for name, (heat, days) in heats.items():
        blank = make_blank("flat", id=name, press=PressSetting(heat_c=heat, time_s=50.0))
        jobs.append(due(make_job(name, (make_layout(blank), names("A"))), days))
    evening = planned(theme, jobs, PressTimes())
    assert [heat.stage.setting.heat_c for heat in evening.heats] == [180, 190, 204]
    assert [heat.stage.setup_s for heat in evening.heats] == [600, 300, 300]
    assert [task.work.order for task in evening.tasks] == ["cool", "mild", "hot", "same"]
    # Each is one piece and one spare at once: 50 + 45 s.
    assert [task.done_s for task in evening.tasks] == [695, 1090, 1485, 1580]


def test_what_must_be_is_pressed_whatever_the_minutes(theme) -> None:
    jobs = [due(make_job(name, (WRAP, names("A"))), days) for name, days in
            (("late", -3), ("now", 10), ("soon", 11), ("named", 40))]  # fmt: skip
    evening = planned(theme, jobs, PressTimes(evening_s=750), "named")
    # One press of one takes 715 s, so that each of them alone is one evening.
    assert [turn.order for turn in evening.tonight] == ["late", "now", "named"]
    assert evening.seconds > evening.has_s and evening.late == {"late": 3}
    (soon,) = evening.another
    assert soon.start_by == TODAY + timedelta(days=1) and soon.seconds == 715
    longer = planned(theme, jobs, PressTimes(evening_s=700))  # each begins an evening earlier
    assert [turn.order for turn in longer.tonight] == ["late", "now", "soon"]


def pressed(evening: Evening) -> list[tuple[int, str, tuple[int, ...], float]]:
    """What is pressed on which evening: pieces of which order, done after how many s."""
    return [
        (heat.evening, task.work.order, task.work.pieces, task.done_s)
        for heat in evening.heats
        for task in heat.tasks
    ]


def test_what_is_longer_than_an_evening_is_parted(theme) -> None:
    hot = make_blank("wrap", id="hot", press=PressSetting(heat_c=210.0, time_s=60.0))
    fold = make_blank("fold", id="both", press=PressSetting(heat_c=210.0, time_s=70.0, sides=2))
    jobs = [
        make_job("party", (WRAP, names(*"ABCDEFGHIJ"))),
        make_job("small", (make_layout(hot), names("A"))),
        make_job("pairs", (make_layout(fold), names("A", "B"))),
    ]
    times = PressTimes(warm_up_s=600, change_s=300, handling_s=45, evening_s=1000)
    evening = planned(theme, jobs, times, "party", "small", "pairs")
    # Tonight 600 s and 3 pressings of 115 s, two wraps each; then 600 + 3 × 115 (pieces 7 to 10 and
    # the spare); then the hotter ones: warming up instead of a change, 105 s of one and its spare,
    # and of the folds both sides of two, 2 × 115 s; those of the spare are one evening more.
    assert pressed(evening) == [
        (1, "party", (1, 2, 3, 4, 5, 6), 945),
        (2, "party", (7, 8, 9, 10), 945),
        (3, "small", (1,), 705),
        (3, "pairs", (1, 2), 935),
        (4, "pairs", (), 830),
    ]
    assert [task.is_part for task in evening.tasks] == [True, True, False, True, True]
    assert sum(task.work.start for task in evening.tasks) == 11 + 2 + 3


def test_what_is_due_first_is_pressed_on_the_first_evening_however_hot(theme) -> None:
    heats = {"hot": (204.0, 1), "cool": (180.0, 2), "mild": (190.0, 3)}
    jobs = []
    for name, (heat, days) in heats.items():
        blank = make_blank("wrap", id=name, press=PressSetting(heat_c=heat, time_s=55.0))
        jobs.append(due(make_job(name, (make_layout(blank), names(*"ABC"))), days))
    # Each is two pressings of 100 s: 600 + 200; another heat more is 300 + 200, of which half fits.
    evening = planned(theme, jobs, PressTimes(evening_s=1200))
    assert all(turn.must(TODAY) for turn in evening.tonight) and len(evening.tonight) == 3
    assert pressed(evening) == [
        (1, "cool", (1, 2), 700),
        (1, "hot", (1, 2, 3), 1200),
        (2, "cool", (3,), 700),
        (2, "mild", (1, 2, 3), 1200),
    ]
    assert [heat.stage.setup_s for heat in evening.heats] == [600, 300, 600, 300]
    all_of_it = planned(theme, jobs, PressTimes(evening_s=1800))
    assert [(one, order) for one, order, *_ in pressed(all_of_it)] == [
        (1, "cool"), (1, "mild"), (1, "hot"),
    ]  # fmt: skip
