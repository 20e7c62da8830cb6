"""Where ink lies: laws of the geometry behind the layout checks."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.checks.areas import on_panels, past_shape, seen_area, zones_met
from proofgen.geometry import Rect
from tests.checks.factory import blank

FOLD, SEWN, WRAP = blank("fold").plan(), blank("sewn").plan(), blank("wrap").plan()
SIDES = st.floats(0, 100)


@settings(max_examples=60, deadline=None)
@given(x=SIDES, y=SIDES, width=st.floats(1, 60), height=st.floats(1, 40))
@pytest.mark.parametrize("plan", [FOLD, SEWN, WRAP], ids=["fold", "sewn", "wrap"])
def test_ink_inside_a_round_lies_on_the_panels_once(plan, x, y, width, height):
    """No ink is lost where two faces meet and none is counted twice."""
    size = plan.canvases["round"].size
    ink = Rect(0, 0, size.width, size.height).overlap(Rect(x, y, width, height))
    if ink is None:
        return
    area = sum(rect.width * rect.height for _, rect in on_panels(plan, "round", ink))
    assert area == pytest.approx(ink.width * ink.height, abs=1e-6)


def test_the_back_of_a_fold_is_turned():
    """Ink at the back's top left comes to lie at the sheet's lower right."""
    ((panel, rect),) = on_panels(FOLD, "back", Rect(0, 0, 10, 5))
    assert panel == "front and back"
    assert (rect.right, rect.bottom) == pytest.approx((114.0, 209.0))
    assert zones_met(FOLD, "back", Rect(20, -3, 10, 5)) == {"hem": pytest.approx(3.0)}


def test_a_wrap_is_seen_all_round_from_its_front():
    area = seen_area(WRAP, "front")
    assert area.width == pytest.approx(217.084, abs=1e-3)
    assert area.centre_x == pytest.approx(217.084 / 4, abs=1e-3)


def test_distance_to_a_round_edge_goes_by_the_corner():
    plan = blank("flat", shape="round").plan()
    # 3-4-5: a corner 30 right of and 40 below the middle of a 90 mm coaster is 50 from it.
    assert past_shape(plan, "front", Rect(45, 45, 30, 40), 0.0) == pytest.approx(5.0)
    assert past_shape(plan, "front", Rect(45, 45, 30, 40), 5.0) == pytest.approx(10.0)
