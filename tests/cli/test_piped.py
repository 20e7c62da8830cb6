"""Answers that are piped in are read by no command, which says so."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.small import make_shop

HERE = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
WHY = "Questions are asked at a terminal alone, so what was piped in was not read"


def piped(folder: Path, *arguments: str, given: str | None = "Pier Press\n") -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-m", "proofgen", *arguments],
        cwd=folder,
        env=HERE,
        input=given,
        stdin=subprocess.DEVNULL if given is None else None,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stderr


def test_a_shop_begun_with_piped_answers_says_why_none_was_asked(tmp_path: Path) -> None:
    code, told = piped(tmp_path, "start", "shop")
    assert code == 0 and told.count(WHY) == 1 and "proofgen start --help" in told
    for at, given in enumerate((None, "")):
        code, told = piped(tmp_path, "start", f"shop-{at}", given=given)
        assert code == 0 and WHY not in told


@pytest.mark.parametrize("command", ["order", "measure"])
def test_what_is_missing_tells_that_what_was_piped_in_was_not_read(
    tmp_path: Path, command: str
) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    code, told = piped(shop, command)
    assert code == 2 and told.count(WHY) == 1 and f"proofgen {command} --help" in told
    answers = tmp_path / "answers.txt"
    answers.write_text("x\n", "utf-8")
    with answers.open() as stream:
        done = subprocess.run(
            [sys.executable, "-m", "proofgen", command],
            cwd=shop, env=HERE, stdin=stream, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 2 and done.stderr.count(WHY) == 1
        assert stream.read() == "x\n", "the next command of a loop reads on"
    assert WHY not in piped(shop, command, given=None)[1]


def test_an_order_whose_options_say_all_is_made_in_a_loop_without_a_word(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    code, told = piped(
        shop, "order", "--customer", "Odalys", "--design", "tag", "--blank", "pouch-flat",
        "--cloth", "white", "--words", "name=Ida", "--email", "o@example.org", "--quantity", "1",
    )  # fmt: skip
    assert code == 0 and WHY not in told, told
