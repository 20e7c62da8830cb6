"""A blank drawn at its true size goes on the papers the shop has, else on one everybody has."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.desk import make_true_size
from tests.cli import small


@pytest.mark.parametrize(("papers", "paper"), [("[A3]", "A3"), ("[A4]", "A4"), ("", "A4")])
def test_a_blank_is_drawn_on_the_shops_own_paper(tmp_path: Path, papers: str, paper: str) -> None:
    """Without any in shop.yaml, as without a shop, on A4."""
    shop = small.make_shop(tmp_path / "shop")
    text = (shop / "shop.yaml").read_text("utf-8")
    line = f"paper: {papers}\n" if papers else ""
    (shop / "shop.yaml").write_text(text.replace("paper: [A4]\n", line), "utf-8")
    for folder in (shop, tmp_path) if not papers else (shop,):
        made = make_true_size(folder, "coaster-round", tmp_path / "sheet.pdf")
        assert made.says.startswith(f"One sheet of {paper}, upright, holds it")
