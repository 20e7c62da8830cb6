"""Did you mean: slips of the pen find their name, and nothing else does."""

from __future__ import annotations

import difflib

import pytest

from proofgen.say import did_you_mean, near_names

PAPERS = ("A2", "A3", "A4", "A5", "SRA3", "letter", "legal", "tabloid")
CASES = [
    ("peir.jpg", ("pier.jpg", "lamp.jpg"), "pier.jpg"),
    ("dew", ("customer", "due", "lines", "rights", "price", "note"), "due"),
    ("nmae", ("name", "date"), "name"),
    ("A33", PAPERS, "A3"),
    ("A44", PAPERS, "A4"),
    ("Calaeda", ("Caladea", "Caladea Bold", "Manrope"), "Caladea"),
    ("linen", ("linen-look", "foam", "smooth"), "linen-look"),
    ("can-flod", ("can-fold", "can-wrap-linen", "coaster-round"), "can-fold"),
    ("quai", ("quay",), "quay"),
    ("fen", ("fenn", "quill-wedding"), "fenn"),
    ("sewed", ("wrap", "fold", "sewn", "flat"), "sewn"),
    ("zzzz", ("name", "date"), None),
    ("", ("a", "b"), None),
    ("TAG", ("tag", "snap"), "tag"),
]


@pytest.mark.parametrize(("written", "known", "near"), CASES)
def test_the_nearest_known_name(written: str, known: tuple[str, ...], near: str | None) -> None:
    assert near_names(written, known) == ([near] if near else [])
    old = difflib.get_close_matches(written.casefold(), known, 1)
    assert not old or old == [near]  # the reference of the standard library agrees


def test_several_names_come_nearest_first() -> None:
    names = ("Caladea Bold", "Caladea", "Caladea Italic", "Manrope")
    assert near_names("Caladae", names, 2) == ["Caladea", "Caladea Bold"]


def test_a_question_or_nothing() -> None:
    assert did_you_mean("skye", ["white", "sky"]) == "did you mean “sky”?"
    assert did_you_mean("skye", ["white", "sky"], typed=True) == "did you mean sky?"
    assert did_you_mean("mauve", ["white", "sky"]) == ""


def test_of_names_that_take_it_a_beginning_is_meant() -> None:
    known = ["sanne-bakker", "anne", "bo-ny", "bo-hall"]
    assert did_you_mean("Sanne", known, typed=True, begins=True) == "did you mean sanne-bakker?"
    assert did_you_mean("bo", known, begins=True) == "", "which of them nobody knows"
    assert did_you_mean("", ["one"], begins=True) == ""
    assert "sanne" not in did_you_mean("sa", known)


def test_what_is_no_slip_of_the_pen_is_not_compared() -> None:
    assert near_names("x" * 100_000, ["x" * 99_999]) == []
    assert near_names("\ud800\x1b", ["name"]) == []
