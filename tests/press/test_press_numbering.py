"""Sheets are numbered once and for ever: what came later, what is printed again, what changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proofgen.model import Settings
from proofgen.press import Job, KeptSheet, kept_sheets
from proofgen.press.numbering import numbered_sheets, to_keep
from proofgen.press.pieces import paper_pieces
from proofgen.press.planning import SheetPlan
from tests.press.conftest import (
    A3,
    A4,
    MADE,
    make,
    make_blank,
    make_job,
    make_layout,
    make_shop,
    names,
)

WRAP = make_layout(make_blank("wrap"))
COASTER = make_layout(make_blank("flat", width_mm=100.0, height_mm=100.0))
SETTINGS = make_shop().settings
Kept = Mapping[str, Sequence[KeptSheet]]


def laid(
    jobs: list[Job], kept: Kept, settings: Settings = SETTINGS, only: Sequence[int] | None = None
) -> list[SheetPlan]:
    pieces = [
        piece
        for job in jobs
        for piece in paper_pieces(job.order, job.variants, settings)
        if only is None or piece.piece in only
    ]
    return numbered_sheets(pieces, kept, settings)


def told(plans: Sequence[SheetPlan]) -> list[tuple[str, tuple[tuple[str, int, int], ...], list]]:
    return [
        (plan.paper, plan.numbers, [(on.piece.order, on.piece.piece) for on in plan.pieces])
        for plan in plans
    ]


def party(count: int = 7) -> Job:
    return make_job("fenn-wedding", (WRAP, names(*[f"Guest {n}" for n in range(count)])))


def brunch(count: int = 2, order: str = "garden-party") -> Job:
    return make_job(order, (COASTER, names(*["Ada"] * count)))


def test_numbers_run_over_all_of_an_orders_sheets() -> None:
    plans = laid([party(), brunch()], {})
    assert [plan.numbers for plan in plans] == [
        (("garden-party", 1, 1),),
        (("fenn-wedding", 1, 3),),
        (("fenn-wedding", 2, 3),),
        (("fenn-wedding", 3, 3),),
    ]


def test_what_came_later_changes_no_number() -> None:
    first, later = brunch(2), brunch(3, "quill-lunch")
    kept = to_keep(laid([first], {}), {})
    alone = told(laid([first], kept))
    both = told(laid([first, later], kept))
    # Planned together, all five would lie on one A3; the first one may be printed already.
    assert alone[0] in both
    assert len(told(laid([first, later], {}))) == 1
    assert to_keep(laid([first], kept), kept) == {}


def test_what_is_kept_can_be_written_and_read() -> None:
    kept = to_keep(laid([party()], {}), {})
    assert kept_sheets([sheet.as_data() for sheet in kept["fenn-wedding"]]) == kept["fenn-wedding"]
    assert kept_sheets(None) == []  # records of the releases before know of none


def test_a_reprint_keeps_its_number_and_takes_the_cheapest_paper() -> None:
    kept = to_keep(laid([party()], {}), {})
    again = laid([party()], kept, only=(2, 5))
    assert told(again) == [
        ("A4", (("fenn-wedding", 1, 3),), [("fenn-wedding", 2)]),
        ("A4", (("fenn-wedding", 2, 3),), [("fenn-wedding", 5)]),
    ]
    assert to_keep(again, kept) == {}
    whole = laid([party()], kept, only=(1, 2, 3))
    assert told(whole) == told(laid([party()], kept))[:1]


def test_a_shared_sheet_is_one_sheet_again_and_has_a_number_in_each_order() -> None:
    jobs = [brunch(2), brunch(3, "quill-lunch")]
    (plan,) = laid(jobs, {})
    assert plan.numbers == (("garden-party", 1, 1), ("quill-lunch", 1, 1))
    kept = to_keep([plan], {})
    assert told(laid(jobs, kept)) == told([plan])
    # One of them alone: its own pieces, its own number, no more paper than they need.
    assert told(laid(jobs[:1], kept)) == [
        ("A4", (("garden-party", 1, 1),), [("garden-party", 1), ("garden-party", 2)])
    ]


def test_a_sheet_that_no_longer_fits_gets_a_new_number() -> None:
    """The A3 is gone from the shop: what lay on it is laid anew, and no number is used twice."""
    kept = to_keep(laid([party(3)], {}), {})
    assert [sheet.paper for sheet in kept["fenn-wedding"]] == ["A3"]
    small = replace(SETTINGS, papers=(A4,))
    plans = laid([party(3)], kept, small)
    assert [plan.numbers for plan in plans] == [(("fenn-wedding", n, 4),) for n in (2, 3, 4)]
    more = to_keep(plans, kept)
    both = {"fenn-wedding": more["fenn-wedding"]}
    assert told(laid([party(3)], both, small)) == told(plans)


def test_pieces_whose_heat_is_another_now_do_not_lie_together_again() -> None:
    other = make_layout(make_blank("flat", id="tile", width_mm=100.0, height_mm=100.0))
    job = make_job("fenn-wedding", (COASTER, names("Ada")), (other, names("Bo")))
    (plan,) = laid([job], {})
    kept = to_keep([plan], {})
    hotter = replace(other.blank, press=replace(other.blank.press, heat_c=204.0))
    now = make_job(
        "fenn-wedding", (COASTER, names("Ada")), (replace(other, blank=hotter), names("Bo"))
    )
    plans = laid([now], kept)
    assert [plan.numbers for plan in plans] == [(("fenn-wedding", n, 3),) for n in (2, 3)]
    assert [[on.piece.piece for on in plan.pieces] for plan in plans] == [[1], [2]]


def test_a_sheet_that_its_paper_no_longer_holds_is_laid_anew() -> None:
    """The printer reaches less of the paper since: a wrap of 260 mm lies along it, alone."""
    kept = to_keep(laid([party(3)], {}), {})
    less = replace(SETTINGS, papers=(A3,), printer=replace(SETTINGS.printer, margin_mm=35.0))
    plans = laid([party(3)], kept, less)
    assert [plan.numbers for plan in plans] == [(("fenn-wedding", n, 4),) for n in (2, 3, 4)]


def test_a_paper_that_was_added_changes_no_number() -> None:
    small = replace(SETTINGS, papers=(A4,))
    kept = to_keep(laid([party(3)], {}, small), {})
    now = replace(SETTINGS, papers=(A3, A4))
    assert told(laid([party(3)], kept, now)) == told(laid([party(3)], {}, small))


def test_a_reprint_through_the_whole_run(theme) -> None:
    """The joint for what is spoiled: a job that names pieces gives their sheets and nothing to
    keep, and leaves the order's ticket alone."""
    first = make([party()], make_shop(), theme, made=MADE)
    assert [sheet.number for sheet in first.numbered["fenn-wedding"]] == [1, 2, 3]
    again = replace(party(), sheets=first.numbered["fenn-wedding"], only=frozenset({7}))
    run = make([again], make_shop(), theme, made=MADE)
    (sheet,) = run.document["sheets"]
    assert sheet["numbers"] == [{"order": "fenn-wedding", "number": 3, "of": 3}]
    assert [piece["piece"] for piece in sheet["pieces"]] == [7]
    assert run.numbered == {} and run.document["tickets"] == []
