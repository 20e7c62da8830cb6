"""Lines in a terminal: columns stay under each other whatever is written in them."""

from __future__ import annotations

import pytest

from proofgen.reports.lines import WIDTH, columns, commands_apart, wrapped


@pytest.mark.parametrize(
    ("text", "wide"),
    [("Zoë", 3), ("Zoe\u0308", 3), ("漢字", 4), ("👨\u200d👩", 2), ("👍🏽", 2), ("237 × 100", 9)],
)
def test_a_column_begins_where_the_one_above_does(text: str, wide: int) -> None:
    first, second = columns([("x" * 12, "a"), (text, "b")])
    assert first == "x" * 12 + "  a"
    assert second == text + " " * (12 - wide) + "  b"
    assert columns([("x" * 12,), (text,)], right=frozenset({0}))[1] == " " * (12 - wide) + text


def test_lines_are_wrapped_and_names_stay_whole() -> None:
    name = "orders/" + "x" * 100
    lines = wrapped(f"{'word ' * 30}{name}", "    ", "  → ")
    assert lines[0].startswith("  → word") and lines[-1] == f"    {name}"
    assert all(len(line) <= WIDTH for line in lines[:-1])
    assert columns([]) == [] and wrapped("", "  ") == []


def test_a_command_is_never_broken_over_two_lines():
    told = wrapped(
        "Make the press sheets: proofgen press okafor-garden-of-the-north; once pressed: "
        "proofgen press okafor-garden-of-the-north --done",
        "    ",
    )
    assert [line.strip() for line in told] == [
        "Make the press sheets: proofgen press okafor-garden-of-the-north; once pressed:",
        "proofgen press okafor-garden-of-the-north --done",
    ]


def test_a_command_stands_apart_without_its_accents() -> None:
    told = commands_apart("Next: `proofgen orders` shows it; then: proofgen proof fenn")
    assert told == [
        ("Next: proofgen orders shows it; then: ", False),
        ("proofgen proof fenn", True),
        ("", False),
    ]
