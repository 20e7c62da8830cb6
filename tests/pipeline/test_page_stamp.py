"""A proof's page is set again when anything it shows has changed, and only then."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.small import files, make_shop, page, run

# What is changed: file, from, to, and what the page says then.
CHANGES = {
    "the price": ("designs/tag/design.md", "{1: 5.00, ", "{1: 6.35, ", "12.70"),
    "a design's title": ("designs/tag/design.md", "Plain tag", "Plainer tag", "Plainer tag"),
    "a slot's label": (
        "designs/tag/design.md",
        "sample:",
        "labels: {name: Whose}\nsample:",
        "Whose",
    ),
    "the customer": ("orders/fenn/order.yaml", "Odalys Fenn", "Odalys Finn", "Odalys Finn"),
    "the due day": ("orders/fenn/order.yaml", "2026-12-20", "2026-12-21", "21 December"),
    "the shop's name": ("shop.yaml", "Puffin Yard", "Puffin Yards", "Puffin Yards"),
}


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    made = make_shop(tmp_path / "shop", "fenn")
    run(made, "proof", "fenn").ended(0)
    return made


def test_nothing_new_sets_no_page(shop: Path) -> None:
    before = files(shop / "site")
    assert run(shop, "-q", "build").ended(0)
    assert files(shop / "site") == before
    assert run(shop, "proof").ended(0).out.count("set again") == 0


@pytest.mark.parametrize("what", CHANGES)
def test_what_the_page_shows_sets_it_again(shop: Path, what: str) -> None:
    name, old, new, shown = CHANGES[what]
    assert shown not in page(shop, "fenn")
    text = (shop / name).read_text("utf-8")
    assert old in text
    (shop / name).write_text(text.replace(old, new), "utf-8")
    run(shop, "proof").ended(0)
    assert shown in page(shop, "fenn")
