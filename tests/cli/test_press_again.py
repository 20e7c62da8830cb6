"""What is pressed is printed once more only on a word."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.cli import running
from tests.cli.small import TODAY, files, make_shop, run


@pytest.fixture
def pressed(tmp_path: Path) -> Path:
    """A shop with a pressed order, whose sheets were cleared, and a signed one."""
    shop = make_shop(tmp_path / "shop", "done", "fenn")
    run(shop, "proof").ended(0)
    for name in ("done", "fenn"):
        run(shop, "answer", name, "--in-person", "Odalys Fenn").ended(0)
    run(shop, "press", "done").ended(0)
    run(shop, "press", "done", "--done").ended(0)
    run(shop, "-q", "build").ended(0)
    assert not list((shop / "workroom" / "press").glob("done*sheet*"))
    return shop


def test_nobody_can_be_asked(pressed: Path) -> None:
    before = files(pressed)
    for names in (["done"], ["fenn", "done"]):
        told = run(pressed, "press", *names).ended(2)
        assert f"done was pressed on {TODAY}" in told.err and "--again" in told.err
        assert {k: v for k, v in files(pressed).items() if "store" not in k} == {
            k: v for k, v in before.items() if "store" not in k
        }
    assert "done" in run(pressed, "press", "done", "--again").ended(0).out
    run(pressed, "press", "fenn").ended(0)
    run(pressed, "press").ended(0)


@pytest.mark.parametrize(("typed", "code"), [("yes", 0), ("Y", 0), ("no", 2), ("", 2), ("x", 2)])
def test_somebody_is_asked(
    pressed: Path, monkeypatch: pytest.MonkeyPatch, typed: str, code: int
) -> None:
    asked: list[str] = []

    def answer(question: str) -> str:
        asked.append(question)
        return typed

    monkeypatch.setattr(running, "ask", lambda: answer)
    told = run(pressed, "press", "done").ended(code)
    assert len(asked) == 1 and f"done was pressed on {TODAY}" in told.err
    assert bool(list((pressed / "workroom" / "press").glob("done*ticket*"))) == (not code)


def test_what_was_taken_back_is_not_asked_about(pressed: Path) -> None:
    run(pressed, "press", "done", "--not-done").ended(0)
    run(pressed, "press", "done").ended(0)


def test_again_needs_names(pressed: Path) -> None:
    run(pressed, "press", "--again").ended(2)
    run(pressed, "press", "done", "--again", "--plan").ended(2)


def test_what_is_spoiled_after_it_was_handed_over_says_what_to_do(pressed: Path) -> None:
    run(pressed, "handed-over", "done").ended(0)
    told = run(pressed, "press", "done", "--spoiled", "1", "--because", "smudged").ended(0).out
    assert "done stays handed over: give its customer what you press now" in told
    run(pressed, "press", "fenn").ended(0)
    run(pressed, "press", "fenn", "--done").ended(0)
    told = run(pressed, "press", "fenn", "--spoiled", "1", "--because", "smudged").ended(0).out
    assert "stays handed over" not in told
