"""Blanks: the built-in ones and their sources, and measures that cannot be."""

from __future__ import annotations

import csv
import math
from itertools import pairwise
from pathlib import Path

import pytest

from proofgen.shop import built_in_blanks, read_shop
from proofgen.shop.papers import SIZES as PAPER_SIZES
from tests.shop.conftest import WRAP, MakeShop, the_fault

FOLD = """\
name: Fold
construction: fold
width: 120 mm
height: 214 mm
seam: 6 mm
fold: 4 mm
hem: 5 mm
base: 0 mm
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, colours: {white: "#fff"}}
"""
SEWN = """\
name: Sewn
construction: sewn
width: 100 mm
height: 90 mm
gap: 4 mm
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, colours: {white: "#fff"}}
"""
FLAT = """\
name: Coaster
construction: flat
shape: round
diameter: 100 mm
bleed: 3 mm
safe: 5 mm
cloth: {finish: smooth, colours: {white: "#fff"}}
"""
ROUNDED = FLAT.replace("round", "rounded").replace("diameter: 100 mm", "corner: 8 mm\nwidth: 90 mm")
ROUNDED += "height: 90 mm\n"


def test_all_built_in_blanks_fit_and_say_what_they_rest_on() -> None:
    blanks = built_in_blanks()
    assert {
        "can-wrap-linen",
        "can-wrap-foam",
        "slim-wrap-linen",
        "tall-wrap-linen",
        "can-fold-foam",
        "can-fold-linen",
        "can-sewn-foam",
        "can-sewn-linen",
        "coaster-round",
        "pouch-flat",
    } <= set(blanks)
    for blank in blanks.values():
        plan = blank.plan()
        assert plan.problems == (), blank.id
        assert blank.note == "Calculated sizes: measure your own."
        assert blank.built_in and blank.shrink == (0, 0)
        assert blank.cloth.colours["white"] == "#ffffff"
        assert blank.cloth.colours["sky"] == "#6fb7e9"
        assert blank.press is not None and blank.press.source == "practice"


def test_the_standard_wrap_is_the_worked_example() -> None:
    # C = pi x (66.1 + 3) = 217.084; O = 240 - C; right on top: front centre O + C / 2.
    plan = built_in_blanks()["can-wrap-linen"].plan()
    assert plan.way_round == pytest.approx(217.084, abs=1e-3)
    assert plan.overlap == pytest.approx(22.916, abs=1e-3)
    assert plan.front_centre == pytest.approx(131.458, abs=1e-3)


def test_the_fold_is_the_worked_example() -> None:
    front, back = built_in_blanks()["can-fold"].plan().faces
    assert (front.rect.x, front.rect.y, front.rect.width, front.rect.height) == (6, 5, 108, 100)
    assert (back.rect.x, back.rect.y, back.turn) == (6, 109, 180)


def test_sleeves_go_round_their_can() -> None:
    """Two faces are as long as the way round the can, to the give of the cloth (1 %)."""
    for blank in built_in_blanks().values():
        if blank.construction in ("fold", "sewn"):
            assert blank.vessel_mm is not None
            round_can = math.pi * (blank.vessel_mm + blank.thickness_mm)
            assert blank.plan().way_round == pytest.approx(round_can, rel=0.01)


def test_the_slim_wrap_also_closes_round_a_sleek_can() -> None:
    blank = built_in_blanks()["slim-wrap-linen"]
    assert blank.closure is not None
    overlap = blank.width_mm - math.pi * (58 + blank.thickness_mm)  # 58 mm: from memory
    assert blank.closure.shortest_mm <= overlap <= blank.closure.width_mm


# Common practice, no source: heat in F and time in s by construction and finish.
PRACTICE = {
    ("sewn", "linen-look"): (400, 60),
    ("sewn", "foam"): (385, 50),
    ("fold", "foam"): (385, 60),
    ("wrap", "linen-look"): (400, 60),
    ("wrap", "foam"): (400, 65),
}


