"""Common practice at the press, rule by rule, and where each is said: a blank, a step, a finding.
The rules have no source but practice."""

from __future__ import annotations

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.geometry import Construction
from proofgen.model import Blank
from proofgen.model.blank import Finish
from proofgen.press.steps import SOURCES, press_steps
from proofgen.shop.blank_reader import built_in_blanks
from proofgen.units import f_to_c
from tests.checks import cases_blank, cases_layout
from tests.checks.factory import cloth
from tests.press.conftest import make_blank


@pytest.mark.parametrize(
    ("construction", "finish", "fahrenheit", "seconds"),
    [
        ("sewn", "linen-look", 400, 60),
        ("sewn", "foam", 385, 50),
        ("flat", "smooth", 385, 50),
        ("fold", "foam", 385, 60),
        ("wrap", "linen-look", 400, 60),
        ("wrap", "foam", 400, 65),
    ],
)
def test_heat_and_time_in_the_blanks(
    construction: Construction, finish: Finish, fahrenheit: float, seconds: float
) -> None:
    alike = [
        b
        for b in built_in_blanks().values()
        if (b.construction, b.cloth.finish) == (construction, finish)
    ]
    assert alike
    for one in alike:
        press = one.press
        assert press is not None and press.source == "practice"
        assert press.heat_c == pytest.approx(f_to_c(fahrenheit))
        assert (press.time_s, press.preheat_s, press.pressure) == (seconds, 10, "medium")
        assert one.cloth.polyester == 1.0


def _steps(of: Blank) -> str:
    return " ".join(step.says for step in press_steps(of, list(of.plan().panels)))


@pytest.mark.parametrize(
    ("of", "wanted"),
    [
        ("sewn", "this side for the full 50 s too"),
        ("sewn", "each side that will be pressed bare for 10 s"),
        ("flat", "the cloth shrinks before the print and not under it"),
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
