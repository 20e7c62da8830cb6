"""What must hold for every blank that can exist, whatever its measures."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from proofgen.geometry import (
    CONSTRUCTIONS,
    Plan,
    Rect,
    Size,
    cover_crop,
    from_the_seam,
    plan_flat,
    plan_fold,
    plan_sewn,
    plan_wrap,
)
from proofgen.model import Blank, Cloth, Layout, PlacedColour

SLACK = 1e-6
quick = settings(max_examples=60, deadline=None)
shares = st.floats(0, 1)
shrinks = st.tuples(st.floats(0, 0.2), st.floats(0, 0.2))


@st.composite
def wraps(draw: Any) -> Plan:
    across, thick = draw(st.floats(30, 120)), draw(st.floats(0.3, 8))
    shrink = draw(shrinks)
    overlap = draw(st.floats(8, 40))
    return plan_wrap(
        length=(math.pi * (across + thick) + overlap) / (1 - shrink[0]),
        height=draw(st.floats(40, 200)),
        diameter=across,
        thickness=thick,
        closure_width=60,
        shortest=5,
        on_top=draw(st.sampled_from(["left", "right"])),
        bleed=draw(st.floats(0, 10)),
        safe=2,
        shrink=shrink,
    )


@st.composite
def butts(draw: Any) -> Plan:
    """Wraps whose ends meet, or stand a little apart, under a strip."""
    across, thick = draw(st.floats(30, 120)), draw(st.floats(0.3, 8))
    shrink = draw(shrinks)
    return plan_wrap(
        length=(math.pi * (across + thick) - draw(st.floats(-3, 4))) / (1 - shrink[0]),
        height=draw(st.floats(40, 200)),
        diameter=across,
        thickness=thick,
        closure_width=draw(st.floats(16, 40)) / (1 - shrink[0]),
        shortest=5,
        on_top="neither",
        bleed=draw(st.floats(0, 10)),
        safe=2,
        shrink=shrink,
    )


@st.composite
def folds(draw: Any) -> Plan:
    face = (draw(st.floats(40, 150)), draw(st.floats(40, 150)))
    seam, fold = draw(st.floats(0, 15)), draw(st.floats(0, 12))
    hem = draw(st.floats(0, 10))
    return plan_fold(
        width=face[0] + 2 * seam,
        height=2 * (face[1] + hem) + fold,
        seam=seam,
        fold=fold,
        hem=hem,
        base=draw(st.floats(0, 0.4)) * face[1],
        bleed=draw(st.floats(0, 10)),
        safe=2,
        shrink=draw(shrinks),
    )


@st.composite
def sewns(draw: Any) -> Plan:
    wide = draw(st.floats(40, 150))
    return plan_sewn(
        width=wide,
        height=draw(st.floats(40, 150)),
        gap=draw(st.floats(0, 0.4)) * wide,
        bleed=draw(st.floats(0, 10)),
        safe=2,
        shrink=draw(shrinks),
    )


@st.composite
def flats(draw: Any) -> Plan:
    return plan_flat(
        width=draw(st.floats(40, 300)),
        height=draw(st.floats(40, 300)),
        bleed=draw(st.floats(0, 10)),
        safe=2,
        shape=draw(st.sampled_from(["rectangle", "round"])),
        shrink=draw(shrinks),
    )


ALL = {"wrap": wraps(), "met": butts(), "fold": folds(), "sewn": sewns(), "flat": flats()}
plans = st.one_of(*ALL.values())


def test_every_construction_is_drawn_from() -> None:
    assert set(ALL) == {*CONSTRUCTIONS, "met"}  # a wrap in another way


def panel_rect(plan: Plan, panel: str) -> Rect:
    size = plan.panels[panel]
    return Rect(0, 0, size.width, size.height)


def layout_of(plan: Plan) -> Layout:
    """A layout without layers, for its map from faces to panels."""
    cloth = Cloth(finish="foam", colours={"white": "#ffffff"})
    blank = Blank(
        id="b",
        name="B",
        construction=plan.construction,
        width_mm=1,
        height_mm=1,
        cloth=cloth,
        bleed_mm=plan.bleed,
        safe_mm=plan.safe,
    )
    return Layout(blank=blank, plan=plan, cloth="white", cloth_hex="#ffffff", faces={})


def placed(face: str, rect: Rect) -> PlacedColour:
    return PlacedColour(colour="#000000", rect=rect, face=face)


@quick
@given(plans)
def test_faces_and_zones_lie_on_their_panels(plan: Plan) -> None:
    assert plan.problems == ()
    for thing in (*plan.faces, *plan.zones):
        assert panel_rect(plan, thing.panel).holds(thing.rect, SLACK)
        assert thing.rect.width > 0 and thing.rect.height > 0


@quick
@given(plans, st.tuples(shares, shares, shares, shares))
def test_what_is_placed_inside_a_face_stays_inside_it_on_the_panel(
    plan: Plan, at: tuple[float, float, float, float]
) -> None:
    layout = layout_of(plan)
    for face in plan.faces:
        size = plan.canvases[face.name].size
        rect = Rect(
            at[0] * size.width * 0.9,
            at[1] * size.height * 0.9,
            (0.05 + 0.95 * at[2]) * size.width * (1 - at[0] * 0.9),
            (0.05 + 0.95 * at[3]) * size.height * (1 - at[1] * 0.9),
        )
        ((panel, lies),) = layout.on_panel(placed(face.name, rect))
        assert panel == face.panel and face.rect.holds(lies, SLACK)
        assert (lies.width, lies.height) == pytest.approx((rect.width, rect.height))


@quick
@given(plans, st.tuples(shares, shares, shares, shares))
def test_from_a_face_to_its_panel_and_back(
    plan: Plan, at: tuple[float, float, float, float]
) -> None:
    for part in (part for canvas in plan.canvases.values() for part in canvas.parts):
        own = part.source
        left, top = own.x + at[0] * own.width, own.y + at[1] * own.height
        rect = Rect(left, top, at[2] * (own.right - left), at[3] * (own.bottom - top))
        there = part.to_panel(rect)
        assert part.target.holds(there, SLACK)
        back = part.to_face(there)
        assert (back.x, back.y) == pytest.approx((rect.x, rect.y), abs=SLACK)
        # The corner that was top left is bottom right after half a turn.
        corner = (there.right, there.bottom) if part.turned else (there.x, there.y)
        assert part.points_to_panel(rect.x, rect.y) == pytest.approx(corner, abs=SLACK)


@quick
@given(plans)
def test_no_ink_of_a_canvas_lies_beyond_the_raster(plan: Plan) -> None:
    for canvas in plan.canvases.values():
        for part in canvas.parts:
            reach = panel_rect(plan, part.panel).grown(*4 * (plan.bleed,))
            assert reach.holds(part.target, SLACK)
            assert canvas.fill.holds(part.source, SLACK)
            assert (part.source.width, part.source.height) == pytest.approx(
                (part.target.width, part.target.height)
            )


# Its sides meet at three quarters of the way round, where a hair lies on both of them.
A_SEAM_AT_A_SIDE = plan_sewn(width=40, height=40, gap=0, bleed=0, safe=2, shrink=(0, 0))


@quick
@given(plans, shares, shares)
@example(A_SEAM_AT_A_SIDE, 0.75, 0.0)
def test_parts_tile_every_face(plan: Plan, across: float, down: float) -> None:
    """Each point of a face is drawn, and on the finished thing in one place only."""
    layout = layout_of(plan)
    hair = 1e-4
    for name, canvas in plan.canvases.items():
        x = across * (canvas.size.width - hair)
        y = down * (canvas.size.height - hair)
        found = layout.on_panel(placed(name, Rect(x, y, hair, hair)))
        assert found, f"({x}, {y}) of {name} is drawn nowhere"
        # The front of a wrap is a part of its face all the way round, no place of its own.
        places = [f for f in plan.faces if (plan.construction, f.name) != ("wrap", "front")]
        seen = [
            (face, rect)
            for panel, rect in found
            for face in places
            if face.panel == panel and face.rect.holds(rect, 1e-9)
        ]
        # A hair across a seam is seen on both sides of it, at the edge of each; the seam of a
        # blank of two panels lies at the middle of a side, not only at the middle of the round.
        on_a_seam = all(
            min(rect.x - face.rect.x, face.rect.right - rect.right) < 2 * hair
            for face, rect in seen
        )
        assert len(seen) == 1 or (seen and on_a_seam), (name, x, y, seen)


@quick
@given(wraps())
def test_a_wrap_is_what_is_seen_and_what_is_covered(plan: Plan) -> None:
    whole, front = plan.faces
    (hidden,) = plan.zones
    size = plan.panels["round"]
    assert whole.rect.width + hidden.rect.width == pytest.approx(size.width)
    assert whole.rect.overlap(hidden.rect) is None
    assert whole.rect.holds(front.rect, SLACK)
    assert front.rect.centre_x == pytest.approx(whole.rect.centre_x)
    # Rolled up, the two ends of what is seen meet: they are one turn apart.
    assert whole.rect.width == pytest.approx(plan.way_round)


@quick
@given(folds())
def test_a_fold_is_hems_faces_and_strip(plan: Plan) -> None:
    front, back = plan.faces
    size = plan.panels[front.panel]
    seams = [z.rect.width for z in plan.zones if z.kind == "seam"]
    strips = [z.rect.height for z in plan.zones if z.kind in ("hem", "fold")]
    assert sum(seams) + front.rect.width == pytest.approx(size.width)
    assert sum(strips) + front.rect.height + back.rect.height == pytest.approx(size.height)
    assert front.rect.overlap(back.rect) is None


def folded(plan: Plan, x: float, y: float) -> tuple[str, float, float]:
    """Where a point of the flat sheet is on the finished sleeve: face, then mm from that face's
    own top left as one looks at it. Folding brings the sheet's lower half behind the upper."""
    front, _ = plan.faces
    size = plan.panels[front.panel]
    seam, hem = front.rect.x, front.rect.y
    if y <= size.height / 2:
        return "front", x - seam, y - hem
    # Seen from behind, left and right change places, and what was lowest is now at the opening.
    return "back", (size.width - x) - seam, (size.height - y) - hem


