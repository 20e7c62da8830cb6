"""Figures that others published, against what the whole program makes of them."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import yaml
from PIL import Image

from proofgen import units
from tests.slips import code_on
from tests.whole import papers
from tests.whole.running import HOUSE, copy_of_demo, inside, page_of

pytestmark = pytest.mark.whole

BUILT_IN = HOUSE / "proofgen" / "shop" / "blanks"
INCH = 25.4  # mm, exactly: international yard and pound agreement, 1959
ORDER = "nine-and-a-half"

BLANK = """name: A patch in inches
construction: flat
shape: rectangle
width: 9.5 in
height: 4 in
thickness: 1 mm
bleed: 0 mm
safe: 4 mm
cloth: {{finish: smooth, polyester: 100 %, colours: {{white: "#ffffff"}}}}
press: {{heat: {heat}, time: 55 s, pressure: medium, from: maker}}
"""
DESIGN = """---
title: Two colours
occasions: [gift]
offered: {inch-patch: 9.00}
faces:
  front:
    - colour: "#20607a"
    - colour: {colour: "#e0a030", at: [0 %, 0 %, 50 %, 100 %]}
---
Invented.
"""


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop with one signed order of a patch 9.5 by 4 inches, at 300 ppi."""
    folder = copy_of_demo(tmp_path_factory.mktemp("outside") / "shop")
    set_line(folder, "printer", "{ppi: 300}")
    (folder / "blanks" / "inch-patch.yaml").write_text(BLANK.format(heat="200 C"), "utf-8")
    (folder / "designs" / "two-colours").mkdir()
    (folder / "designs" / "two-colours" / "design.md").write_text(DESIGN, "utf-8")
    (folder / "orders" / ORDER).mkdir()
    (folder / "orders" / ORDER / "order.yaml").write_text(
        "customer: {name: Iñigo Ås}\ndue: 2026-12-18\nlines:\n"
        "  - {design: two-colours, blank: inch-patch, cloth: white, quantity: 1}\n",
        "utf-8",
    )
    inside(folder, "build")
    code = code_on(page_of(folder, ORDER), "ok")
    inside(folder, "answer", "-", typed=code)
    return folder


def set_line(folder: Path, key: str, value: str) -> None:
    """Another value for one line of shop.yaml."""
    file = folder / "shop.yaml"
    text, times = re.subn(rf"(?m)^{key}:.*$", f"{key}: {value}", file.read_text("utf-8"))
    assert times == 1
    file.write_text(text, "utf-8")


def pressed(folder: Path) -> tuple[dict[str, Any], Path, Path]:
    """The document of the one sheet, its file, and the ticket."""
    document = inside(folder, "press", ORDER, "--json").document
    (sheet,), (ticket,) = document["sheets"], document["tickets"]
    return sheet, folder / sheet["file"], folder / ticket


@pytest.mark.parametrize(
    ("paper", "wide", "high"),
    [
        ("A4", 210, 297),  # ISO 216:2007, main series
        ("A3", 297, 420),
        ("Letter", 8.5 * INCH, 11 * INCH),  # ANSI/ASME Y14.1, size A
        ("Tabloid", 11 * INCH, 17 * INCH),  # the same, size B
        ("SRA3", 320, 450),  # ISO 217:2013, as PWG 5101.1 lists it
    ],
)
def test_the_page_is_the_paper(shop: Path, paper: str, wide: float, high: float) -> None:
    set_line(shop, "paper", f"[{paper}]")
    set_line(shop, "rates", "{minute: 0.40}")
    sheet, file, _ = pressed(shop)
    page = papers.page_mm(file)
    # The sheet may lie on its side; a printer turns it.
    assert sorted(page) == pytest.approx(sorted((wide, high)), abs=0.005)
    assert (sheet["width_mm"], sheet["height_mm"]) == pytest.approx(page, abs=0.001)
    with pikepdf.open(file) as pdf:
        # ISO 32000-1, table 30: CropBox is MediaBox where it is left out, and no page is scaled.
        assert pdf.pages[0].get("/CropBox", pdf.pages[0].MediaBox) == pdf.pages[0].MediaBox
        assert pdf.pages[0].get("/UserUnit", 1) == 1


def test_nine_and_a_half_inches_are_2850_px_and_not_one_more(shop: Path) -> None:
    """9.5 × 300 = 2850; by way of mm as floats it may come out as 2851."""
    (kept,) = (shop / "records" / ORDER / "rasters").iterdir()
    with Image.open(kept) as picture:
        assert picture.size == (2850, 1200)
    sheet, file, _ = pressed(shop)
    (piece,) = sheet["pieces"]
    sides = (piece["width_mm"], piece["height_mm"])
    assert sorted(sides) == pytest.approx([4 * INCH, 9.5 * INCH], abs=0.001)
    with pikepdf.open(file) as pdf:
        left, low, right, top = (float(edge) for edge in pdf.pages[0].TrimBox)
    # 72 units an inch: ISO 32000-1, 8.3.2.3.
    assert sorted((right - left, top - low)) == pytest.approx([4 * 72, 9.5 * 72], abs=0.01)


