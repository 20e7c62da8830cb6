"""The maker's own pages in a browser: checkers find nothing, commands are copied, orders found."""

from __future__ import annotations

import re
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests import serving
from tests.cli.small import code_seen, make_shop, order_text, reword, run, write
from tests.page_checkers import axe_faults, nu_faults

pytestmark = [pytest.mark.whole, pytest.mark.browser]
HOUSE = Path(__file__).resolve().parents[2]
_LONG = "Wolfeschlegelsteinhausenbergerdorff-Featherstonehaugh-Cholmondeley"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Orders in many states: signed, changed since, out, with words, with a long name, broken."""
    names = ("signed", "changed", "out", "words", "long", "broken", "draft")
    made = make_shop(tmp_path_factory.mktemp("workroom") / "my shop", *names)
    write(made / "orders" / "long" / "order.yaml", order_text(customer=_LONG))
    run(made, "proof", *(n for n in names if n != "draft")).ended(0)
    run(made, "letter", "out", "--sent").ended(0)
    for order in ("signed", "changed"):
        run(made, "answer", code_seen(made, "ok", order)).ended(0)
    run(made, "press", "signed").ended(0)
    reword(made, "changed", "Bram & Odalys")
    words = 'Could it say "ø", please? ' + "ø" * 80
    said = f"Subject: Re: words\n\n{words}\n{code_seen(made, 'ok', 'words')}\n"
    run(made, "answer", write(made / "mail.txt", f"From: someone@fenn.example\n{said}"))
    write(made / "orders" / "broken" / "order.yaml", "customer: [")
    run(made, "build")
    run(made, "press", "--plan")
    return made


@pytest.fixture(scope="module")
def pages(shop: Path) -> list[Path]:
    found = [shop / "workroom" / "index.html", *sorted(shop.glob("workroom/orders/*.html"))]
    assert len(found) == 8
    return found


@pytest.fixture
def screen(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(bypass_csp=True, viewport={"width": 390, "height": 800})
    yield context.new_page()
    context.close()


def test_axe_finds_nothing_and_no_page_is_too_wide(pages: list[Path], screen: Page) -> None:
    told = []
    for page in pages:
        screen.goto(page.as_uri())
        for width, scheme in ((320, "light"), (390, "dark"), (1440, "dark")):
            screen.set_viewport_size({"width": width, "height": 800})
            screen.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            told += [f"{page.name} {width}: {fault}" for fault in axe_faults(screen)]
            wide = screen.evaluate("document.documentElement.scrollWidth")
            told += [f"{page.name} is {wide} px wide at {width}"] * (wide > width)
    assert told == []


def test_the_nu_checker_finds_nothing(pages: list[Path], tmp_path: Path) -> None:
    assert nu_faults(pages, tmp_path) == []


def test_a_command_is_copied_as_one_line(shop: Path, browser: Browser) -> None:
    """From a file, with the page's own policy in force."""
    context = browser.new_context(permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    page.goto((shop / "workroom" / "orders" / "signed.html").as_uri())
    typed = page.locator(".typed").first
    typed.get_by_role("button", name="Copy").click()
    # The clipboard answers when it likes: the button says so afterwards.
    expect(typed.get_by_role("button", name="Copied")).to_be_visible()
    page.set_content("<textarea></textarea>")
    page.locator("textarea").focus()
    page.keyboard.press("Control+V")
    pasted = page.locator("textarea").input_value()
    assert pasted.endswith(f" --shop '{shop}' press signed --done") and "\n" not in pasted
    context.close()


def test_where_nothing_may_be_copied_the_line_is_marked(shop: Path, screen: Page) -> None:
    screen.add_init_script(
        "Object.defineProperty(navigator, 'clipboard', {value: undefined});"
        "document.execCommand = () => false;"
    )
    screen.goto((shop / "workroom" / "index.html").as_uri())
    typed = screen.locator("#order-signed .typed").first
    typed.get_by_role("button").click()
    expect(typed.get_by_role("button")).to_contain_text("Ctrl+C")
    marked = screen.evaluate("getSelection().toString()")
    assert marked.endswith(f" --shop '{shop}' press signed --done") and "\n" not in marked


def test_the_search_leaves_the_orders_that_hold_all_words(shop: Path, screen: Page) -> None:
    screen.goto((shop / "workroom" / "index.html").as_uri())
    assert screen.locator(".order:visible").count() == 7
    screen.get_by_label("Look for a name or a word").fill("featherstone cholm")
    assert screen.locator(".order:visible").count() == 1
    assert screen.locator("main > section:visible").count() == 1
    assert screen.get_by_role("status").inner_text() == "1 of 7 are shown"


def test_without_script_links_lead_to_each_part(shop: Path, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((shop / "workroom" / "index.html").as_uri())
    parts = re.findall(r'<section id="(\w+)"', page.content())
    assert parts == ["you", "press", "customers"]
    for part in parts:
        page.locator(f'.lead a[href="#{part}"]').click()
        assert page.locator(f"section#{part} h2").is_visible()
    assert page.locator("button, .search").locator("visible=true").count() == 0
    context.close()


# -- served ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def served(shop: Path) -> Iterator[str]:
    """Where the workroom is served."""
    with serving.served(shop) as (_, workroom):
        yield workroom


def asked(url: str, **headers: str) -> int:
    request = urllib.request.Request(url, headers=headers)
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
            return int(answer.status)
    except urllib.error.HTTPError as error:
        return error.code


def test_served_pages_lead_to_what_they_lead_to_as_files(
    shop: Path, served: str, screen: Page
) -> None:
    screen.goto(served)
    screen.get_by_role("link", name="signed", exact=True).click()
    screen.wait_for_url(f"{served}/workroom/orders/signed.html")
    links = screen.locator(".files a").evaluate_all("all => all.map((one) => one.href)")
    assert len(links) >= 8 and {asked(link) for link in links} == {200}
    broken = "[...document.images].filter((one) => one.complete && !one.naturalWidth).length"
    assert screen.evaluate(broken) == 0


@pytest.mark.parametrize(
    "path",
    [
        "shop.yaml", "records/journal.jsonl", "orders/signed/order.yaml", "workroom/", "site",
        "workroom/orders/", "workroom/orders/signed.json", "workroom/findings.json",
        "workroom/.lock", "workroom/tickets.json", "workroom/press/", "records/",
        "workroom/orders/..%2f..%2fshop.yaml", "workroom/letters/../../shop.yaml",
        "site/../shop.yaml", "site/%2e%2e/records/journal.jsonl", "site/..%5cshop.yaml",
    ],
)  # fmt: skip
def test_nothing_else_of_the_folder_is_served(shop: Path, served: str, path: str) -> None:
    assert asked(f"{served}/{path}") == 404


def test_a_page_of_somebody_else_is_not_told_anything(served: str) -> None:
    page = f"{served}/workroom/index.html"
    assert asked(page) == 200
    assert asked(page, Host="evil.example") == 403
    port = served.rpartition(":")[2]
    assert asked(page, Host=f"evil.example:{port}") == 403
    assert asked(page, Host=f"localhost:{port}") == 200
