"""The season's pages in a browser: nothing is fetched, nothing overflows, keys reach everything."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from proofgen.catalogue import build
from proofgen.render import Theme, theme_names
from tests.catalogue.season import KNIT, QUAY, TILE, entry, offer, season

LONG = "Llanfairpwllgwyngyllgogerychwyrndrobwllllantysiliogogogoch"
PAGES = ("index.html", "blanks.html", "designs/quay-photo.html", "designs/long.html",
         "words/about.html")  # fmt: skip


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A season on disk, with one design whose words cannot be broken at a space."""
    folder = tmp_path_factory.mktemp("season")
    steps = ((1, "12345.50"), (6, "12000.00"), (12, "11000.00"), (40, "9000.00"))
    long = entry("long", LONG, offer(LONG, name=LONG, prices=steps), text=LONG, word_slots=(LONG,))
    made = build(season((QUAY, KNIT, TILE, long)), Theme("quay"), with_pdf=False)
    for name, content in made.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def visit(browser: Browser, site: Path) -> Iterator[Callable[..., Page]]:
    """Open a page of the season; faults and whatever is asked of a network fail the test."""
    opened = []
    wrong: list[str] = []

    def go(name: str, width: int = 1280, **options: object) -> Page:
        size = {"width": width, "height": 800}
        context = browser.new_context(viewport=size, **options)  # type: ignore[arg-type]
        opened.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        page.on(
            "request",
            lambda asked: (
                None if asked.url.startswith((site.as_uri(), "data:,")) else wrong.append(asked.url)
            ),
        )
        page.goto((site / name).as_uri())
        return page

    yield go
    for context in opened:
        context.close()
    assert wrong == []


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_no_page_is_wider_than_the_screen(
    visit: Callable[..., Page], name: str, width: int
) -> None:
    page = visit(name, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    beyond = page.evaluate(
        """(width) => [...document.querySelectorAll('main *')].filter((e) => {
             const box = e.getBoundingClientRect();
             return box.width && box.right > width + 1 && !e.closest('.unseen');
           }).map((e) => e.outerHTML.slice(0, 80))""",
        width,
    )
    assert beyond == []


def test_wider_letters_and_lines_lose_nothing(visit: Callable[..., Page]) -> None:
    """The distances of WCAG 2.2, 1.4.12."""
    page = visit("designs/long.html", 320, bypass_csp=True)
    page.add_style_tag(
        content="* { line-height: 1.5 !important; letter-spacing: 0.12em !important;"
        " word-spacing: 0.16em !important } p { margin-bottom: 2em !important }"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_every_picture_shows(visit: Callable[..., Page]) -> None:
    for name in ("index.html", "designs/quay-photo.html"):
        page = visit(name)
        page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
        page.evaluate("Promise.all([...document.images].map((i) => i.decode()))")
        assert page.locator("img").count() >= 4


def test_links_are_large_enough_and_reached_by_keys(visit: Callable[..., Page]) -> None:
    """WCAG 2.2, 2.5.8: 24 px; links inside a sentence are excepted."""
    page = visit("index.html", 390)
    small = page.evaluate(
        """() => [...document.querySelectorAll('nav a, .mosaic a, .cover-plate a')]
             .filter((a) => a.getBoundingClientRect().height < 24).length"""
    )
    assert small == 0
    stops = page.locator("a, input, select, button, summary").count()
    reached = set()
    for _ in range(stops + 2):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.tagName") == "A":
            reached.add(page.evaluate("document.activeElement.href"))
            width = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
            assert width == "3px"
    assert len(reached) == page.evaluate("new Set([...document.links].map((a) => a.href)).size")


def test_in_the_night_the_page_is_dark(visit: Callable[..., Page]) -> None:
    page = visit("designs/quay-photo.html", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(22, 27, 33)"


@pytest.mark.parametrize("count", range(2, 14))
def test_no_design_stands_alone_in_its_row(browser: Browser, tmp_path: Path, count: int) -> None:
    """Rows of the mosaic are full, however many designs a season has."""
    many = tuple(entry(f"d{i}", f"Design {i}", offer(f"Design {i}")) for i in range(count))
    made = build(season(many), Theme("quay"), with_pdf=False)
    (tmp_path / "index.html").write_bytes(made["index.html"])
    page = browser.new_page(viewport={"width": 1280, "height": 800})
    page.goto((tmp_path / "index.html").as_uri())
    rows = page.evaluate(
        """() => { const rows = {};
             for (const li of document.querySelectorAll('.mosaic li')) {
               const box = li.getBoundingClientRect();
               const row = Math.round(box.bottom);
               rows[row] = (rows[row] || 0) + box.width;
             } return Object.values(rows); }"""
    )
    wide = page.evaluate("document.querySelector('.mosaic').getBoundingClientRect().width")
    page.close()
    assert min(rows) > 0.85 * wide, rows  # the rest is the gaps between them


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("name", theme_names())
def test_a_price_is_never_cut(browser: Browser, tmp_path: Path, name: str, language: str) -> None:
    """On the smallest screens, in letters that came and in those of the device."""
    steps = ((1, "14.00"), (6, "12.50"), (12, "11.00"))
    one = entry("card", "Card", offer("Card", name="Flat pouch, linen-look", prices=steps))
    theme = Theme(name, language)
    made = build(season((one,)), theme, with_pdf=False)
    for file, content in made.items():
        (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file).write_bytes(content)
    for width in (320, 390):
        for letters in ("", "* { font-family: monospace !important }"):
            context = browser.new_context(viewport={"width": width, "height": 800}, bypass_csp=True)
            page = context.new_page()
            page.goto((tmp_path / "designs/card.html").as_uri())
            if letters:
                page.add_style_tag(content=letters)
            lines = page.evaluate(
                """() => [...document.querySelectorAll('.sum')].map((cell) => {
                     const range = document.createRange();
                     range.selectNodeContents(cell);
                     const tops = [...range.getClientRects()].map((r) => Math.round(r.top));
                     return [cell.textContent, new Set(tops).size];
                   })"""
            )
            assert len(lines) == 6 and {count for _, count in lines} == {1}, lines
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            context.close()
