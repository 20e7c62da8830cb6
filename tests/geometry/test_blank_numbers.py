"""Each construction against numbers worked out by hand, shrink included; nothing of our geometry
is imported: a blank's file goes in, faces and zones come out."""

from __future__ import annotations

import math
from typing import Any

import pytest

from proofgen.errors import ShopFaults
from proofgen.shop import check_blank

HUNDREDTH = 0.01  # mm
CLOTH = 'cloth: {finish: smooth, colours: {white: "#ffffff"}}\nbleed: 6 mm\nsafe: 5 mm\n'


def planned(text: str) -> Any:
    return check_blank(f"name: Test\n{text}{CLOTH}", "test").plan()


def corners(thing: Any) -> list[float]:
    return [thing.rect.x, thing.rect.y, thing.rect.width, thing.rect.height]


def near(*values: float) -> Any:
    return pytest.approx(values, abs=HUNDREDTH)


def wrap(on_top: str, *, length: str = "240 mm", shrink: str = "") -> Any:
    return planned(
        "construction: wrap\nvessel: {diameter: 66.1 mm}\n"
        f"length: {length}\nheight: 100 mm\nthickness: 3 mm\n"
        f"closure: {{width: 30 mm, shortest: 10 mm, on_top: {on_top}}}\n{shrink}"
    )


# pi x 69.1 = 217.0840; 240 - 217.0840 = 22.9160; a quarter of the way round is 54.2710.
WRAPS = {
    # on top, shrink: overlap, closure from and to, round from, front from, front centre, height
    ("right", ""): (22.916, 0, 22.916, 22.916, 77.187, 131.458, 100),
    ("left", ""): (22.916, 217.084, 240, 0, 54.271, 108.542, 100),
    # 240 x 0.99 = 237.6; 237.6 - 217.084 = 20.516; 100 x 0.995 = 99.5
    ("right", "shrink: {x: 1 %, y: 0.5 %}\n"): (20.516, 0, 20.516, 20.516, 74.787, 129.058, 99.5),
    ("left", "shrink: {x: 1 %, y: 0.5 %}\n"): (20.516, 217.084, 237.6, 0, 54.271, 108.542, 99.5),
}


@pytest.mark.parametrize(("case", "wanted"), WRAPS.items())
def test_wrap(case: tuple[str, str], wanted: tuple[float, ...]) -> None:
    plan = wrap(case[0], shrink=case[1])
    overlap, start, end, face_x, front_x, centre, high = wanted
    whole, front = plan.faces
    (closure,) = plan.zones
    assert (whole.name, front.name, closure.kind) == ("round", "front", "closure")
    assert (plan.way_round, plan.overlap, plan.front_centre) == near(217.084, overlap, centre)
    assert corners(closure) == near(start, 0, end - start, high)
    assert corners(whole) == near(face_x, 0, 217.084, high)
    assert corners(front) == near(front_x, 0, 108.542, high)
    assert plan.panels["round"].height == pytest.approx(high, abs=HUNDREDTH)
    assert plan.problems == ()


def test_a_wrap_measured_in_inches_is_exact() -> None:
    # 9.5 in = 241.3 mm; 241.3 - 217.0840 = 24.2160
    plan = wrap("right", length="9.5 in")
    assert plan.panels["round"].width == pytest.approx(241.3, abs=1e-9)
    assert plan.overlap == pytest.approx(24.216, abs=HUNDREDTH)


@pytest.mark.parametrize(
    ("length", "fits", "words"),
    [
        # 217.0840 + 10 = 227.0840: the least; + 30 = 247.0840: the most
        ("227.085 mm", True, ""),
        ("227.083 mm", False, "at least 227.1 mm"),
        ("247.083 mm", True, ""),
        ("247.085 mm", False, "227.1 to 247.0 mm"),
        ("210 mm", False, "do not meet: 7.1 mm are missing"),
        ("220 mm", False, "7.1 mm too short"),  # 227.084 - 220
        ("260 mm", False, "13.0 mm too long"),  # 260 - 247.084 = 12.916
    ],
)
def test_a_wrap_closes_or_says_by_how_much_not(length: str, fits: bool, words: str) -> None:
    problems = wrap("right", length=length).problems
    assert (problems == ()) is fits
    assert words in " ".join(part for p in problems for part in p)


