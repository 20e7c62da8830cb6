"""Fonts are found by the name people write, from the packages alone."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from proofgen.render.fonts import Fonts, find_font
from proofgen.say import near_names


def test_every_family_is_there_with_its_styles() -> None:
    names = set(Fonts().files)
    assert {
        "Caladea",
        "Caladea Bold",
        "Source Serif Pro",
        "Source Serif Pro Italic",
        "Manrope",
        "Manrope Bold",
        "Fredoka One",
        "Amatic SC",
    } <= names


def test_every_name_leads_to_one_single_style() -> None:
    for name, file in Fonts().files.items():
        with TTFont(file, lazy=True) as font:
            assert "fvar" not in font, name
            assert "cmap" in font


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("caladea", "Caladea"),
        ("CALADEA  bold", "Caladea Bold"),
        ("Caladea Regular", "Caladea"),
        ("source-serif pro", "Source Serif Pro"),
        ("AmaticSC", "Amatic SC"),
        ("fredokaone", "Fredoka One"),
    ],
)
def test_case_and_spaces_do_not_matter(written: str, meant: str) -> None:
    assert find_font(written) == Fonts().files[meant]


@pytest.mark.parametrize(
    "written",
    [
        "",
        "Regular",
        "Calaeda",
        "Caladea Boldest",
    ],
)
def test_what_is_not_there_is_not_guessed(written: str) -> None:
    found = find_font(written)
    assert found is None


def test_a_slip_of_the_pen_gets_a_suggestion() -> None:
    known = Fonts().files
    assert near_names("Calaeda", known) == ["Caladea"]
    assert near_names("Sorce Serif Pro", known) == ["Source Serif Pro"]
    assert near_names("zzzz", known) == []
