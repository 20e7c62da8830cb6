"""Common practice at the press, rule by rule, and where each is said: a blank, a step, a finding.
The rules (tests/data/practice.csv) have no source but practice."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.geometry import CONSTRUCTIONS, Construction
from proofgen.model import FINISHES, Blank
from proofgen.model.blank import Finish
from proofgen.press.steps import SOURCES, press_steps
from proofgen.shop import built_in_blanks, practice_press
from proofgen.units import f_to_c
from tests.checks import cases_blank, cases_layout
from tests.checks.factory import cloth
from tests.press.conftest import make_blank

FILE = Path(__file__).parents[1] / "data" / "practice.csv"
ROWS = list(csv.DictReader(FILE.read_text("utf-8").splitlines()))
FIGURES = {"heat", "time", "preheat", "pressure", "fibre"}


def _kinds(applies_to: str) -> list[tuple[Construction, Finish]]:
    """The kinds of blank that a row is about."""
    text = applies_to.replace("(flat, to be sewn)", "")
    if "general polyester" in text:
        return [("sewn", "foam"), ("flat", "smooth"), ("fold", "smooth")]
    return [
        (made, finish)
        for made in CONSTRUCTIONS
        for finish in FINISHES
        if made in text and finish in text
    ]


@pytest.mark.parametrize("name", built_in_blanks())
def test_a_measured_blank_gets_what_a_built_in_one_of_its_kind_has(name: str) -> None:
    blank = built_in_blanks()[name]
    usual = practice_press(blank.construction, blank.cloth.finish)
    assert blank.press is not None
    assert (blank.press.heat_f_written, blank.press.time_s) == (usual.heat_f_written, usual.time_s)


@pytest.mark.parametrize("row", [r for r in ROWS if r["subject"] in ("heat", "time")], ids=str)
def test_each_row_of_heat_and_time_is_in_the_blanks(row: dict[str, str]) -> None:
    """In those built in, and in what a measured blank gets where nobody says better."""
    assert _kinds(row["applies_to"]), row
    for construction, finish in _kinds(row["applies_to"]):
        alike = [
            b.press
            for b in built_in_blanks().values()
            if (b.construction, b.cloth.finish) == (construction, finish)
        ]
        assert alike
        for press in (*alike, practice_press(construction, finish)):
            assert press is not None and press.source == "practice"
            if row["subject"] == "time":
                assert press.time_s == float(row["value"])
            else:
                assert (row["unit"], press.heat_f_written) == ("F", float(row["value"]))
                assert press.heat_c == pytest.approx(f_to_c(float(row["value"])))


@pytest.mark.parametrize("row", [r for r in ROWS if r["subject"] in FIGURES], ids=str)
def test_the_other_figures_are_in_every_blank(row: dict[str, str]) -> None:
    for one in built_in_blanks().values():
        press, value = one.press, row["value"]
        assert press is not None
        for had in (press, practice_press(one.construction, one.cloth.finish)):
            assert row["subject"] != "preheat" or had.preheat_s == float(value)
            assert row["subject"] != "pressure" or had.pressure == value
        assert row["subject"] != "fibre" or one.cloth.polyester == float(value) / 100


def _steps(of: Blank) -> str:
    return " ".join(step.says for step in press_steps(of, list(of.plan().panels)))


@pytest.mark.parametrize(
    ("of", "wanted"),
    [
        ("sewn", "this side for the full 50 s too"),
        ("sewn", "each side that will be pressed bare for 10 s"),
        ("flat", "lets it shrink first"),
        ("flat", "lint off the cloth"),
        ("flat", "protective paper under the blank and over it"),
        ("flat", "Foam keeps the mark of a paper edge or of tape"),
        ("flat", "the paper must reach past the blank on every side"),
        ("flat", "torn paper or a light tacky spray lessens its mark"),
        ("flat", "that of a small print can still show on foam"),
    ],
)
def test_rules_in_the_steps(of: Construction, wanted: str) -> None:
    assert wanted in _steps(make_blank(of))


def test_linen_look_is_hardly_marked() -> None:
    linen = make_blank("flat", cloth=cloth(finish="linen-look"))
    assert "Foam keeps" not in _steps(linen) and "not on the face" in _steps(linen)


def test_the_makers_figures_come_first() -> None:
    assert "maker comes first" in SOURCES["practice"]


@pytest.mark.parametrize(
    ("name", "label", "wanted"),
    [
        ("blank/dye-takes", "half", "only that part takes the dye"),
        ("blank/heat", "practice", "common practice, with no source"),
        ("blank/two-sides-foam", "both", "Choose a design for one side, if it should stay soft"),
        ("blank/strong-cloth", "", "shows through: it tints every colour"),
        ("layout/across-seam", "sewn foam", "stays at each seam, and pressing both sides flattens"),
        ("layout/across-seam", "sewn foam", "a wrap, which carries the picture in one piece"),
        ("layout/across-seam", "fold", "the finished piece looks rounder"),
    ],
)
def test_rules_in_the_findings(name: str, label: str, wanted: str) -> None:
    rows = [
        case
        for case in (*cases_blank.CASES, *cases_layout.CASES)
        if case.check == name and label in ("", case.label)
    ]
    found = [finding for case in rows for finding in run_check(CHECKS[name], case.given)]
    assert [finding for finding in found if wanted in f"{finding.says} {finding.cure}"]


# Of each rule that is no figure: words of it, and where a maker meets it: in the steps of a blank,
# or in a finding.
RULES = {
    "mirror the print": ["lint off the cloth", "protective paper under the blank and over it"],
    "paper edge or tape": ["Foam keeps the mark", "reach past the blank on every side"],
    "torn paper edges": ["torn paper or a light tacky spray", "small print can still show on foam"],
    "ink is translucent": ["shows through: it tints every colour"],
    "pressing both sides": ["pressing both sides flattens", "Choose a design for one side"],
    "all-round print": ["stays at each seam", "carries the picture in one piece", "looks rounder"],
    "heat and time differ": ["maker comes first"],
}


def test_each_rule_is_on_a_ticket_or_in_a_finding() -> None:
    """Every row is a figure or one of RULES, and all of what a rule says is said somewhere. That
    prints are mirrored is tests/press/test_press_sheet.py's."""
    cases = (*cases_blank.CASES, *cases_layout.CASES)
    told = [f"{f.says} {f.cure}" for c in cases for f in run_check(CHECKS[c.check], c.given)]
    told += [_steps(make_blank(of)) for of in CONSTRUCTIONS] + list(SOURCES.values())
    for row in ROWS:
        if row["subject"] in FIGURES:
            continue
        (wanted,) = [said for start, said in RULES.items() if row["applies_to"].startswith(start)]
        for words in wanted:
            assert any(words in text for text in told), (row, words)
