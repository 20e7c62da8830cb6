"""The papers chosen cost the least of all: every assignment of small cases is tried here by another
way, from the whole sheet down, that shares no code with the one under test."""

from __future__ import annotations

import itertools
import random
from decimal import Decimal
from functools import cache

import pytest

from proofgen.geometry import Rect, Size
from proofgen.model import Paper
from proofgen.press.choosing import choose
from proofgen.press.packing import cuts
from tests.press.conftest import A3, A4, make_shop

LETTER = Paper(name="Letter", width_mm=215.9, height_mm=279.4)
MARGIN = 5.0


def can_be_cut(items: list[tuple[int, int]], wide: int, high: int) -> bool:
    """Whether straight cuts, each right across, part a sheet into all items (whole mm), by trying
    every cut at a sum of sides and every way to share the items between its two halves."""

    @cache
    def tried(which: frozenset[int], wide: int, high: int) -> bool:
        if not which:
            return True
        if sum(items[i][0] * items[i][1] for i in which) > wide * high:
            return False
        if len(which) == 1:
            (a, b) = items[next(iter(which))]
            return (a <= wide and b <= high) or (b <= wide and a <= high)
        sides = [side for i in which for side in (0, *items[i])]
        sums = {sum(some) for n in range(1, len(which) + 1)
                for some in itertools.combinations(sides, n)}  # fmt: skip
        first = min(which)
        others = sorted(which - {first})
        for n in range(len(others)):
            for more in itertools.combinations(others, n):
                here = frozenset((first, *more))
                there = which - here
                for at in sums:
                    if at < wide and tried(here, at, high) and tried(there, wide - at, high):
                        return True
                    if at < high and tried(here, wide, at) and tried(there, wide, high - at):
                        return True
        return False

    return tried(frozenset(range(len(items))), wide, high)


def least(items: list[tuple[int, int]], papers: list[tuple[int, int, int]]) -> int:
    """The least cost of all ways to share items among sheets of any paper (width, height, cost)."""

    @cache
    def one_sheet(which: tuple[int, ...]) -> int | None:
        costs = [c for w, h, c in papers if can_be_cut([items[i] for i in which], w, h)]
        return min(costs, default=None)

    def shared(left: tuple[int, ...]) -> int:
        if not left:
            return 0
        best = []
        for n in range(len(left)):
            for more in itertools.combinations(left[1:], n):
                here = (left[0], *more)
                cost = one_sheet(here)
                if cost is not None:
                    best.append(cost + shared(tuple(i for i in left if i not in here)))
        return min(best)

    return shared(tuple(range(len(items))))


def test_the_other_way_by_hand() -> None:
    assert can_be_cut([(6, 4), (6, 4), (2, 8)], 8, 8)
    assert not can_be_cut([(6, 6)] * 2, 10, 10)
    # A pinwheel: four bars round a hole fill 5 × 5, and no cut runs right across.
    assert not can_be_cut([(2, 3)] * 4, 5, 5)
    assert least([(6, 6)] * 3, [(10, 10, 4), (12, 12, 9)]) == 9
    assert least([(6, 6)] * 3, [(10, 10, 2), (12, 12, 9)]) == 6


DICE = random.Random(12)
CASES = [
    (
        [tuple(DICE.choice(kinds)) for _ in range(DICE.randint(2, 5))],
        DICE.choice([None, (18, 36, 25), (18, 30, 17), (20, 45, 9)]),
    )
    for _ in range(40)
    for kinds in [[(DICE.randrange(50, 200, 7), DICE.randrange(50, 270, 7)) for _ in range(3)]]
]


@pytest.mark.parametrize(("items", "cents"), CASES)
def test_no_assignment_is_cheaper(
    items: list[tuple[int, int]], cents: tuple[int, int, int] | None
) -> None:
    papers = (A4, A3, LETTER)
    rates = {p.name: Decimal(c) / 100 for p, c in zip(papers, cents or (), strict=False)}
    shop = make_shop(papers=papers, sheet_rates=rates)
    found = choose([Size(*map(float, item)) for item in items], shop.settings, lambda *_: True)
    areas = [(int(p.width_mm - 10), int(p.height_mm - 10)) for p in papers]
    page = {p.name: round(p.width_mm * p.height_mm * 100) for p in papers}
    costs = cents or [page[p.name] for p in papers]
    # Whole mm lose nothing here: every side is one, and 0.9 and 0.4 mm of Letter hold no piece.
    best = least(items, [(*area, cost) for area, cost in zip(areas, costs, strict=True)])
    per = dict(zip(page, costs, strict=True))
    assert sum(per[one.paper.name] for one in found) == best

    assert sorted(spot.index for one in found for spot in one.spots) == list(range(len(items)))
    for one in found:
        rects = [
            Rect(spot.x, spot.y, *(items[spot.index][::-1] if spot.turned else items[spot.index]))
            for spot in one.spots
        ]
        area = Rect(0, 0, one.paper.width_mm - 10, (one.paper.height_mm or 0) - 10)
        assert all(area.holds(rect, 2e-3) for rect in rects)
        assert all(a.overlap(b) is None for a, b in itertools.combinations(rects, 2))
        list(cuts(area, rects))  # raises where they cannot be cut apart


