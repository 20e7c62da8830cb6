"""Templates are compiled once, for one language and one text of theirs."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from jinja2 import Environment

from proofgen.render import Theme, compiled
from tests import templates


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where this Python keeps compiled code, for the time of a test."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "compiled"))
    monkeypatch.setattr(Theme, "_environment", templates._ENVIRONMENT)
    return tmp_path / "compiled"


def page(language: str = "en") -> str:
    return Theme("quay", language).render("blank.html", private=True)


def files(kept: Path) -> list[Path]:
    return sorted(path for path in kept.rglob("template-*") if path.is_file())


@pytest.fixture
def compiles(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the templates that are compiled."""
    names: list[str] = []
    plain = Environment.compile

    def told(self: Environment, source: str, name: str, *rest: object) -> object:
        names.append(name)
        return plain(self, source, name, *rest)  # type: ignore[call-overload]

    monkeypatch.setattr(Environment, "compile", told)
    return names


def test_a_template_is_compiled_once(kept: Path, compiles: list[str]) -> None:
    first = page()
    assert "blank.html" in compiles
    compiles.clear()
    assert page() == first
    assert compiles == []
    assert all(path.stat().st_mode & 0o077 == 0 for path in files(kept))


def test_each_language_has_its_own(kept: Path, compiles: list[str]) -> None:
    page()
    compiles.clear()
    page("de")
    assert "blank.html" in compiles


def test_another_text_or_another_release_is_compiled_anew(
    kept: Path, compiles: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    page()
    compiles.clear()
    monkeypatch.setattr(compiled, "__version__", "another")
    page()
    assert "blank.html" in compiles
    one = compiled.Compiled("quay")
    assert one.get_source_checksum("a") != one.get_source_checksum("b")
    assert one.get_source_checksum("a") != compiled.Compiled("reef").get_source_checksum("a")
    monkeypatch.setattr(compiled, "_compiler", lambda: "another")
    assert one.get_source_checksum("a") != compiled.Compiled("quay").get_source_checksum("a")


@pytest.mark.parametrize("damage", [b"", b"#", b"\x80\x04K\x01."])
def test_what_is_damaged_is_compiled_again(kept: Path, compiles: list[str], damage: bytes) -> None:
    first = page()
    for path in files(kept):
        path.write_bytes(damage + path.read_bytes()[: len(damage) * 9])
    compiles.clear()
    assert page() == first
    assert "blank.html" in compiles


def test_nothing_is_kept_where_python_keeps_nothing(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    page()
    assert files(kept) == []


def test_a_closed_folder_is_no_fault(kept: Path) -> None:
    kept.write_text("a file where the folder would be")
    assert "<html" in page()


def test_nothing_is_kept_of_a_template_of_the_shop(kept: Path, tmp_path: Path) -> None:
    """Whoever hands over a shop's folder must not hand over code."""
    own = tmp_path / "shop" / "theme"
    (own / "templates").mkdir(parents=True)
    (own / "templates" / "blank.html").write_text("own {{ 6 * 7 }}")
    for _ in range(2):
        assert Theme("quay", own=own).render("blank.html") == "own 42"
    assert files(kept) == []
    assert [path.name for path in own.rglob("*") if path.is_file()] == ["blank.html"]