def pairs() -> list[tuple[float, float, int]]:
    lines = (HOUSE / "tests" / "data" / "temperature_pairs.csv").read_text("utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return [(float(r["C"]), float(r["F_exact"]), int(r["F_rounded"])) for r in rows]


@pytest.mark.parametrize(("celsius", "exact", "whole"), pairs())
def test_temperature_pairs(celsius: float, exact: float, whole: int) -> None:
    # The table gives tenths.
    assert units.c_to_f(celsius) == pytest.approx(exact, abs=0.081)
    assert round(units.c_to_f(celsius)) == whole
    assert units.parse_temperature(f"{whole} F").celsius == pytest.approx(celsius, abs=0.3)
    assert units.parse_temperature(f"{celsius} C ({whole} F)").agrees


@pytest.mark.parametrize(
    ("heat", "celsius", "fahrenheit"),
    # 385 and 400 °F are the trade's figures (common practice, no source); 196.1 and 204.4 °C.
    [("200 C", 200, 392), ("385 F", 196, 385), ("400 F", 204, 400), ("205 C (401 F)", 205, 401)],
)
def test_the_ticket_says_both_heats(shop: Path, heat: str, celsius: int, fahrenheit: int) -> None:
    (shop / "blanks" / "inch-patch.yaml").write_text(BLANK.format(heat=heat), "utf-8")
    _, file, ticket = pressed(shop)
    for pdf in (file, ticket):
        told = " ".join(papers.text_of(pdf).split())
        assert f"{celsius} °C" in told and f"{fahrenheit} °F" in told


def test_a_printed_pair_that_is_wrong_stops_the_press(shop: Path) -> None:
    """A course page prints “424 F or 200 C”: 200 °C is 392 °F, and 424 °F is 217.8 °C."""
    blank = shop / "blanks" / "inch-patch.yaml"
    blank.write_text(BLANK.format(heat="200 C (424 F)"), "utf-8")
    refused = inside(shop, "press", ORDER, exits=1)
    blank.write_text(BLANK.format(heat="200 C"), "utf-8")
    assert "217.8 °C" in refused.err and "392 °F" in refused.err
    assert not list((shop / "workroom" / "press").glob(f"{ORDER}-*"))


@pytest.mark.parametrize("name", ["can-wrap-linen", "can-wrap-foam"])
def test_cans_are_as_wide_as_their_makers_say(name: str, tmp_path: Path) -> None:
    """CMI Voluntary Can and End Dimension Reference Manual: 211 beverage can body 2.602 ± 0.007 in.

    The code 211 reads 2 11/16 in (NFPA Bulletin 26-L, 1982), which is not the body.
    """
    written = yaml.safe_load((BUILT_IN / f"{name}.yaml").read_text("utf-8"))
    diameter = float(written["vessel"]["diameter"].removesuffix(" mm"))
    thickness = float(written["thickness"].removesuffix(" mm"))
    assert abs(diameter / INCH - 2.602) <= 0.007
    assert abs(diameter / INCH - (2 + 11 / 16)) > 0.08
    told = inside(tmp_path, "blanks", name, "--json").document
    # Bare can 207.07 to 208.19 mm round; on the neutral line of the cloth π × thickness more.
    bare = told["way_round_mm"] - math.pi * thickness
    assert 207.07 <= bare <= 208.19
    assert told["overlap_mm"] == pytest.approx(told["width_mm"] - told["way_round_mm"], abs=1e-9)


# °F and s. Common practice, no source; what is not named here is polyester in general.
PRACTICE = {
    ("wrap", "linen-look"): (400, 60),
    ("wrap", "foam"): (400, 65),
    ("fold", "foam"): (385, 60),
    ("sewn", "linen-look"): (400, 60),
    ("sewn", "foam"): (385, 50),
}


@pytest.mark.parametrize("file", sorted(BUILT_IN.glob("*.yaml")), ids=lambda path: path.stem)
def test_built_in_heat_is_common_practice_and_says_so(file: Path) -> None:
    text = file.read_text("utf-8")
    written = yaml.safe_load(text)
    press, kind = written["press"], (written["construction"], written["cloth"]["finish"])
    assert press["from"] == "practice"
    assert "ommon practice" in text and "no source" in text
    if kind == ("fold", "linen-look"):
        kind = ("wrap", "linen-look")  # no figure is known: the file says whose it takes over
    heat, seconds = PRACTICE.get(kind, (385, 50))
    assert units.parse_temperature(press["heat"]).fahrenheit == heat
    assert units.parse_time(press["time"]) == seconds
