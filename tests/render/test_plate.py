"""Pictures in the round stand on the page's own paper, so that by day no edge shows."""

from __future__ import annotations

import re

import pytest

from proofgen.render import Theme, carried, theme_names


@pytest.mark.parametrize("name", theme_names())
def test_a_themes_plate_is_its_paper_by_day(name: str) -> None:
    theme = Theme(name, "en", "EUR")
    assert re.fullmatch(r"#[0-9a-f]{6}", theme.plate)
    papers = [
        found[1]
        for file in (carried("themes") / name).glob("*.css")
        if (found := re.search(r"--paper:\s*(#[0-9a-f]{6})", file.read_text("utf-8")))
    ]
    assert theme.plate in papers
