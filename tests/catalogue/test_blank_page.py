"""The page “What we print on”: every cloth of the season, drawn, with its numbers."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.cli.small import make_shop, run, write

# Words of the trade that a customer need not know.
JARGON = [
    "bleed",
    "ppi",
    "dpi",
    "raster",
    "trim",
    "panel",
    "substrate",
    "blank",
    "seam-allowance",
    "closure",
    "wrap-around",
]
OFFERS = """\
---
title: Plain tag
offered: {can-wrap-linen: 14, can-fold-foam: 9, can-sewn-linen: 8, coaster-round: 5, mat: 7}
faces:
  front:
    - colour: "#f3d9a4"
---
A tag.
"""
MAT = """\
name: M-152 rounded
called: Mat <for> "tables" & trays
construction: flat
shape: rounded
width: 152 mm
height: 112 mm
corner: 10 mm
bleed: 4 mm
safe: 6 mm
shrink: {x: 1 %, y: 2 %}
cloth: {finish: smooth, colours: {white: "#ffffff", "sea & sky": "#6fb7e9"}}
"""


class Page(HTMLParser):
    """Words outside style, links, and how many drawings."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.links: list[str] = []
        self.ids: list[str] = []
        self.drawings = 0
        self.quiet = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.quiet = tag == "style"
        self.drawings += tag == "svg" and given.get("role") == "img"
        if tag == "a":
            self.links.append(given["href"] or "")
        if given.get("id"):
            self.ids.append(given["id"] or "")
        assert "style" not in given and not any(k.startswith("on") for k in given)

    def handle_data(self, data: str) -> None:
        if not self.quiet:
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = make_shop(tmp_path_factory.mktemp("shop"), season=True)
    write(shop / "designs" / "tag" / "design.md", OFFERS)
    write(shop / "blanks" / "mat.yaml", MAT)
    run(shop, "catalogue").ended(0)
    return shop / "site"


def page(site: Path, name: str = "blanks.html") -> Page:
    return Page((site / name).read_text("utf-8"))


def test_each_cloth_of_the_season_is_there_once_and_drawn(site: Path) -> None:
    shown = page(site)
    assert shown.drawings == 5
    assert len(set(shown.ids)) == len(shown.ids)
    for name in (
        "Wrap sleeve, linen-look",
        "Folded sleeve, foam",
        "Sewn sleeve, linen-look",
        "Round coaster",
        'Mat <for> "tables" & trays',
    ):
        assert shown.text.count(f" {name} ") >= 1, name
    assert "Flat pouch" not in shown.text


@pytest.mark.parametrize(
    "said",
    [
        # pi x 69.1 = 217.08; photo: (240 + 2 x 6) / 25.4 x 200 = 1984.3 by 112 / 25.4 x 200 = 881.9
        "217 × 100 mm , all the way round",
        "a photo of 1,985 × 882 pixels or more",
        # (264 - 4) / 2 = 130; 30 of them under the can
        "108 × 130 mm on each side ; the last 30 mm lie under the can",
        "the colour ends about 4 mm before each seam",
        "100 mm across",
        # 152 x 0.99 = 150.48, 112 x 0.98 = 109.76; with 4 mm beyond every edge: 158.48, 117.76
        "150 × 110 mm",
        "a photo of 1,248 × 928 pixels or more",
        "about 66 mm across",
        "sea & sky",
    ],
)
def test_numbers_are_those_worked_out_by_hand(site: Path, said: str) -> None:
    words = page(site).text
    assert re.sub(r"\s+", "", said) in re.sub(r"\s+", "", words), words


def test_no_word_of_the_trade_is_left(site: Path) -> None:
    shown = page(site)
    body = shown.text.split("Orders and questions")[0]
    found = [w for w in JARGON if re.search(rf"\b{w}s?\b", body, re.IGNORECASE)]
    assert found == []


def test_it_is_linked_from_every_page_and_its_links_lead_somewhere(site: Path) -> None:
    for name in ("index.html", "designs/tag.html", "blanks.html"):
        links = page(site, name).links
        assert ("../" if "/" in name else "") + "blanks.html" in links, name
    for link in page(site).links:
        if not link.startswith("mailto:"):
            assert (site / link).is_file(), link


def test_nothing_is_loaded_from_elsewhere(site: Path) -> None:
    text = (site / "blanks.html").read_text("utf-8")
    assert "default-src 'none'" in unescape(text) and "<script" not in text
    loaded = re.sub(r'<link rel="canonical"[^>]*>', "", text)  # an address that is only said
    assert not re.search(r'(?:src|href)="(?:https?:)?//', loaded)


def test_a_cloth_nobody_offers_any_more_goes(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    run(shop, "catalogue").ended(0)
    assert "Flat pouch" in page(shop / "site").text
    text = (shop / "designs" / "tag" / "design.md").read_text("utf-8")
    write(shop / "designs" / "tag" / "design.md", text.replace(", pouch-flat: 9.00", ""))
    run(shop, "catalogue").ended(0)
    assert "Flat pouch" not in page(shop / "site").text
