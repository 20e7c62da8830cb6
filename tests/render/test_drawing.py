"""Drawings: marks lie in their zones, words do not collide, nothing a strict page would refuse."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.geometry import (
    Hole,
    Plan,
    Rect,
    Zone,
    ZoneKind,
    plan_flat,
    plan_fold,
    plan_sewn,
    plan_wrap,
    with_holes,
)
from proofgen.render.callouts import LINE, Callout, placed_callouts
from proofgen.render.drawing import blank_svg, hatch, outline, rules
from proofgen.say.parts import ON_DRAWINGS

SVG = "{http://www.w3.org/2000/svg}"
WRAP = plan_wrap(
    length=240,
    height=100,
    diameter=66.1,
    thickness=3,
    closure_width=30,
    shortest=10,
    on_top="right",
    bleed=6,
    safe=5,
)
FOLD = plan_fold(width=120, height=214, seam=6, fold=4, hem=5, base=8, bleed=6, safe=5)
SEWN = plan_sewn(width=106, height=130, gap=4, bleed=6, safe=5)
ROUND = plan_flat(width=95, height=95, bleed=3, safe=5, shape="round")
ROUNDED = plan_flat(width=100, height=80, bleed=3, safe=5, shape="rounded", corner=8)
PANELS = [
    (WRAP, "round"),
    (FOLD, "front and back"),
    (SEWN, "front"),
    (ROUND, "front"),
    (ROUNDED, "front"),
]


def drawn(plan: Plan, panel: str, **extra: object) -> ET.Element:
    text = blank_svg(plan, panel, title="The cloth", desc="Laid flat", **extra)  # type: ignore[arg-type]
    return ET.fromstring(text)


def points(data: str) -> list[tuple[float, float]]:
    """Ends of the straight lines of absolute M and L commands."""
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", data)]


@pytest.mark.parametrize(("plan", "panel"), PANELS)
@pytest.mark.parametrize("picture", [None, "flat.jpg"])
def test_a_drawing_is_named_and_has_nothing_a_strict_page_refuses(
    plan: Plan, panel: str, picture: str | None
) -> None:
    root = drawn(plan, panel, picture_href=picture, prefix="p3")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == "p3-title p3-desc"
    assert root.findtext(f"{SVG}title") == "The cloth"
    assert root.findtext(f"{SVG}desc") == "Laid flat"
    names = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(set(names)) == len(names) and all(n.startswith("p3-") for n in names if n)
    for element in root.iter():
        assert element.tag not in (f"{SVG}style", f"{SVG}script")
        assert not [a for a in element.attrib if a == "style" or a.startswith("on")]


@pytest.mark.parametrize(("plan", "panel"), PANELS)
def test_without_a_picture_there_is_one_ink(plan: Plan, panel: str) -> None:
    inks = {
        element.get(kind)
        for element in drawn(plan, panel).iter()
        for kind in ("fill", "stroke")
        if element.get(kind)
    }
    assert inks == {"currentColor", "none"}


def test_every_line_keeps_its_thickness() -> None:
    for path in drawn(FOLD, "front and back").iter(f"{SVG}path"):
        assert path.get("vector-effect") == "non-scaling-stroke"
    for path in drawn(FOLD, "front and back", line_mm=0.3).iter(f"{SVG}path"):
        assert path.get("vector-effect") is None
        assert float(path.get("stroke-width", "9")) <= 0.3 * 2


@pytest.mark.parametrize(
    ("plan", "panel", "said"),
    [
        (WRAP, "round", {"Edge of the cloth", "Hidden where it closes", "Middle of the front"}),
        (
            FOLD,
            "front and back",
            {"Edge of the cloth", "Inside the seam", "Fold at the bottom", "Under the can"},
        ),
        (SEWN, "back", {"Edge of the cloth", "No ink reaches here"}),
        (ROUND, "front", {"Edge of the cloth", "Words and faces stay inside this line"}),
    ],
)
def test_every_mark_has_its_words(plan: Plan, panel: str, said: set[str]) -> None:
    texts = {
        " ".join(span.text or "" for span in text.iter(f"{SVG}tspan"))
        for text in drawn(plan, panel).iter(f"{SVG}text")
    }
    assert said <= texts


@pytest.mark.parametrize("kind", get_args(ZoneKind))
def test_every_kind_of_strip_has_marks_and_words(kind: ZoneKind) -> None:
    strip = Zone(kind=kind, panel="front", rect=Rect(0, 40, 100, 8))
    bare, marked = (
        drawn(replace(ROUNDED, zones=zones), "front", labels={kind: f"here is the {kind}"})
        for zones in ((), (strip,))
    )
    assert len(marked.findall(f"{SVG}path")) > len(bare.findall(f"{SVG}path")) + 2  # its leader
    texts = {span.text for span in marked.iter(f"{SVG}tspan")}
    assert f"here is the {kind}" in " ".join(text or "" for text in texts) and ON_DRAWINGS[kind]


def test_a_caller_may_give_other_words_and_they_are_escaped() -> None:
    text = blank_svg(
        WRAP, "round", title="<b>", desc="a & b", labels={"closure": "Fermé <ici> & là"}
    )
    root = ET.fromstring(text)
    assert root.findtext(f"{SVG}title") == "<b>"
    assert "Fermé <ici> & là" in {t.text for t in root.iter(f"{SVG}tspan")}
    hostile = blank_svg(WRAP, "round", title="t", desc="d", picture_href='x" onload="y')
    image = ET.fromstring(hostile).find(f"{SVG}image")
    assert image is not None and image.get("href") == 'x" onload="y'


def test_long_dashes_fold_and_short_dashes_safe() -> None:
    paths = drawn(FOLD, "front and back").findall(f"{SVG}path")
    dashes = {p.get("stroke-dasharray"): p.get("d", "") for p in paths if p.get("stroke-dasharray")}
    (dots, _), (short, safe), (long, fold) = sorted(
        dashes.items(), key=lambda item: float(str(item[0]).split()[0])
    )
    assert str(dots).startswith("0 ")  # of the seams
    assert float(str(long).split()[0]) > 2 * float(str(short).split()[0])
    assert fold == "M0 105h120M0 109h120"
    assert safe.startswith(("M11 122", "M11 10"))


@pytest.mark.parametrize(
    ("plan", "panel", "inside"),
    # The fold's base begins 8 mm before its fold at 105 mm; the sewn one's gap is 4 mm wide.
    [(FOLD, "front and back", "M11 10H109V92H11Z"), (SEWN, "back", "M9 5H97V125H9Z")],
)
def test_the_safe_line_keeps_clear_of_what_is_hidden(plan: Plan, panel: str, inside: str) -> None:
    """It says that words stay inside it, so it leaves base and gap out."""
    assert inside in {path.get("d") for path in drawn(plan, panel).iter(f"{SVG}path")}


def test_the_hatch_is_at_45_degrees_and_inside_the_hidden_strip() -> None:
    rect = WRAP.zones_on("round")[0].rect
    ends = points(hatch(rect, 3))
    assert len(ends) > 20
    for (x0, y0), (x1, y1) in zip(ends[::2], ends[1::2], strict=True):
        assert abs(x1 - x0) == pytest.approx(abs(y1 - y0), abs=2e-3)
        for x, y in ((x0, y0), (x1, y1)):
            assert rect.x - 1e-3 <= x <= rect.right + 1e-3
            assert rect.y - 1e-3 <= y <= rect.bottom + 1e-3


def test_the_two_hatches_of_a_strip_without_ink_cross() -> None:
    rect = Rect(2, 3, 10, 20)
    rising, falling = points(hatch(rect, 2)), points(hatch(rect, 2, falling=True))
    assert (rising[1][0] - rising[0][0]) * (rising[1][1] - rising[0][1]) < 0
    assert (falling[1][0] - falling[0][0]) * (falling[1][1] - falling[0][1]) > 0


@pytest.mark.parametrize("line_mm", [None, 0.3])
def test_a_seam_is_a_few_dotted_lines_inside_its_strip(line_mm: float | None) -> None:
    """Each dot by itself was 12 of the 17 kB of a fold's drawing."""
    svg = blank_svg(FOLD, "front and back", title="t", desc="d", line_mm=line_mm, letter_mm=4.0)
    dotted = [p for p in ET.fromstring(svg).iter(f"{SVG}path") if p.get("stroke-linecap")]
    assert len(dotted) == 2 and len(svg) < 9000
    for path, left in zip(dotted, (0, 114), strict=True):
        starts = re.findall(r"M([\d.]+) ([\d.]+)v([\d.]+)", path.get("d", ""))
        assert len(starts) == 3  # 6 mm of cloth, a row every 1.86 mm or so
        assert all(left < float(x) < left + 6 for x, _, _ in starts)
        nothing, apart = map(float, path.get("stroke-dasharray", "").split())
        assert nothing == 0
        for _, y, run in ((float(v) for v in start) for start in starts):
            assert y > 0 and y + run < 214
            if line_mm:  # all of the strip's height is dotted evenly
                assert y == pytest.approx(apart / 2, abs=0.01)
                assert y + run + apart / 2 == pytest.approx(214, abs=0.02)
                assert apart == pytest.approx(4 * 0.62 * 0.75, rel=0.02)