def test_the_party_of_120_and_of_500() -> None:
    """120 wraps: 40 A3 at 0.36 are 14.40; 120 A4 at 0.18 would be 21.60. 500: 166 A3, and two
    wraps are left: one A3 as 2 A4 cost the same, and one sheet is fewer than two."""
    shop = make_shop(sheet_rates={"A4": Decimal("0.18"), "A3": Decimal("0.36")})
    for count, wanted in (120, {"A3": 40}), (121, {"A3": 40, "A4": 1}), (500, {"A3": 167}):
        found = choose([Size(262, 120)] * count, shop.settings, lambda *_: True)
        papers = [one.paper.name for one in found]
        assert {name: papers.count(name) for name in papers} == wanted
        numbers = [spot.index for one in found for spot in one.spots]
        assert numbers == list(range(count))


def test_a_crowd_of_sizes_is_still_laid() -> None:
    dice = random.Random(3)
    items = [Size(dice.uniform(40, 150), dice.uniform(40, 190)) for _ in range(30)]
    shop = make_shop(sheet_rates={"A4": Decimal("0.18"), "A3": Decimal("0.36")})
    found = choose(items, shop.settings, lambda *_: True)
    assert sorted(spot.index for one in found for spot in one.spots) == list(range(30))
    bare = sum(size.width * size.height for size in items)
    used = sum(one.paper.width_mm * (one.paper.height_mm or 0) for one in found)
    assert bare / used > 0.5


def test_a_sheet_that_cannot_be_packed_again_stays_as_it_lies() -> None:
    """Given a sheet's pieces alone, the packer may need a second sheet for them."""
    dice = random.Random(92)
    dice.choice("123"), dice.choice("123")
    count = dice.randint(70, 140)
    items = [Size(dice.randint(15, 90), dice.randint(15, 90)) for _ in range(count)]
    found = choose(items, make_shop(papers=(A3,)).settings, lambda *_: True)
    assert sorted(spot.index for one in found for spot in one.spots) == list(range(count))


def test_of_many_sizes_some_fit_the_roll_alone_and_some_the_sheet_alone() -> None:
    """A roll of 210 mm is too narrow for 250 mm, and A3 too short for 600 mm."""
    roll = Paper(name="roll", width_mm=210, height_mm=None)
    items = [Size(150, 600), Size(250, 250), Size(90, 90), Size(80, 60), Size(120, 100)]
    found = choose(items, make_shop(papers=(A3, roll)).settings, lambda *_: True)
    on = {spot.index: one.paper.name for one in found for spot in one.spots}
    assert sorted(on) == list(range(5)) and (on[0], on[1]) == ("roll", "A3")


@pytest.mark.parametrize("kinds", [((130, 100), (90, 120), (70, 85)), ((280, 400), (60, 50))])
def test_of_many_pieces_none_costs_more_than_each_size_by_itself(
    kinds: tuple[tuple[int, int], ...],
) -> None:
    """More mixtures than are compared: full sheets of the commonest size are laid first."""
    settings = make_shop(papers=(A4, A3)).settings
    counts = (40, 25, 20) if len(kinds) == 3 else (45, 200)
    every = [Size(*map(float, kind)) for kind, n in zip(kinds, counts, strict=True)
             for _ in range(n)]  # fmt: skip
    found = choose(every, settings, lambda *_: True)
    assert sorted(spot.index for one in found for spot in one.spots) == list(range(len(every)))
    alone = [
        one.cost[1]
        for size in dict.fromkeys(every)
        for one in choose([one for one in every if one == size], settings, lambda *_: True)
    ]
    assert sum(one.cost[1] for one in found) <= sum(alone)


def test_thirteen_sizes_of_which_each_fills_a_sheet_take_thirteen_sheets() -> None:
    sizes = [Size(220.0 + n, 290.0 + n) for n in range(13)]
    found = choose(sizes, make_shop(papers=(A3,)).settings, lambda *_: True)
    assert [len(one.spots) for one in found] == [1] * 13
    assert sorted(one.spots[0].index for one in found) == list(range(13))


def test_in_a_crowd_a_large_piece_has_the_larger_paper() -> None:
    """The small ones go on what is cheapest by its rate."""
    dice = random.Random(5)
    small = [Size(dice.uniform(40, 150), dice.uniform(40, 190)) for _ in range(24)]
    rates = {"A4": Decimal("0.01"), "A3": Decimal("9.00")}
    shop = make_shop(sheet_rates=rates)
    found = choose([*small, Size(250, 380)], shop.settings, lambda *_: True)
    assert sorted(spot.index for one in found for spot in one.spots) == list(range(25))
    on = {spot.index: one.paper.name for one in found for spot in one.spots}
    assert on[24] == "A3" and [one.paper.name for one in found].count("A3") == 1