def unfolded(plan: Plan, face: str, u: float, v: float) -> tuple[float, float]:
    front, _ = plan.faces
    size = plan.panels[front.panel]
    x, y = u + front.rect.x, v + front.rect.y
    return (x, y) if face == "front" else (size.width - x, size.height - y)


@quick
@given(folds(), shares, shares)
def test_fold_then_unfold_is_where_one_began(plan: Plan, across: float, down: float) -> None:
    size = plan.panels["front and back"]
    x, y = across * size.width, down * size.height
    assert unfolded(plan, *folded(plan, x, y)) == pytest.approx((x, y), abs=SLACK)


@quick
@given(folds(), shares, shares)
def test_what_is_drawn_on_a_face_is_there_once_it_is_folded(
    plan: Plan, across: float, down: float
) -> None:
    layout, hair = layout_of(plan), 1e-4
    for face in ("front", "back"):
        size = plan.canvases[face].size
        u, v = across * (size.width - hair), down * (size.height - hair)
        ((_, lies),) = layout.on_panel(placed(face, Rect(u, v, hair, hair)))
        assert folded(plan, lies.centre_x, lies.centre_y) == (
            face,
            pytest.approx(u + hair / 2, abs=1e-5),
            pytest.approx(v + hair / 2, abs=1e-5),
        )