def test_rules_stay_inside_their_strip() -> None:
    lines = points(rules(Rect(6, 97, 108, 8), 2.5))
    assert lines and all(97 < y < 105 for _, y in lines)


def test_shapes_are_drawn_as_they_are_cut() -> None:
    assert outline(Rect(0, 0, 95, 95), "round").count("A47.5 47.5") == 2
    rounded = outline(Rect(0, 0, 100, 80), "rounded", 8)
    assert rounded.count("a8 8") == 4
    assert outline(Rect(0, 0, 10, 5)) == "M0 0H10V5H0Z"
    svg = blank_svg(ROUNDED, "front", title="t", desc="d", picture_href="a.jpg", prefix="q")
    assert f'<clipPath id="q-cut"><path d="{rounded}"/></clipPath>' in svg
    # The safe line runs 5 mm inside, so its corners are 5 mm tighter.
    assert outline(Rect(5, 5, 90, 70), "rounded", 3) in svg


def boxes(callouts: list[Callout], size: float) -> list[Rect]:
    found = []
    for c in callouts:
        wide = c.width(size)
        left = c.text_x - (wide if c.anchor == "end" else 0)
        high = size * (0.75 + LINE * (len(c.lines) - 1))
        found.append(Rect(left, c.text_y - size * 0.75, wide, high))
    return found