def test_a_wrap_that_shrinks_is_told_the_length_of_a_new_blank() -> None:
    # (217.0840 + 10) / 0.95 = 239.0358: rounded up, so that what is said does fit
    ((_, said, cure),) = wrap("left", length="238 mm", shrink="shrink: {x: 5 %}\n").problems
    assert "226.1 mm long after the press" in said  # 238 x 0.95
    assert cure == "use a blank at least 239.1 mm long"
    assert wrap("left", length="239.1 mm", shrink="shrink: {x: 5 %}\n").problems == ()


def test_ends_that_meet_under_a_strip() -> None:
    # 217.084 round, 217 long: 0.084 apart, so a strip of 30 covers (30 - 0.084) / 2 = 14.958 of
    # each end. The cloth itself goes round, and its middle is the front's.
    plan = wrap("neither", length="217 mm")
    whole, front = plan.faces
    assert (plan.way_round, plan.overlap, plan.front_centre) == (217.0, None, 108.5)
    assert corners(whole) == near(0, 0, 217, 100)
    assert corners(front) == near(54.25, 0, 108.5, 100)
    zones = [(z.kind, z.face, corners(z)) for z in plan.zones]
    assert zones == [
        ("closure", "round", near(0, 0, 14.958, 100)),
        ("closure", "round", near(202.042, 0, 14.958, 100)),
    ]
    assert [zone.rect for zone in plan.zones] == list(plan.under_strip)
    assert corners(type(whole)(name="round", panel="round", rect=plan.clear("round", whole.rect)))[
        ::2
    ] == near(14.958, 187.084)
    assert plan.problems == () and wrap("right").under_strip == ()


def test_ends_that_meet_shrink_with_their_cloth() -> None:
    # 219 x 0.99 = 216.81, 0.274 apart; the strip is 29.7 wide then: (29.7 - 0.274) / 2 = 14.713.
    plan = wrap("neither", length="219 mm", shrink="shrink: {x: 1 %}\n")
    assert plan.way_round == pytest.approx(216.81, abs=HUNDREDTH)
    assert [zone.rect.width for zone in plan.zones] == near(14.713, 14.713)


@pytest.mark.parametrize(
    ("length", "fits", "words"),
    [
        # A can may be measured a millimetre too narrow: 217.084 + 3.142 = 220.226.
        ("220.2 mm", True, ""),
        ("220.3 mm", False, "at most 220.2 mm"),
        ("240 mm", False, "22.9 mm on one another"),  # 240 - 217.084
        # The strip holds 10 of each end: 217.084 - 30 + 20 = 207.084.
        ("207.09 mm", True, ""),
        ("207 mm", False, "at least 207.1 mm"),
        ("180 mm", False, "37.1 mm apart"),  # more than the strip is wide
    ],
)
def test_whether_ends_meet(length: str, fits: bool, words: str) -> None:
    problems = wrap("neither", length=length).problems
    assert (problems == ()) is fits
    assert words in " ".join(part for p in problems for part in p)


def fold(shrink: str = "", base: str = "8 mm") -> Any:
    return planned(
        "construction: fold\nwidth: 120 mm\nheight: 214 mm\nseam: 6 mm\nfold: 4 mm\nhem: 5 mm\n"
        f"base: {base}\n{shrink}"
    )


FLAT = "construction: flat\nwidth: 60 mm\nheight: 90 mm\n"
HOLE = "holes: [{x: 30 mm, y: 8 mm, diameter: 5 mm}]\n"


def test_holes_are_zones_about_their_middle() -> None:
    (zone,) = planned(f"{FLAT}{HOLE}").zones
    assert (zone.kind, zone.panel, zone.face) == ("hole", "front", "front")
    assert corners(zone) == near(27.5, 5.5, 5, 5)
    # x 2 %: 29.4 and 4.9 wide; y 1 %: 7.92 and 4.95 high.
    (zone,) = planned(f"{FLAT}{HOLE}shrink: {{x: 2 %, y: 1 %}}\n").zones
    assert corners(zone) == near(26.95, 5.445, 4.9, 4.95)


