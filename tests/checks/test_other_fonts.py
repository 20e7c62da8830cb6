"""Fonts that have a letter: the shop's own first, and none opened where no letter is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from proofgen.artwork.materials import Materials
from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.store import NoStore
from tests.checks.factory import given, layout, words
from tests.made_fonts import made_font, put_font

CHECK = CHECKS["words/missing-letters"]


def test_no_font_is_opened_where_no_letter_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise AssertionError("a font was opened")

    monkeypatch.setattr(Materials, "typeface", refused)
    assert [one.status for one in run_check(CHECK, given(layout(words())))] == ["pass"]


def test_the_shop_s_own_font_comes_first(tmp_path: Path) -> None:
    put_font(tmp_path, made_font("Țară", "My Hand"))
    with Materials(tmp_path, NoStore()) as materials:
        asked = given(layout(words("Țară", missing="Ț")))
        (found,) = run_check(CHECK, replace(asked, materials=materials))
    assert "write font: My Hand in designs/harbour/design.md:7" in found.cure
