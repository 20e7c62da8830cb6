"""The maker's page of findings, in a browser: by order, worst first, prints at their real size."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from proofgen.model import Finding, OrderFindings
from proofgen.render import Theme
from proofgen.reports import Print, findings_document, findings_page, order_told

MM = 96 / 25.4  # CSS px
HOSTILE = '<script>alert(1)</script><img src=x onerror=alert(2)>"\u202e'


def finding(status: str = "warn", **more: object) -> Finding:
    given: dict[str, object] = {
        "check": "photo/effective-resolution",
        "code": "soft",
        "status": status,
        "says": f"This is a {status}.",
        "where": "orders/fenn/order.yaml:9, photo",
        "cure": "Ask for the original.",
        "measure": 92.04,
        "limit": 120.0,
        "line": 1,
        "about": "photo-3f2a1b",
    }
    return Finding(**{**given, **more})  # type: ignore[arg-type]


def jpeg() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (170, 100), "#b0703a").save(out, "JPEG")
    return out.getvalue()


PRINT = Print(jpeg=jpeg(), width_mm=85.0, height_mm=50.0, alt="pier.jpg: a part")
ORDERS = [
    OrderFindings(order="quill", edition=2, findings=[finding("pass", says="All is well.")]),
    OrderFindings(
        order="fenn",
        edition=0,
        findings=[
            finding("stop", code="too-coarse"),
            finding("warn", check="words/weekday", about="name-aaaaaa", cure="", measure=None),
            finding("note", check="photo/location", says="It says where it was taken."),
            finding("pass"),
        ],
    ),
    OrderFindings(
        order="mistry", edition=1, findings=[finding("stop", accepted="She has no other.")]
    ),
    OrderFindings(order="pell", edition=1, findings=[finding("warn", says=HOSTILE)]),
]
PRINTS = {("fenn", 1, "photo-3f2a1b"): PRINT}


def made(orders: list[OrderFindings] = ORDERS, theme: str = "quay") -> str:
    dress = Theme(theme, "en", "EUR")
    return findings_page(
        [order_told(one, PRINTS, dress) for one in orders],
        dress,
        shop_name="Tern Row Press Room",
        day=date(2026, 11, 25),
    )


@pytest.fixture
def visit(browser: Browser, tmp_path: Path) -> Iterator[Callable[..., Page]]:
    """The page opened at a width; faults of script or policy fail the test."""
    opened, faults = [], []

    def go(width: int, html: str | None = None, **options: object) -> Page:
        file = tmp_path / "findings.html"
        file.write_text(made() if html is None else html, "utf-8")
        context = browser.new_context(viewport={"width": width, "height": 900}, **options)  # type: ignore[arg-type]
        opened.append(context)
        page = context.new_page()
        page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
        page.on("dialog", lambda dialog: faults.append(dialog.message))
        asked: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(file.as_uri())
        page.wait_for_load_state("networkidle")
        assert all(url.startswith(("data:", file.as_uri())) for url in asked), asked
        return page

    yield go
    for context in opened:
        context.close()
    assert faults == []


@pytest.mark.browser
@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_is_wider_than_the_page_and_prints_keep_their_size(
    visit: Callable[..., Page], width: int
) -> None:
    page = visit(width)
    assert page.evaluate("document.documentElement.scrollWidth") == width
    box = page.locator(".real image").bounding_box()
    assert box is not None
    assert (box["width"], box["height"]) == pytest.approx((85 * MM, 50 * MM), abs=0.6)
    if width >= 390:  # a telephone shows the whole print
        assert box["x"] + box["width"] <= width


@pytest.mark.browser
def test_orders_stand_worst_first_and_a_photo_beside_all_that_was_said_of_it(
    visit: Callable[..., Page],
) -> None:
    page = visit(1280)
    heads = page.locator("h2").all_inner_texts()
    assert heads == ["fenn", "pell, proof 1", "mistry, proof 1", "quill, proof 2"]
    assert page.inner_text(".lead").endswith(
        "4 orders: 1 is stopped, 1 asks for a look, 2 are in order."
    )
    beside = page.locator(".pictured .finding")
    assert [t.split("\n")[0].split()[-1] for t in beside.all_inner_texts()] == ["Stop", "Note"]
    print_box = page.locator(".pictured .real").bounding_box()
    text_box = beside.first.bounding_box()
    assert print_box and text_box and print_box["x"] >= text_box["x"] + text_box["width"]
    assert page.locator("#mistry .finding .status").inner_text().endswith("Accepted")
    assert "Accepted, because: She has no other." in page.inner_text("#mistry")


@pytest.mark.browser
def test_every_link_leads_to_its_order_and_stops_say_how_to_go_on(
    visit: Callable[..., Page],
) -> None:
    page = visit(390)
    for link in page.locator(".contents a").all():
        target = link.get_attribute("href")
        assert target and page.locator(target).count() == 1
    page.click("text=Let it through")
    assert (
        page.inner_text("code") == 'proofgen check fenn --accept effective-resolution --because "…"'
    )
    assert page.locator("#mistry code").count() == 0


@pytest.mark.browser
def test_hostile_words_stay_words(visit: Callable[..., Page]) -> None:
    page = visit(1280)
    assert page.locator("script, img").count() == 0
    assert "<script>alert(1)</script>" in page.inner_text("#pell .says")


def test_page_and_document_tell_the_same() -> None:
    html = made()
    shown = re.findall(r'<p class="says">(.*?)</p>', html)
    told = [
        f
        for order in findings_document(ORDERS)["orders"]
        for f in order["findings"]
        if f["status"] != "pass"
    ]
    assert len(shown) == len(told) == 5
    for one in told:
        assert one["check"] in html


def test_the_page_loads_nothing_and_hides_from_search() -> None:
    html = made()
    assert "default-src &#39;none&#39;" in html and 'content="noindex' in html
    assert "http" not in re.sub(r"data:[^\"]*|http://www\.w3\.org/2000/svg|http-equiv", "", html)
    assert " style=" not in html


def test_no_order_is_told_as_such() -> None:
    assert "There is no open order to look at." in made([])
    one = made([ORDERS[0]])
    assert "1 order: 1 is in order." in one and 'class="contents"' not in one
