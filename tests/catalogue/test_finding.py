"""The sentence that finds designs: by reckoning, and asked in a browser from a file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from proofgen.catalogue import Entry, build
from proofgen.catalogue.finding import answers, finder, price_limits
from proofgen.catalogue.shared import Setting, occasions
from proofgen.render import Theme
from proofgen.say.tongue import Tongue
from tests.catalogue.reading import Page as Read
from tests.catalogue.season import KNIT, QUAY, TILE, entry, offer, season

JIB = entry(
    "jib", "Jib of Café", offer("Jib", "slim", "Slim wrap", prices=((1, "22.00"),)),
    text="Sails *in* Übersee.", occasions=("wedding", "boat"), word_slots=(),
)  # fmt: skip
EVERY = (QUAY, KNIT, TILE, JIB)


def test_limits_are_round_and_each_divides() -> None:
    for prices in (("6.50", "22.00"), ("9.00", "9.80"), ("0.40", "3.10"), ("1200", "9800")):
        many = [entry(p, p, offer(p, prices=((1, p),))) for p in prices]
        limits = price_limits(many)
        assert limits and list(limits) == sorted(set(limits)) and len(limits) <= 5
        for limit in limits:
            assert Decimal(prices[0]) < limit <= Decimal(prices[1])
            bare = str(limit.normalize().scaleb(-limit.normalize().adjusted()))
            assert len(bare.replace(".", "").rstrip("0")) <= 2, limit
    assert price_limits(EVERY) == (Decimal(10), Decimal(15), Decimal(20))
    shop = [entry(p, p, offer(p, prices=((1, p),))) for p in ("6.50", "9.50", "11.50", "15.50")]
    assert price_limits(shop) == (Decimal(8), Decimal(10), Decimal(12))
    assert price_limits((TILE,)) == (), "one price needs no limit"


def test_what_a_design_answers() -> None:
    setting = Setting(season(EVERY), Theme("quay"))
    told = answers(QUAY, setting.good_for(QUAY))
    assert told["fill"] == "photo words" and told["for"] == "gift wedding"
    assert told["on"] == "wrap=14.50 slim=15.25 patch=9.00"
    assert {"quay", "photo", "linen", "sail", "colour"} <= set(told["words"].split())
    assert answers(TILE, setting.good_for(TILE))["fill"] == "ready"
    bad = answers(replace(TILE, text="<script>x</script> & *round* a<b"), ())["words"].split()
    assert bad[-2:] == ["&", "a<b"] and "x" not in bad, "words alone, each once"


def test_few_designs_need_no_sentence() -> None:
    few = season((QUAY, KNIT, TILE))
    assert finder(few, occasions(few), Tongue()) is None
    made = build(few, Theme("quay"), with_pdf=False)
    assert "finder" not in made["index.html"].decode().partition("<body")[2]


def test_an_occasion_has_a_page_for_who_has_no_script() -> None:
    made = build(season(EVERY), Theme("quay"), with_pdf=False)
    wedding = Read(made["for/wedding.html"].decode())
    led = {r for r in wedding.references if r.startswith("../designs/")}
    assert led == {"../designs/quay-photo.html", "../designs/tile.html", "../designs/jib.html"}
    front = Read(made["index.html"].decode())
    assert {"for/wedding.html", "for/boat.html", "for/gift.html"} <= set(front.references)


def test_occasions_of_one_plain_name_are_told_apart() -> None:
    some = (entry("a", "A", occasions=("Fête",)), entry("b", "B", occasions=("fete", "عيد")))
    addresses = [one.address for one in occasions(season(some))]
    assert len(set(addresses)) == 3 and all(a.isascii() for a in addresses)
    assert {"for/fete.html", "for/fete-2.html"} < set(addresses)


# -- in a browser ------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("found")
    for name, content in build(season(EVERY), Theme("quay"), with_pdf=False).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture
def visit(browser: Browser, site: Path) -> Iterator[Callable[..., Page]]:
    wrong: list[str] = []
    contexts = []

    def go(after: str = "", **options: object) -> Page:
        contexts.append(browser.new_context(**options))  # type: ignore[arg-type]
        page = contexts[-1].new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        page.goto((site / "index.html").as_uri() + after)
        return page

    yield go
    for context in contexts:
        context.close()
    assert wrong == []


def shown(page: Page) -> list[str]:
    return page.locator("#designs ~ ul li:not([hidden]) .name").all_text_contents()


def titles(*entries: Entry) -> list[str]:
    return [one.title for one in entries]


def test_each_wish_and_all_together(visit: Callable[..., Page]) -> None:
    page = visit()
    assert shown(page) == titles(*EVERY)
    page.select_option("#find-for", "wedding")
    assert shown(page) == titles(QUAY, TILE, JIB)
    page.select_option("#find-price", "10")
    assert shown(page) == titles(QUAY, TILE), "by its cheapest piece"
    page.select_option("#find-on", "slim")
    assert shown(page) == [], "that piece costs more"
    assert "No design answers" in page.locator("#find-told").text_content()
    page.select_option("#find-price", "20")
    assert shown(page) == titles(QUAY)
    assert page.locator("#find-told").text_content() == "Shown: 1 of 4 designs."
    page.click("#find-all")
    assert shown(page) == titles(*EVERY) and "#" not in page.url
    assert page.evaluate("document.activeElement.id") == "find-fill"


def test_words_are_found_as_one_types(visit: Callable[..., Page]) -> None:
    page = visit()
    page.locator("#find-words").press_sequentially("cafe")
    assert shown(page) == titles(JIB), "marks on letters are no hindrance"
    page.fill("#find-words", "uber sails")
    assert shown(page) == titles(JIB)
    page.fill("#find-words", "golden cafe")
    assert shown(page) == titles(JIB), "one of two words is enough where no design has both"
    page.fill("#find-words", "zebra")
    assert shown(page) == []
    page.fill("#find-words", "<img src=x onerror=alert(1)>")
    assert page.locator("main img[onerror]").count() == 0


def test_what_is_asked_stands_in_the_address(visit: Callable[..., Page]) -> None:
    page = visit()
    page.select_option("#find-for", "wedding")
    page.fill("#find-words", "jib")
    after = page.evaluate("location.hash")  # what the driver knows of it may be older
    assert after == "#for=wedding&words=jib"
    again = visit(after)
    assert shown(again) == titles(JIB)
    assert again.input_value("#find-for") == "wedding" and again.input_value("#find-words") == "jib"
    odd = visit("#for=nothing-such&price=1e9&on=%3Cscript%3E")
    assert shown(odd) == titles(*EVERY), "what is no choice is no wish"


def test_it_is_asked_by_keys_and_told_to_who_listens(visit: Callable[..., Page]) -> None:
    page = visit()
    page.focus("#find-for")
    page.keyboard.press("ArrowDown")
    assert page.input_value("#find-for") == "boat" and shown(page) == titles(JIB)
    assert page.get_by_role("search", name="Find a design").is_visible()
    assert page.get_by_role("combobox", name="Occasion").count() == 1
    assert page.get_by_role("status").text_content() == "Shown: 1 of 4 designs."


def test_without_script_nothing_pretends(visit: Callable[..., Page]) -> None:
    page = visit(java_script_enabled=False)
    assert not page.locator(".finder").is_visible()
    assert page.locator(".occasions a").first.is_visible()
