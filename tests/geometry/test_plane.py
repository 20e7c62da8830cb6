"""Rectangles by what they are: sets of points. Each answer is held against counting squares."""

from __future__ import annotations

import itertools

import pytest

from proofgen.geometry import Rect, Size
from proofgen.geometry.crop import within
from proofgen.geometry.plane import around

_SPANS = [(low, high) for low, high in itertools.combinations(range(5), 2)]
_RECTS = [Rect(x, y, right - x, low - y) for (x, right) in _SPANS for (y, low) in _SPANS]
WHOLE = Rect(1, 1, 2, 2)


def squares(rect: Rect | None) -> set[tuple[int, int]]:
    """The unit squares of a rectangle of whole mm."""
    if rect is None:
        return set()
    across, down = range(int(rect.x), int(rect.right)), range(int(rect.y), int(rect.bottom))
    return set(itertools.product(across, down))


@pytest.mark.parametrize("other", _RECTS)
def test_rectangles_meet_in_the_squares_they_share(other: Rect) -> None:
    assert squares(WHOLE.overlap(other)) == squares(WHOLE) & squares(other)
    assert WHOLE.holds(other) == (squares(other) <= squares(WHOLE))
    both = around([WHOLE, other])
    assert squares(both) >= squares(WHOLE) | squares(other)
    assert both.width == len({x for x, _ in squares(both)})
    assert (both.x, both.right) == (min(1, other.x), max(3, other.right))


@pytest.mark.parametrize("strip", _RECTS)
def test_a_strip_along_a_side_is_taken_away_and_no_other(strip: Rect) -> None:
    """What is left is all squares of it outside the strip, where these are a rectangle beside a
    whole side; else nothing is taken."""
    whole = Rect(0, 0, 3, 3)
    left = squares(whole) - squares(strip)
    got = whole.without(strip)
    beside = [r for r in [*_RECTS, Rect(0, 0, 0, 3), Rect(0, 0, 3, 0)] if squares(r) == left]
    if not left:
        assert got.width <= 0 or got.height <= 0
    elif beside:
        assert squares(got) == left
    else:
        assert got == whole


def test_half_a_turn_twice_is_none() -> None:
    page = Rect(0, 0, 4, 4)
    for rect in _RECTS:
        turned = rect.turned_half(page)
        assert squares(turned) == {(3 - x, 3 - y) for x, y in squares(rect)}
        assert turned.turned_half(page) == rect
    assert Size(3, 2).turned == Size(2, 3) and Size(3, 2).turned.turned == Size(3, 2)


@pytest.mark.parametrize("about", [(0.0, 0.0), (5.0, 4.0), (2.0, 9.0), (-3.0, 40.0)])
@pytest.mark.parametrize(("width", "height"), [(2.0, 1.0), (2.0, None), (99.0, 99.0), (4.0, 99.0)])
def test_a_smaller_print_lies_in_its_slot_as_near_as_it_can(
    about: tuple[float, float], width: float, height: float | None
) -> None:
    slot = Rect(1, 2, 10, 5)
    got = within(slot, width, height, about)
    assert slot.holds(got)
    assert got.width == min(width, 10)
    assert got.height == (got.width / 2 if height is None else min(height, 5))
    # No place of that size in the slot has its middle nearer, mm by mm.
    away = abs(got.centre_x - about[0]), abs(got.y + got.height / 2 - about[1])
    for step in range(101):
        x, y = 1 + (10 - got.width) * step / 100, 2 + (5 - got.height) * step / 100
        assert abs(x + got.width / 2 - about[0]) >= away[0] - 1e-9
        assert abs(y + got.height / 2 - about[1]) >= away[1] - 1e-9
