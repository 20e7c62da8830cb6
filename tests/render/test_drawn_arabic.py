"""Arabic words for an engine that sets letter by letter; forms as Unicode's charts name them."""

from __future__ import annotations

import unicodedata

import pytest

from proofgen.render.drawn_arabic import as_drawn


def names(text: str) -> list[str]:
    return [unicodedata.name(c).removeprefix("ARABIC LETTER ").title() for c in text]


def test_letters_join_and_run_from_right_to_left() -> None:
    # beh joins on both sides, dal only to the letter before it
    assert names(as_drawn("بدب")) == [
        "Beh Isolated Form",
        "Dal Final Form",
        "Beh Initial Form",
    ]
    assert names(as_drawn("ببب")) == ["Beh Final Form", "Beh Medial Form", "Beh Initial Form"]


def test_lam_with_alef_is_one_and_marks_are_left_out() -> None:
    assert names(as_drawn("لا")) == ["Arabic Ligature Lam With Alef Isolated Form"]
    assert as_drawn("مُخفيّ") == as_drawn("مخفي")


@pytest.mark.parametrize("text", ["Fold at the bottom", "", "5 mm", "Zoë – 12"])
def test_other_words_stay_as_they_are(text: str) -> None:
    assert as_drawn(text) == text


def test_figures_keep_their_way_among_the_words() -> None:
    assert as_drawn("ب 12,5 ب").startswith("ﺏ 12,5 ﺏ")
    assert as_drawn("(د)") == "(ﺩ)"
