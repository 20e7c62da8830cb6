"""The house itself: rooms import downward, types and style hold, nothing extra at the top."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.longest import LONGEST

HOUSE = Path(__file__).parent.parent
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "proofgen",
    "themes",
    "content",
    "tests",
    "site_demo",
}


@pytest.mark.parametrize(
    "command",
    [
        ["lint-imports"],
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy"],
    ],
    ids=["imports go one way", "lint", "format", "types"],
)
def test_tool_is_content(command):
    program = Path(sys.executable).parent / command[0]
    done = subprocess.run(
        [str(program), *command[1:]], cwd=HOUSE, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_top_level_holds_what_the_house_allows():
    tracked = subprocess.run(
        ["git", "ls-files", "-z"], cwd=HOUSE, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    top = {name.split("/")[0] for name in tracked if name}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_the_files_that_take_longest_are_there():
    assert [name for name in LONGEST if not (HOUSE / "tests" / name).is_file()] == []
    assert len(set(LONGEST)) == len(LONGEST)
