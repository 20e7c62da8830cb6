"""What a millimetre moves, which cans fit, and the net of a tapered cup."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from proofgen.geometry import (
    CAN_PLAY,
    cans_that_fit,
    plan_wrap,
    wrap_shift,
)
from proofgen.geometry.allowance import rounded_down, rounded_up
from tests.geometry.frustum import frustum


def wrap(on_top: str, diameter: float = 66.1, thickness: float = 3.0):
    return plan_wrap(
        length=240,
        height=100,
        diameter=diameter,
        thickness=thickness,
        closure_width=30,
        shortest=10,
        on_top=on_top,
        bleed=6,
        safe=5,
    )


@pytest.mark.parametrize("on_top", ["left", "right"])
def test_a_millimetre_of_cloth_moves_a_wrap_by_pi(on_top):
    shift = wrap_shift(on_top, thickness=1)
    # pi, and half of it at the front: to the left with the right end on top, else to the right
    assert shift.way_round == pytest.approx(3.1416, abs=1e-4)
    assert shift.overlap == pytest.approx(-3.1416, abs=1e-4)
    assert shift.front_centre == pytest.approx(-1.5708 if on_top == "right" else 1.5708, abs=1e-4)


@pytest.mark.parametrize("on_top", ["left", "right"])
@pytest.mark.parametrize(("wider", "thicker"), [(0, 1), (CAN_PLAY, 0), (-2, 0.5), (5, -1)])
def test_a_shift_is_the_difference_of_two_plans(on_top, wider, thicker):
    before, after = wrap(on_top), wrap(on_top, 66.1 + wider, 3 + thicker)
    shift = wrap_shift(on_top, diameter=wider, thickness=thicker)
    assert after.way_round - before.way_round == pytest.approx(shift.way_round)
    assert after.overlap - before.overlap == pytest.approx(shift.overlap)
    assert after.front_centre - before.front_centre == pytest.approx(shift.front_centre)


def test_cans_of_one_class_differ_by_what_is_published():
    # CMI Voluntary Can and End Dimension Reference Manual: 2.602 +/- 0.007 in across, so
    # 207.07 to 208.19 mm the way round the bare can.
    play = wrap_shift("left", diameter=CAN_PLAY).way_round
    bare = math.pi * 2.602 * 25.4
    assert (bare - play, bare + play) == pytest.approx((207.07, 208.19), abs=0.005)


def test_cans_that_fit_are_those_whose_wrap_has_no_problem():
    least, most = cans_that_fit(240, 3, 10, 30)
    assert (least, most) == pytest.approx((63.845, 70.211), abs=1e-3)  # (240 - 30) / pi - 3 …
    for diameter, fits in (
        (least, True),
        (most, True),
        (least - 0.01, False),
        (most + 0.01, False),
    ):
        assert (wrap("left", diameter).problems == ()) is fits


@given(st.floats(0, 5000))
def test_what_is_rounded_for_a_sentence_never_lies(value):
    assert rounded_down(value) <= value + 1e-6 and value <= rounded_up(value) + 1e-6
    assert rounded_up(value) - rounded_down(value) <= 0.1 + 1e-6


def test_numbers_that_are_round_already_stay():
    assert (rounded_up(227.1), rounded_down(247.1), rounded_up(10)) == (227.1, 247.1, 10)


def test_the_published_net_of_a_frustum():
    # ceemrr.com, net of a frustum: D 8, d 5, h 4 -> radii 7.12 and 11.39, 126.4 degrees.
    net = frustum(8, 5, 4)
    assert (net.inner, net.outer) == pytest.approx((7.12, 11.39), abs=0.005)
    assert net.angle == pytest.approx(126.4, abs=0.05)


def test_a_tumbler_of_usual_size():
    # 88 / 70 / 150 mm, by hand: s = sqrt(150^2 + 9^2) = 150.2698
    net = frustum(88, 70, 150)
    assert (net.slant, net.outer, net.inner) == pytest.approx(
        (150.2698, 734.6521, 584.3824), abs=1e-4
    )
    assert net.angle == pytest.approx(21.5612, abs=1e-4)
    assert (net.outer_arc, net.inner_arc) == pytest.approx((276.4602, 219.9115), abs=1e-4)
    assert (net.width, net.height) == pytest.approx((274.8318, 160.5838), abs=1e-4)


@given(st.floats(20, 120), st.floats(0.2, 0.98), st.floats(5, 300))
def test_a_net_rolls_up_to_its_cup(wide, share, height):
    net = frustum(wide, wide * share, height)
    turn = math.radians(net.angle)
    assert net.outer * turn == pytest.approx(math.pi * wide)
    assert net.inner * turn == pytest.approx(math.pi * wide * share)
    assert net.outer - net.inner == pytest.approx(net.slant)
    # The box holds the net: sampled along both edges.
    xs, ys = [], []
    for i in range(201):
        at = turn * (i / 200 - 0.5)
        for radius in (net.inner, net.outer):
            xs.append(radius * math.sin(at))
            ys.append(radius * math.cos(at))
    assert max(xs) - min(xs) <= net.width + 1e-6
    assert max(xs) - min(xs) == pytest.approx(net.width, rel=1e-3)
    assert max(ys) - min(ys) == pytest.approx(net.height, rel=1e-3)


@pytest.mark.parametrize("cup", [(5, 5, 4), (5, 8, 4), (8, 0, 4), (8, 5, 0), (8, -5, 4)])
def test_what_is_no_tapered_cup_is_refused(cup):
    with pytest.raises(ValueError, match="wider at one end"):
        frustum(*cup)
