"""Axe and the Nu checker find nothing on any page that a proof's link leads to, in any language."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.page_checkers import axe_faults, nu_faults
from tests.whole.every_page import LANGUAGES, Pages, play

pytestmark = [pytest.mark.whole, pytest.mark.browser]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All the pages, a folder for each."""
    folder = tmp_path_factory.mktemp("pages")
    play(Pages(folder / "shop", folder / "kept"))
    return folder / "kept"


@pytest.fixture(scope="module")
def screen(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(bypass_csp=True)
    context.clock.set_fixed_time("2026-11-26T12:00:00Z")
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("language", LANGUAGES)
def test_axe_finds_nothing_on_any_page(kept: Path, screen: Page, language: str) -> None:
    """Phone by day, desktop by night; how wide a page may be is tried in test_access.py."""
    told = []
    pages = sorted(kept.glob(f"{language}-*/index.html"))
    assert len(pages) == 13
    for page in pages:
        screen.goto(page.as_uri())
        for width, scheme in ((320, "light"), (1280, "dark")):
            screen.set_viewport_size({"width": width, "height": 800})
            screen.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            told += [f"{page.parent.name} {width}: {fault}" for fault in axe_faults(screen)]
            wide = screen.evaluate("document.documentElement.scrollWidth")
            told += [f"{page.parent.name} is {wide} px wide at {width}"] * (wide > width)
        screen.set_viewport_size({"width": 390, "height": 800})
        screen.add_style_tag(content="html { font-size: 36px !important }")  # twice as large
        wide = screen.evaluate("document.documentElement.scrollWidth")
        told += [f"{page.parent.name} is {wide} px wide with letters twice as large"] * (wide > 390)
    assert told == []


def test_the_nu_checker_finds_nothing_on_any_page(kept: Path, tmp_path: Path) -> None:
    assert nu_faults(sorted(kept.glob("*/index.html")), tmp_path) == []