@quick
@given(st.one_of(folds(), sewns()), shares)
def test_a_picture_all_the_way_round_goes_on_behind_the_seam(plan: Plan, down: float) -> None:
    """The right edge of the front and the left edge of the back are one line of the picture."""
    canvas = plan.canvases["round"]
    seam, hair = 0.75 * canvas.size.width, 1e-4
    layout = layout_of(plan)
    at = Rect(seam - hair, down * (canvas.size.height - hair), hair, hair)
    beside = at.moved(hair, 0)
    lies = layout.on_panel(placed("round", at))
    goes_on = layout.on_panel(placed("round", beside))
    if plan.construction == "sewn":
        right = plan.panels["front"].width
        assert any(p == "front" and abs(r.right - right) < 1e-3 for p, r in lies)
        assert any(p == "back" and abs(r.x) < 1e-3 for p, r in goes_on)
    else:
        ends = {folded(plan, r.centre_x, r.centre_y)[0] for _, r in (*lies, *goes_on)}
        assert ends == {"front", "back"}


@quick
@given(st.one_of(folds(), sewns()), shares, shares)
def test_its_middle_is_the_fronts_and_its_ends_meet_on_the_back(
    plan: Plan, across: float, down: float
) -> None:
    """A place of the front lies where its face all round has it, half a face further; the halves
    of the back lie before and after it and leave no gap between them."""
    canvas, layout, hair = plan.canvases["round"], layout_of(plan), 1e-4
    wide, high = plan.canvases["front"].size.width, canvas.size.height - hair
    half, spot = wide / 2, Rect(across * (wide - hair), down * high, hair, hair)
    ((panel, lies),) = layout.on_panel(placed("front", spot))
    there = [
        (r.x, r.y) for p, r in layout.on_panel(placed("round", spot.moved(half, 0))) if p == panel
    ]
    assert (lies.x, lies.y) in [pytest.approx(at, abs=1e-6) for at in there]
    assert canvas.aim[0] == pytest.approx(2 * half)
    (first,) = layout.on_panel(placed("round", Rect(0, down * high, hair, hair)))
    (last,) = layout.on_panel(placed("round", Rect(4 * half - hair, down * high, hair, hair)))
    assert first[0] == last[0]
    assert abs(first[1].centre_x - last[1].centre_x) == pytest.approx(hair, abs=1e-6)