ANYWHERE = st.lists(
    st.builds(
        Callout,
        st.text("abc def", min_size=3, max_size=40).filter(str.strip),
        st.floats(0, 200),
        st.floats(0, 120),
        st.sampled_from(["top", "bottom", "right"]),
    ),
    max_size=7,
    unique_by=(lambda c: round(c.x, 1), lambda c: round(c.y, 1)),
)


@settings(max_examples=150, deadline=None)
@given(ANYWHERE)
def test_words_never_lie_on_each_other_nor_outside_the_picture(callouts: list[Callout]) -> None:
    whole, size = Rect(0, 0, 200, 120), 6.0
    placed, view = placed_callouts(callouts, whole, size)
    assert sorted(c.text for c in placed) == sorted(c.text for c in callouts)
    taken = boxes(placed, size)
    for first, second in combinations(taken, 2):
        assert first.overlap(second) is None
    for box in taken:
        assert view.holds(box, 0.5)
        assert box.overlap(whole) is None


@pytest.mark.parametrize(("plan", "panel"), PANELS)
def test_no_leader_runs_through_words(plan: Plan, panel: str) -> None:
    root = drawn(plan, panel)
    size = float(root.find(f"{SVG}g").get("font-size"))  # type: ignore[union-attr, arg-type]
    spans = [
        (float(s.get("x", 0)), float(s.get("y", 0)), s.text or "", t.get("text-anchor"))
        for t in root.iter(f"{SVG}text")
        for s in t.iter(f"{SVG}tspan")
    ]
    for path in root.findall(f"{SVG}path"):
        data = path.get("d", "")
        ends = points(data)
        if not re.fullmatch(r"M[-\d. ]+L[-\d. ]+", data) or ends[0][0] != ends[1][0]:
            continue  # only the upright leaders above and below
        x, (low, high) = ends[0][0], sorted((ends[0][1], ends[1][1]))
        for left, y, text, anchor in spans:
            wide = len(text) * 0.54 * size
            start = left - wide if anchor == "end" else left
            inside = start + 0.1 < x < start + wide - 0.1
            assert not (inside and low < y - 0.3 * size < high)


def test_a_wrap_closed_the_other_way_is_hatched_at_its_other_end() -> None:
    other = replace(WRAP, zones=(replace(WRAP.zones[0], rect=Rect(217.08, 0, 22.92, 100)),))
    first, second = (blank_svg(p, "round", title="t", desc="d") for p in (WRAP, other))
    assert "M0 0H22.916V100H0Z" in first
    assert "M217.08 0H240V100H217.08Z" in second


@pytest.mark.parametrize(("plan", "panel"), PANELS)
def test_marks_over_a_picture_are_lines_and_hide_no_pale_words(plan: Plan, panel: str) -> None:
    root = drawn(plan, panel, picture_href="flat.jpg")
    cut = {id(e) for e in root.findall(f".//{SVG}clipPath/{SVG}path")}
    paths = [e for e in root.iter(f"{SVG}path") if id(e) not in cut]
    assert paths and all(e.get("fill") is None and e.get("stroke") != "none" for e in paths)
    assert any(e.get("stroke") == "#ffffff" for e in paths)  # so that they show on a dark one


def test_holes_are_circles_told_once() -> None:
    holes = (Hole(x=20, y=8, diameter=5), Hole(x=80, y=8, diameter=5))
    punched = with_holes(ROUNDED, holes, (0.0, 0.0))
    text = blank_svg(punched, "front", title="A tag", desc="")
    assert text.count("A2.5 2.5 0 1 1") == 4  # two halves of each
    assert "M17.5 8" in text and "M77.5 8" in text
    said = " ".join(drawn(punched, "front").itertext())
    assert said.count("Punched hole") == 1
