"""A blank as it is held: a fold parted at its fold, its back the right way up."""

from __future__ import annotations

import pytest

from proofgen.geometry import Rect, held, held_parts, plan_flat, plan_fold, plan_sewn

# 120 x 214, seam 6, fold 4, hem 5, base 12: the faces are 108 x 100.
FOLD = plan_fold(width=120, height=214, seam=6, fold=4, hem=5, base=12, bleed=3, safe=5)


def test_each_face_of_a_fold_is_held_by_itself_with_its_opening_at_the_top() -> None:
    plan = held(FOLD)
    assert list(plan.panels) == ["front", "back"]
    for face in plan.faces:
        assert (face.panel, face.turn) == (face.name, 0)
        assert face.rect == Rect(6, 5, 108, 100)
        assert plan.panels[face.name].rect == Rect(0, 0, 120, 107)


def test_the_strips_of_the_back_are_turned_with_it() -> None:
    plan = held(FOLD)
    strips = {
        name: sorted((z.kind, z.rect.x, z.rect.y, z.rect.width, z.rect.height) for z in zones)
        for name in plan.panels
        if (zones := plan.zones_on(name))
    }
    assert strips["front"] == strips["back"]
    assert ("hem", 0, 0, 120, 5) in strips["back"]
    assert ("fold", 0, 105, 120, 2) in strips["back"]
    (base,) = [z for z in plan.zones_on("back") if z.kind == "base"]
    assert (base.rect.y, base.rect.bottom) == pytest.approx((93, 105))


def test_a_point_of_the_back_lies_where_the_sheet_has_it() -> None:
    part = held_parts(FOLD)["back"]
    top_left = Rect(6, 5, 1, 1)  # of the back, as it is held
    assert part.to_panel(top_left) == Rect(113, 208, 1, 1)  # the far corner of the sheet


@pytest.mark.parametrize(
    "plan",
    [
        plan_sewn(width=100, height=90, gap=4, bleed=3, safe=5),
        plan_flat(width=90, height=90, shape="round", corner=0, bleed=3, safe=5),
    ],
)
def test_what_is_not_folded_is_held_as_it_lies(plan) -> None:
    turned = held(plan)
    assert (turned.panels, turned.faces, turned.zones) == (plan.panels, plan.faces, plan.zones)