def test_press_figures_are_those_of_practice() -> None:
    seen = set()
    for blank in built_in_blanks().values():
        key = (blank.construction, blank.cloth.finish)
        if key in PRACTICE and blank.press is not None:
            assert (blank.press.heat_f_written, blank.press.time_s) == PRACTICE[key], blank.id
            assert blank.press.preheat_s == 10
            seen.add(key)
    assert seen == set(PRACTICE)


# A series: each size is the one before cut in half, rounded down to whole mm (ISO 216, 4).
@pytest.mark.parametrize("series", ["A", "RA", "SRA"])
def test_paper_sizes_halve(series: str) -> None:
    sizes = [PAPER_SIZES[f"{series}{n}"] for n in range(7) if f"{series}{n}" in PAPER_SIZES]
    for (wide, high), smaller in pairwise(sizes):
        assert smaller == (high // 2, wide)


def test_every_measure_is_kept(make_shop: MakeShop) -> None:
    shop = read_shop(
        make_shop({"blanks/f.yaml": FOLD, "blanks/s.yaml": SEWN, "blanks/r.yaml": ROUNDED})
    )
    assert shop.faults == ()
    fold, sewn, rounded = (shop.blanks[k] for k in "fsr")
    assert (fold.seam_mm, fold.fold_mm, fold.hem_mm, fold.base_mm) == (6, 4, 5, 0)
    assert (sewn.width_mm, sewn.height_mm, sewn.gap_mm) == (100, 90, 4)
    assert (rounded.shape, rounded.corner_mm) == ("rounded", 8)
    assert (fold.press, fold.cost, fold.cloth.polyester) == (None, None, None)


WRONG_WRAPS = [
    ("vessel: {diameter: 66.1 mm}", "vessel: {diameter: 40 m}", 3, "at most 400 mm"),
    ("vessel: {diameter: 66.1 mm}", "vessel: {diameter: 0 mm}", 3, "at least 10 mm"),
    ("vessel: {diameter: 66.1 mm}", "", 1, "lacks vessel"),
    ("length: 240 mm", "length: 0 mm", 4, "more than 0 mm"),
    ("length: 240 mm", "length: -240 mm", 4, "more than 0 mm"),
    ("length: 240 mm", "length: 240", 4, "needs a unit"),
    ("length: 240 mm", "length: 9,5 furlong", 4, "needs a unit"),
    ("length: 240 mm", "length:", 4, "there is no value"),
    ("length: 240 mm", "width: 240 mm", 4, "say length: instead"),
    ("length: 240 mm", "length: 240 mm\nwidth: 240 mm", 5, "keep length: alone"),
    ("length: 240 mm", "length: {x: 1 mm}", 4, "single value"),
    ("length: 240 mm", "length: " + "9" * 5000 + " mm", 4, "not a value"),
    ("height: 100 mm", "height: 9 m", 5, "at most 2000 mm"),
    ("thickness: 3 mm", "thickness: 0 mm", 6, "more than 0 mm"),
    ("thickness: 3 mm", "", 1, "lacks thickness"),
    ("closure: {width: 30 mm", "closure: {width: 250 mm", 7, "as wide as"),
    ("shortest: 10 mm", "shortest: 31 mm", 7, "more than closure.width"),
    ("on_top: right", "on_top: rigth", 7, "did you mean “right”?"),
    ("on_top: right", "on_top: up", 7, "right, left"),
    ("bleed: 6 mm", "bleed: -1 mm", 14, "at least 0 mm"),
    ("bleed: 6 mm", "", 1, "lacks bleed"),
    ("safe: 5 mm", "safe: 50 mm", 15, "has no room for words"),
    ("shrink: {x: 1 %", "shrink: {x: 21 %", 16, "at most 20 %"),
    ("shrink: {x: 1 %", "shrink: {x: -1 %", 16, "at least 0 %"),
    ("shrink: {x: 1 %", "shrink: {x: 0.01", 16, "percent sign"),
    ("finish: linen-look", "finish: linen", 17, "did you mean “linen-look”?"),
    ("polyester: 100 %", "polyester: 101 %", 17, "at most 100 %"),
    ('white: "#ffffff"', 'white: "#ffff"', 17, "not a colour"),
    ('white: "#ffffff"', "white: bright", 17, "not a colour"),
    ('{white: "#ffffff", sky: "#6fb7e9"}', "{}", 17, "colours is empty"),
    ('sky: "#6fb7e9"', 'White: "#6fb7e9"', 17, "are the same"),
    ("heat: 400 F", "heat: 400", 18, "not a temperature"),
    ("heat: 400 F", "heat: 400 C", 18, "100 C to 260 C"),
    ("heat: 400 F", "heat: 20 C", 18, "100 C to 260 C"),
    ("heat: 400 F", "heat: 400 F (400 F)", 18, "not a temperature"),
    ("heat: 400 F, ", "", 18, "lacks heat"),
    ("time: 60 s", "time: 60", 18, "needs a unit"),
    ("time: 60 s", "time: 0 s", 18, "more than 0 s"),
    ("sides: 1", "sides: 3", 18, "at most 2"),
    ("from: practice", "from: hearsay", 18, "maker, ink, trial, practice"),
    ("cost: 1.10", "cost: 1.105", 19, "not an amount"),
    ("cost: 1.10", "cost: 1e30", 19, "not an amount"),
    ("cost: 1.10", "cost: -1", 19, "not an amount"),
    ("stock: {white: 24}", "stock: {whit: 24}", 20, "did you mean “white”?"),
    ("stock: {white: 24}", "stock: {white: 2.5}", 20, "not a whole number"),
    ("stock: {white: 24}", "stock: 24", 20, "takes lines of its own"),
    ("construction: wrap", "construction: wrapped", 2, "did you mean “wrap”?"),
    ("name: Standard can wrap, linen-look", "name: ''", 1, "is empty"),
    ("gap: 4 mm", "gap: 4 mm\nbleeed: 3 mm", 13, "take it out"),  # bleed is there already
]


@pytest.mark.parametrize(("old", "new", "line", "words"), WRONG_WRAPS)
def test_an_impossible_wrap_is_told_at_its_line(
    make_shop: MakeShop, old: str, new: str, line: int, words: str
) -> None:
    assert old in WRAP
    shop = read_shop(make_shop({"blanks/odd.yaml": WRAP.replace(old, new)}))
    the_fault(shop, "blanks/odd.yaml", line, words)
    assert "odd" not in shop.blanks


@pytest.mark.parametrize(
    ("text", "old", "new", "line", "words"),
    [
        (FOLD, "seam: 6 mm", "seam: 60 mm", 5, "whole width"),
        (FOLD, "fold: 4 mm", "fold: 214 mm", 6, "whole height"),
        (FOLD, "hem: 5 mm", "hem: 105 mm", 7, "whole height"),
        (FOLD, "base: 0 mm", "base: 100 mm", 8, "whole face"),
        (FOLD, "width: 120 mm", "length: 120 mm", 3, "say width: instead"),
        (FOLD, "height: 214 mm", "", 1, "lacks height"),
        (SEWN, "gap: 4 mm", "gap: 50 mm", 5, "whole face"),
        (SEWN, "safe: 5 mm", "safe: 45 mm", 7, "has no room for words"),
        (FLAT, "diameter: 100 mm", "width: 100 mm", 4, "say diameter: instead"),
        (FLAT, "diameter: 100 mm", "diameter: 0 in", 4, "more than 0 mm"),
        (FLAT, "shape: round", "shape: oval", 3, "rectangle, rounded, round"),
        (FLAT, "cloth: {", "press: {heat: 400 F, time: 60 s, sides: 2}\ncloth: {", 7, "sides: 1"),
        (ROUNDED, "corner: 8 mm", "corner: 46 mm", 4, "do not fit"),
        (ROUNDED, "corner: 8 mm\n", "", 1, "lacks corner"),
    ],
)
def test_other_impossible_blanks(
    make_shop: MakeShop, text: str, old: str, new: str, line: int, words: str
) -> None:
    assert old in text
    shop = read_shop(make_shop({"blanks/odd.yaml": text.replace(old, new)}))
    faults = [f for f in shop.faults if words in f"{f.problem} {f.cure}"]
    assert [f.place.line for f in faults if f.place is not None and hasattr(f.place, "line")] == [
        line
    ], shop.faults
    assert "odd" not in shop.blanks


@pytest.mark.parametrize(
    ("text", "x", "y", "lies"),
    [
        (FLAT, 50, 5, True),
        (FLAT, 18, 18, True),  # 45.3 mm from the middle, its edge at 47.8
        (FLAT, 16, 16, False),  # 48.1 mm from the middle, so it cuts the edge
        (FLAT, 90, 90, False),
        (ROUNDED, 4, 4, False),  # 5.7 mm from the corner's middle, and 5.5 reach its edge
        (ROUNDED, 86, 86, False),
        (ROUNDED, 5, 5, True),
        (ROUNDED, 2.5, 45, True),
    ],
)
def test_a_hole_lies_on_the_disc_and_within_rounded_corners(
    make_shop: MakeShop, text: str, x: float, y: float, lies: bool
) -> None:
    holes = f"holes: [{{x: {x} mm, y: {y} mm, diameter: 5 mm}}]\n"
    shop = read_shop(make_shop({"blanks/odd.yaml": text + holes}))
    assert [("does not lie on" in fault.problem) for fault in shop.faults] == [True] * (not lies)


def test_a_wrap_that_does_not_fit_its_can_is_no_reading_fault(make_shop: MakeShop) -> None:
    shop = read_shop(make_shop({"blanks/odd.yaml": WRAP.replace("240 mm", "200 mm")}))
    assert shop.faults == ()
    assert shop.blanks["odd"].plan().problems[0][0] == "length"


def test_heats_that_disagree_are_left_to_the_checks(make_shop: MakeShop) -> None:
    # A course page prints "424 F or 200 C"; 200 C is 392 F.
    shop = read_shop(make_shop({"blanks/odd.yaml": WRAP.replace("400 F", "200 C (424 F)")}))
    assert shop.faults == ()
    press = shop.blanks["odd"].press
    assert press is not None and (press.heat_c, press.heat_f_written) == (200, 424)


def test_can_sizes_of_the_built_in_blanks_are_published_ones() -> None:
    """Diameters as tests/shop/can_sizes.csv cites them."""
    with (Path(__file__).parent / "can_sizes.csv").open(encoding="utf-8") as stream:
        published = {row["blank"]: float(row["diameter_mm"]) for row in csv.DictReader(stream)}
    for name, diameter in published.items():
        vessel = built_in_blanks()[name].vessel_mm
        assert vessel == pytest.approx(diameter, abs=0.1)


SWATCHES = (
    'correction: {sky: {"#ff0000": "#301010", "#00ff00": "#208040", '
    '"#0000ff": "#101860", "#000000": "#181818"}}'
)
SKY = 'cloth: {finish: foam, colours: {white: "#fff", sky: "#6fb7e9"}, '


def test_swatches_that_were_read_correct_their_cloth_alone(make_shop: MakeShop) -> None:
    text = FOLD.replace('cloth: {finish: foam, colours: {white: "#fff"}}', SKY + SWATCHES + "}")
    shop = read_shop(make_shop({"blanks/mine.yaml": text}))
    assert shop.faults == ()
    cloth = shop.blanks["mine"].cloth
    assert cloth.readings["sky"][0] == ("#ff0000", "#301010")
    correction = cloth.correction("sky")
    assert correction is not None and correction.swatches == 4
    assert cloth.correction("white") is None


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("{sky:", "{skye:", "not a colour of this cloth"),
        ('"#0000ff": "#101860", "#000000": "#181818"', "", "2 swatches are too few"),
        ('"#0000ff":', '"blue":', "is not a colour"),
        ('"#101860"', '"dark"', "not a colour"),
        (SWATCHES, "correction: {sky: yes}", "takes lines of its own"),
    ],
)
def test_readings_that_cannot_be_used_are_told_at_their_line(
    make_shop: MakeShop, old: str, new: str, words: str
) -> None:
    text = SKY + SWATCHES + "}"
    assert old in text
    blank = FOLD.replace('cloth: {finish: foam, colours: {white: "#fff"}}', text.replace(old, new))
    the_fault(read_shop(make_shop({"blanks/mine.yaml": blank})), "blanks/mine.yaml", 11, words)
