"""What other programs are told of the pages, read by other people's readers and by the rules."""

from __future__ import annotations

import json
import re
from decimal import Decimal
from typing import Any

import pytest

from proofgen.catalogue import build, told
from proofgen.catalogue.told import MOST_LETTERS, cut, description, plain
from proofgen.render import Theme
from tests.catalogue.reading import Page, pages
from tests.catalogue.season import KNIT, QUAY, TILE, offer, season

SITE = "https://pierhead.example/shop"
SCHEMA = "https://schema.org/"


@pytest.fixture(scope="module")
def known() -> dict[str, bytes]:
    return build(season(site=SITE, share=QUAY.plate), Theme("quay"), with_pdf=False)


@pytest.fixture(scope="module")
def unknown() -> dict[str, bytes]:
    return build(season(), Theme("quay"), with_pdf=False)


def named(page: Page, kind: str, name: str) -> list[str]:
    return [a["content"] for a in page.every("meta") if a.get(kind) == name]


def data_of(content: bytes) -> list[dict[str, Any]]:
    found = re.findall(
        r'<script type="application/ld\+json">(.*?)</script>', content.decode(), re.DOTALL
    )
    return [json.loads(text) for text in found]


def test_every_public_page_says_what_it_is(unknown: dict[str, bytes]) -> None:
    told = {}
    for name, page in pages(unknown).items():
        if name == "404.html":
            continue
        (told[name],) = named(page, "name", "description")
        assert 20 <= len(told[name]) <= MOST_LETTERS, name
    assert len(set(told.values())) == len(told), "no two pages say the same"
    assert told["designs/knit.html"].startswith("Knitted cup is set in two inks. It keeps")
    assert told["index.html"].startswith("Light things for long evenings.")


def test_words_are_cut_where_a_sentence_or_a_word_ends() -> None:
    assert plain("# Head\n\nIt *keeps* [its](https://x.example) colour.") == (
        "Head It keeps its colour."
    )
    assert plain("5 < 6 &amp; 7 <script>x()</script>") == "5 < 6 & 7"
    one = "A sentence of some length that says what it is about, and then it ends here. "
    assert cut(one * 3) == (one * 2).strip(), "whole sentences"
    words = cut("word " * 60)
    assert words.endswith(" word…") and len(words) <= MOST_LETTERS
    assert len(cut("x" * 400)) == MOST_LETTERS
    assert description(("Short", "and more.")) == "Short. and more."