@quick
@given(st.one_of(folds(), sewns()))
def test_what_was_laid_from_the_seam_lies_as_it_did(plan: Plan) -> None:
    """The front fills the first half, the back the second: the places that signed proofs hold."""
    old = from_the_seam(plan).canvases["round"]
    wide = plan.canvases["front"].size.width
    assert [part.source for part in old.parts] == [
        plan.canvases["front"].parts[0].source,
        plan.canvases["back"].parts[0].source.moved(wide, 0),
    ]
    assert [part.target for part in old.parts] == [
        plan.canvases[name].parts[0].target for name in ("front", "back")
    ]
    assert old.meets == [pytest.approx(wide)] and old.aim[0] == wide


@quick
@given(st.one_of(wraps(), flats()))
def test_what_has_no_seam_was_never_laid_from_one(plan: Plan) -> None:
    """An order of older proofs may hold a wrap or a coaster beside a fold."""
    assert from_the_seam(plan) == plan


@quick
@given(
    st.tuples(st.floats(10, 8000), st.floats(10, 8000)),
    st.tuples(st.floats(5, 400), st.floats(5, 400)),
    st.tuples(shares, shares),
    st.floats(1, 6),
)
def test_a_crop_covers_its_slot_without_stretching(
    photo: tuple[float, float],
    slot: tuple[float, float],
    focus: tuple[float, float],
    zoom: float,
) -> None:
    crop = cover_crop(Size(*photo), Size(*slot), focus, zoom)
    assert Rect(0, 0, *photo).holds(crop, 1e-6)
    assert crop.width / crop.height == pytest.approx(slot[0] / slot[1])
    # At zoom 1 it takes all of one side of the photo; zoom makes that smaller in proportion.
    assert max(crop.width / photo[0], crop.height / photo[1]) == pytest.approx(1 / zoom)
    # The focus is in the middle unless the photo's edge is in the way.
    for at, size, start, extent in (
        (focus[0], photo[0], crop.x, crop.width),
        (focus[1], photo[1], crop.y, crop.height),
    ):
        wish = at * size - extent / 2
        assert start == pytest.approx(min(max(wish, 0), size - extent), abs=1e-6)


def test_turning_by_half_twice_is_nothing() -> None:
    sheet, piece = Rect(3, 4, 50, 70), Rect(10, 12, 7, 9)
    assert piece.turned_half(sheet).turned_half(sheet) == piece
    assert piece.turned_half(sheet) == Rect(39, 57, 7, 9)  # 3 + 53 - 17; 4 + 74 - 21
