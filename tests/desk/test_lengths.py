"""Lengths that are typed: cans by what they hold, and lengths that are asked about at once."""

from __future__ import annotations

import pytest

from proofgen.desk.lengths import doubt, length_of, taken_for


@pytest.mark.parametrize(
    ("text", "across"),
    [
        ("0.33 l", 66.1),  # was refused: “needs a unit”
        ("0,5 L", 66.1),
        ("330ml", 66.1),
        ("33 cl", 66.1),
        ("12 fl oz", 66.1),
        ("16 oz", 66.1),
        ("250 ml", 53.0),
        ("66.1 mm", 66.1),
        ("round 207.66 mm", 66.1),
    ],
)
def test_a_usual_can_by_what_it_holds(text: str, across: float) -> None:
    assert length_of("vessel", text) == pytest.approx(across, abs=0.001)
    is_told = "usually" in taken_for("vessel", text)
    assert is_told == ("mm" not in text)


@pytest.mark.parametrize("text", ["3 l", "100 ml", "66", "0 l"])
def test_a_can_that_nobody_knows_is_measured(text: str) -> None:
    with pytest.raises(ValueError, match=r"like 66\.1 mm"):
        length_of("vessel", text)


def test_nothing_else_is_told_by_what_it_holds() -> None:
    with pytest.raises(ValueError, match="needs a unit"):
        length_of("length", "0.33 l")


def test_a_strange_length_raises_a_question() -> None:
    assert "unusually tall for a can sleeve: is it right?" in doubt("wrap", "height", 225)
    assert "unusually wide can: is it right?" in doubt("wrap", "vessel", 222.25)
    assert not doubt("wrap", "vessel", 88)
    assert "bleed: is it right?" in doubt("fold", "bleed", 12)
    for kind, name in (("wrap", "height"), ("round", "diameter"), ("wrap", "length")):
        assert "4 mm is unusually small for a side of a piece" in doubt(kind, name, 4)
    for kind, name, value in (
        ("wrap", "height", 140),
        ("rectangle", "height", 20),
        ("fold", "seam", 4),
        ("fold", "height", 225),
        ("wrap", "bleed", 6),
    ):
        assert not doubt(kind, name, value)