@pytest.mark.parametrize(
    "text",
    ["Two inks,\none board.\n\nIt *keeps* its “colour”.\n", "a *b* *c d*", "Quay 12", "So – so"],
)
def test_words_alone_are_told_as_any_text_is(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    shortly = plain.__wrapped__(text)
    assert told.are_words(text)
    monkeypatch.setattr(told, "are_words", lambda _: False)
    assert plain.__wrapped__(text) == shortly


def test_where_the_site_is_known_each_page_has_one_address(known: dict[str, bytes]) -> None:
    for name, page in pages(known).items():
        links = [a["href"] for a in page.every("link") if a.get("rel") == "canonical"]
        if name == "404.html":
            assert links == []
            continue
        path = "" if name == "index.html" else name
        assert links == [f"{SITE}/{path}"] == named(page, "property", "og:url"), name
        (picture,) = named(page, "property", "og:image")
        assert picture.removeprefix(f"{SITE}/") in known, "the picture to share is there"
        assert named(page, "property", "og:title") and named(page, "property", "og:image:alt")


def test_where_it_is_not_known_nothing_pretends_it_is(unknown: dict[str, bytes]) -> None:
    for name, page in pages(unknown).items():
        assert not [a for a in page.every("link") if a.get("rel") == "canonical"], name
        assert not [a for a in page.every("meta") if a.get("property")], name
        assert "http" not in page.every("meta")[0]["content"]
    assert not {"sitemap.xml", "feed.xml"} & set(unknown)


def test_a_page_may_ask_for_one_file_more_and_nothing_else(known: dict[str, bytes]) -> None:
    """A judge in the browser reads robots.txt as the page; only that is let through."""
    for page in pages(known).values():
        policy = page.every("meta")[0]["content"]
        assert "connect-src https://pierhead.example/robots.txt;" in f"{policy};"


def test_a_design_is_a_product_with_its_prices(known: dict[str, bytes]) -> None:
    (quay,) = data_of(known["designs/quay-photo.html"])
    assert quay["@context"] == "https://schema.org" and quay["@type"] == "Product"
    assert quay["name"] == "Quay photo" and quay["url"] == f"{SITE}/designs/quay-photo.html"
    assert all(url.removeprefix(f"{SITE}/") in known for url in quay["image"])
    many = quay["offers"]
    assert (many["lowPrice"], many["highPrice"], many["offerCount"]) == ("8.10", "15.25", 3)
    for one, sold in zip(QUAY.offers, many["offers"], strict=True):
        assert sold["@type"] == "Offer" and sold["priceCurrency"] == "EUR"
        assert Decimal(sold["price"]) == one.single_price and sold["name"] == one.blank_name
        assert sold["availability"] == f"{SCHEMA}InStock"
    steps = many["offers"][0]["priceSpecification"]
    assert [(s["eligibleQuantity"]["minValue"], s["price"]) for s in steps] == [
        (1, "14.50"), (6, "13.00"), (12, "11.80"),
    ]  # fmt: skip
    (tile,) = data_of(known["designs/tile.html"])
    assert tile["offers"]["@type"] == "Offer" and tile["offers"]["price"] == "6.50"


def test_prices_in_data_stay_numbers_in_every_language() -> None:
    for language in ("de", "ar"):
        made = build(season(site=SITE), Theme("quay", language), with_pdf=False)
        (quay,) = data_of(made["designs/quay-photo.html"])
        assert quay["offers"]["lowPrice"] == "8.10"


def test_what_is_sold_out_says_so_everywhere() -> None:
    every = frozenset({"white", "sky"})
    bare = offer("Gull tile", "tile", "Round tile", "flat", ((1, "6.50"),), ("Front",), None)
    from dataclasses import replace

    gone = replace(TILE, offers=(replace(bare, gone=every),))
    some = replace(KNIT, offers=(replace(KNIT.offers[0], gone=frozenset({"sky"})),))
    made = build(season((QUAY, some, gone), site=SITE), Theme("quay"), with_pdf=False)
    (tile,) = data_of(made["designs/tile.html"])
    assert tile["offers"]["availability"] == f"{SCHEMA}SoldOut"
    page = Page(made["designs/tile.html"].decode())
    assert "Sold out just now" in page.words
    assert not [r for r in page.references if "subject=" in r], "nothing to order"
    assert "Gull tile Sold out just now" in Page(made["index.html"].decode()).words
    knit = Page(made["designs/knit.html"].decode()).words
    assert "sky (sold out)" in knit and "Sold out just now" not in knit
    (offered,) = data_of(made["designs/knit.html"])
    assert offered["offers"]["availability"] == f"{SCHEMA}InStock"


def test_lists_name_their_designs(known: dict[str, bytes]) -> None:
    (front,) = data_of(known["index.html"])
    assert front["@type"] == "CollectionPage" and front["url"] == f"{SITE}/"
    listed = front["mainEntity"]["itemListElement"]
    assert [one["position"] for one in listed] == [1, 2, 3]
    assert all(one["url"].removeprefix(f"{SITE}/") in known for one in listed)


def test_hostile_words_do_not_leave_the_data() -> None:
    from tests.catalogue.season import entry

    bad = "</script><img src=x onerror=alert(1)>\u2028"
    made = build(season((entry("bad", bad),), site=SITE, shop_name=bad), Theme("quay"),
                 with_pdf=False)  # fmt: skip
    (told,) = data_of(made["designs/bad.html"])
    assert told["name"] == bad
    tags = [tag for tag, _ in Page(made["designs/bad.html"].decode()).found]
    assert tags.count("script") == 1
    assert not [a for a in Page(made["designs/bad.html"].decode()).every("img") if "onerror" in a]
