"""The guide in a browser, from disk: nothing for the checkers to find, nothing too wide."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proofgen.guide import write_book
from tests.guide.reading import built
from tests.page_checkers import axe_faults, nu_faults

pytestmark = pytest.mark.browser
PAGES = sorted(name for name in built() if name.endswith(".html"))
LOOKED_AT = ("index", "first-hour", "measuring-a-blank", "fields", "commands", "theme")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_book(tmp_path_factory.mktemp("guide"), built()).parent


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1440])
def test_axe_finds_nothing_and_nothing_is_too_wide(
    folder: Path, browser: Browser, width: int, scheme: str
) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    troubles: list[str] = []
    page.on("console", lambda said: troubles.append(said.text) if said.type == "error" else None)
    page.on("requestfailed", lambda asked: troubles.append(asked.url))
    for name in LOOKED_AT:
        page.goto((folder / f"{name}.html").as_uri())
        assert axe_faults(page) == [], name
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), name
    assert troubles == []
    context.close()


def test_a_link_leads_on_from_disk(folder: Path, browser: Browser) -> None:
    page = browser.new_page()
    page.goto((folder / "index.html").as_uri())
    page.get_by_role("link", name="The first hour", exact=True).first.click()
    page.get_by_role("heading", level=1, name="The first hour").wait_for()
    page.click("a[rel=next]")
    page.get_by_role("heading", level=1, name="Measuring a blank").wait_for()
    assert page.url.endswith("/measuring-a-blank.html")
    page.close()


def test_the_pages_are_sound(folder: Path, tmp_path: Path) -> None:
    assert nu_faults([folder / name for name in PAGES], tmp_path) == []
