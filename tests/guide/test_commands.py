"""Every command line in README and guide is one that the program takes."""

from __future__ import annotations

import pytest

from proofgen.cli.parser import read_command
from tests.guide.reading import WRITTEN, fences, typed, words

LINES = [
    pytest.param(path, line, id=f"{path.name}: {line}") for path in WRITTEN for line in typed(path)
]


def test_there_are_lines_to_type() -> None:
    assert len(LINES) > 60


@pytest.mark.parametrize(("path", "line"), LINES)
def test_the_line_is_taken(path: object, line: str) -> None:
    try:
        read_command(words(line))
    except SystemExit as stopped:
        assert stopped.code == 0, f"{path}: {line}"


def test_no_command_is_broken_over_two_lines() -> None:
    for path in WRITTEN:
        for _, text in fences(path):
            assert not [one for one in text.splitlines() if one.endswith("\\")], path


def test_a_line_that_is_none_is_found_out() -> None:
    with pytest.raises(SystemExit) as stopped:
        read_command(words("proofgen press --mirorr"))
    assert stopped.value.code == 2