def test_a_flat_blank_may_take_ink_on_a_part_of_it() -> None:
    plan = planned(f"{FLAT}gap: 4 mm\nshrink: {{x: 2 %}}\n")
    assert [(z.kind, corners(z)) for z in plan.zones] == [
        ("gap", near(0, 0, 3.92, 90)),
        ("gap", near(54.88, 0, 3.92, 90)),
        ("gap", near(0, 0, 58.8, 4)),
        ("gap", near(0, 86, 58.8, 4)),
    ]
    left = plan.clear("front", plan.face("front").rect)
    assert [left.x, left.y, left.right, left.bottom] == near(3.92, 4, 54.88, 86)
    with pytest.raises(ShopFaults, match="take the whole face"):
        planned(f"{FLAT}gap: 30 mm\n")
    with pytest.raises(ShopFaults, match="a round blank has no gap"):
        planned("construction: flat\nshape: round\ndiameter: 90 mm\ngap: 4 mm\n")


def test_a_hole_goes_through_both_faces_of_what_is_sewn() -> None:
    sewn = "construction: sewn\nwidth: 100 mm\nheight: 110 mm\n"
    zones = planned(f"{sewn}holes: [{{x: 20 mm, y: 8 mm, diameter: 6 mm}}]\n").zones
    # Seen from behind it is as far from the right.
    assert [(z.panel, corners(z)) for z in zones] == [
        ("front", near(17, 5, 6, 6)),
        ("back", near(77, 5, 6, 6)),
    ]


def test_a_hole_of_a_fold_lies_on_its_face() -> None:
    text = "construction: fold\nwidth: 120 mm\nheight: 214 mm\nseam: 6 mm\nfold: 4 mm\nhem: 5 mm\n"
    holes = "holes: [{x: 60 mm, y: 15 mm, diameter: 4 mm}, {x: 60 mm, y: 199 mm, diameter: 4 mm}]\n"
    faces = [z.face for z in planned(f"{text}{holes}").zones if z.kind == "hole"]
    assert faces == ["front", "back"]


@pytest.mark.parametrize("hole", ["x: 1 mm, y: 8 mm", "x: 30 mm, y: 89 mm", "x: 70 mm, y: 8 mm"])
def test_a_hole_that_is_not_on_the_blank_is_a_fault(hole: str) -> None:
    with pytest.raises(ShopFaults, match="does not lie on 60 × 90 mm"):
        planned(f"{FLAT}holes: [{{{hole}, diameter: 5 mm}}]\n")


def test_fold() -> None:
    # (214 - 4) / 2 - 5 = 100 high; 120 - 12 = 108 wide; the back begins at 5 + 100 + 4.
    plan = fold()
    front, back = plan.faces
    assert (front.name, front.turn, back.name, back.turn) == ("front", 0, "back", 180)
    assert corners(front) == near(6, 5, 108, 100)
    assert corners(back) == near(6, 109, 108, 100)
    zones = [(z.kind, z.face, corners(z)) for z in plan.zones]
    assert zones == [
        ("seam", None, near(0, 0, 6, 214)),
        ("seam", None, near(114, 0, 6, 214)),
        ("fold", None, near(0, 105, 120, 4)),
        ("hem", "front", near(0, 0, 120, 5)),
        ("hem", "back", near(0, 209, 120, 5)),
        ("base", "front", near(6, 97, 108, 8)),
        ("base", "back", near(6, 109, 108, 8)),
    ]


def test_fold_with_shrink() -> None:
    # x 2 %: 117.6, seam 5.88, face 105.84. y 1 %: 211.86, fold 3.96, hem 4.95, base 7.92;
    # (211.86 - 3.96) / 2 - 4.95 = 99; the back begins at 4.95 + 99 + 3.96 = 107.91.
    plan = fold("shrink: {x: 2 %, y: 1 %}\n")
    front, back = plan.faces
    assert corners(front) == near(5.88, 4.95, 105.84, 99)
    assert corners(back) == near(5.88, 107.91, 105.84, 99)
    assert [corners(z) for z in plan.zones] == [
        near(0, 0, 5.88, 211.86),
        near(111.72, 0, 5.88, 211.86),
        near(0, 103.95, 117.6, 3.96),
        near(0, 0, 117.6, 4.95),
        near(0, 206.91, 117.6, 4.95),
        near(5.88, 96.03, 105.84, 7.92),
        near(5.88, 107.91, 105.84, 7.92),
    ]


def test_bleeds_of_a_fold_meet_in_the_middle_of_the_strip() -> None:
    plan = fold()
    for face in ("front", "back"):
        (part,) = plan.canvases[face].parts
        edge = part.target.bottom if face == "front" else part.target.y
        assert edge == pytest.approx(107, abs=HUNDREDTH)  # 105 + 4 / 2
        assert part.target.x == pytest.approx(0, abs=HUNDREDTH)  # seam 6 - bleed 6


def test_sewn_with_and_without_shrink() -> None:
    text = "construction: sewn\nwidth: 108 mm\nheight: 100 mm\ngap: 4 mm\n"
    # x 1.5 %: 106.38, gap 3.94, the second gap from 102.44; y 2 %: 98
    for shrink, wide, high, gap in (
        ("", 108, 100, 4),
        ("shrink: {x: 1.5 %, y: 2 %}\n", 106.38, 98, 3.94),
    ):
        plan = planned(text + shrink)
        assert sorted(plan.panels) == ["back", "front"]
        for face in plan.faces:
            assert (corners(face), face.turn, face.panel) == (near(0, 0, wide, high), 0, face.name)
        assert [(z.kind, z.panel, corners(z)) for z in plan.zones] == [
            ("gap", "front", near(0, 0, gap, high)),
            ("gap", "front", near(wide - gap, 0, gap, high)),
            ("gap", "back", near(0, 0, gap, high)),
            ("gap", "back", near(wide - gap, 0, gap, high)),
        ]
        both = plan.canvases["round"]
        assert (both.size.width, both.size.height) == near(2 * wide, high)


FLATS = [
    ("shape: rectangle\nwidth: 200 mm\nheight: 130 mm\n", "", 200, 130, 0),
    ("width: 7 in\nheight: 5 in\n", "", 177.8, 127, 0),
    (
        "shape: rounded\nwidth: 152 mm\nheight: 112 mm\ncorner: 10 mm\n",
        "shrink: {x: 0.8 %, y: 0.5 %}\n",
        150.784,
        111.44,
        9.92,
    ),
    ("shape: round\ndiameter: 100 mm\n", "", 100, 100, 0),
    ("shape: round\ndiameter: 100 mm\n", "shrink: {x: 1 %, y: 2 %}\n", 99, 98, 0),
]


@pytest.mark.parametrize(("text", "shrink", "wide", "high", "corner"), FLATS)
def test_flat(text: str, shrink: str, wide: float, high: float, corner: float) -> None:
    plan = planned(f"construction: flat\n{text}{shrink}")
    (face,) = plan.faces
    assert (face.name, corners(face)) == ("front", near(0, 0, wide, high))
    assert plan.zones == ()
    assert plan.corner == pytest.approx(corner, abs=HUNDREDTH)
    # A raster of a panel is the panel with its bleed: 6 mm more on every side.
    fill = plan.canvases["front"].fill
    assert (fill.x, fill.y, fill.width, fill.height) == near(-6, -6, wide + 12, high + 12)


def test_the_fill_of_a_wrap_covers_the_whole_cloth_and_aims_at_the_front() -> None:
    for on_top, start in (("right", -28.916), ("left", -6)):  # -(22.916 + 6), -6
        canvas = wrap(on_top).canvases["round"]
        (part,) = canvas.parts
        fill = canvas.fill
        assert (fill.x, fill.y, fill.width, fill.height) == near(start, -6, 252, 112)
        assert (part.target.x, part.target.y) == near(-6, -6)
        assert canvas.aim == near(math.pi * 69.1 / 2, 50)


def test_only_a_wrap_and_a_sleeve_have_a_face_all_the_way_round() -> None:
    assert sorted(wrap("left").canvases) == ["front", "round"]
    assert sorted(fold().canvases) == ["back", "front", "round"]
    flat = planned("construction: flat\nwidth: 90 mm\nheight: 90 mm\n")
    assert sorted(flat.canvases) == ["front"]
