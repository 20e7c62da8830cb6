"""From the shop folder to the press sheet as people walk it, with the customer in a browser."""

from __future__ import annotations

import contextlib
import re
import unicodedata
from collections.abc import Iterator
from email.message import EmailMessage
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.serving import served
from tests.slips import WORDS, code_beside
from tests.whole.running import (
    command,
    copy_of_demo,
    page_of,
    sheets_of,
    state_of,
)

pytestmark = [pytest.mark.whole, pytest.mark.browser]

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "device_scale_factor": 2}
DESKTOP = {"viewport": {"width": 1280, "height": 900}}
CUSTOMER = "Zoë Núñez-Fenn"
BY_PHONE, BY_KEYBOARD = "fenn-harbour", "marchetti-boat"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two orders of the demo, built."""
    folder = copy_of_demo(tmp_path_factory.mktemp("walk") / "shop", BY_PHONE, BY_KEYBOARD)
    command(folder, "build")
    return folder


class Visit:
    """A page that is watched: what came from where, and what went wrong."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.home = address.rsplit("/", 1)[0] + "/"
        self.came: list[str] = []
        self.wrong: list[str] = []
        # By what came, not by what was asked: a browser tells of asking for what it then refuses.
        context.on("response", lambda answer: self.came.append(answer.url))
        context.on("requestfailed", lambda asked: self.wrong.append(f"failed: {asked.url}"))
        context.clock.set_fixed_time("2026-11-25T18:40:00Z")
        self.page = context.new_page()
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on(
            "console", lambda said: self.wrong.append(said.text) if said.type == "error" else None
        )
        self.page.goto(address)

    def is_clean(self) -> None:
        """No error, every picture there, and nothing that came from outside the page's folder."""
        assert self.wrong == []
        outside = [url for url in self.came if not url.startswith((self.home, "data:"))]
        assert outside == []
        assert len([url for url in self.came if url.endswith((".jpg", ".webp"))]) >= 5


@contextlib.contextmanager
def visiting(browser: Browser, address: str, **options: object) -> Iterator[Visit]:
    context = browser.new_context(**options)  # type: ignore[arg-type]
    try:
        visit = Visit(context, address)
        yield visit
        visit.is_clean()
    finally:
        context.close()


def see_everything(page: Page) -> None:
    """Scroll through, so that what loads late has loaded."""
    for picture in page.locator("img").all():
        if picture.is_visible():
            picture.scroll_into_view_if_needed()
    page.wait_for_load_state("networkidle")


def mail_with(slip: str, *, subject: str) -> bytes:
    """A reply as a mail program sends it: quoted-printable, CRLF, a greeting above."""
    mail = EmailMessage()
    mail["From"] = "Zoe Fenn <zoe@fenn.example>"
    mail["To"] = "hello@ternrow.example"
    mail["Subject"] = subject
    mail["Date"] = "Wed, 25 Nov 2026 18:45:00 +0000"
    words = "how lovely – here it is, and thank you all for the care you take with our picture."
    mail.set_content(f"Hello,\n\n{words}\n\n{slip}\nZoë\n", cte="quoted-printable")
    sent = mail.as_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")
    assert b"=C3=AB" in sent and b"=\r\n" in sent  # accents and soft line breaks: both are in it
    return sent


def test_by_telephone_screen_from_proof_to_sheet_and_one_letter(
    browser: Browser, shop: Path, tmp_path: Path
) -> None:
    page_file = page_of(shop, BY_PHONE)
    permissions = ["clipboard-read", "clipboard-write"]
    with visiting(browser, page_file.as_uri(), **PHONE, permissions=permissions) as visit:
        slip = fill_and_copy(visit.page)
    (tmp_path / "mail.eml").write_bytes(mail_with(slip, subject="Answer"))
    said = command(shop, "answer", str(tmp_path / "mail.eml")).out
    assert f"from {CUSTOMER} to proof 1 of {BY_PHONE} is recorded" in said
    assert state_of(shop, BY_PHONE)["state"] == "words" and "how lovely – here it is, and" in said
    command(shop, "press", BY_PHONE, exits=4)
    assert "how lovely" in command(shop, "answer", BY_PHONE, "--read").out
    assert state_of(shop, BY_PHONE)["state"] == "signed"
    document = command(shop, "press", BY_PHONE, "--json").document
    files = [
        *{sheet["file"] for sheet in document["sheets"]},
        *document["tickets"],
        *document["packing"],
    ]
    made = [Path(file).name for file in files]
    assert sorted(made) == sheets_of(shop, BY_PHONE)
    assert f"{BY_PHONE}-ticket.pdf" in made and len(made) >= 2
    before = {name: (shop / "workroom" / "press" / name).read_bytes() for name in made}
    assert all(content.startswith(b"%PDF-") for content in before.values())
    one_letter_changes(shop)
    # Put back as it was signed, it may be pressed again, to the byte.
    command(shop, "press", BY_PHONE)
    after = {name: (shop / "workroom" / "press" / name).read_bytes() for name in made}
    assert after == before


def fill_and_copy(page: Page) -> str:
    """Choose OK, tick all, type the name, write the slip, copy it; the slip."""
    see_everything(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.tap(".bar a")
    page.tap("label:has(#answer-ok)")
    for box in page.locator("#answer-form input[type=checkbox]").all():
        box.tap()
    page.locator("#answer-name").press_sequentially(unicodedata.normalize("NFD", CUSTOMER))
    page.tap("#answer-form button[type=submit]")
    page.tap("#unread-read")
    page.tap("#slip-copy")
    expect(page.locator("#slip-note")).to_have_text(re.compile("Copied"))
    slip = str(page.evaluate("navigator.clipboard.readText()"))
    assert slip == page.input_value("#slip-text")
    assert f"Name: {CUSTOMER}" in slip  # composed, as the tool keeps it
    assert len(slip.split("BEGIN")[0]) <= 300
    return slip


def one_letter_changes(shop: Path) -> None:
    """Odalys becomes Odalis: nothing of the order may be pressed, and the reason is said."""
    order = shop / "orders" / BY_PHONE / "order.yaml"
    signed = order.read_text("utf-8")
    changed = signed.replace('name: "Odalys', 'name: "Odalis')
    assert changed != signed
    order.write_text(changed, "utf-8")
    refused = command(shop, "press", BY_PHONE, exits=4)
    assert "Odalys & Bram" in refused.err and "Odalis & Bram" in refused.err
    assert BY_PHONE in refused.err and "name" in refused.err
    assert sheets_of(shop, BY_PHONE) == []
    assert state_of(shop, BY_PHONE)["state"] == "voided"
    # Nor by the ways that name no order.
    command(shop, "press")
    command(shop, "build")
    assert sheets_of(shop, BY_PHONE) == []
    order.write_text(signed, "utf-8")


def test_without_script_by_telephone_then_on_a_desk_by_keyboard_alone(
    browser: Browser, shop: Path, tmp_path: Path
) -> None:
    page_file = page_of(shop, BY_KEYBOARD)
    with visiting(browser, page_file.as_uri(), **PHONE, java_script_enabled=False) as visit:
        see_everything(visit.page)
        assert not visit.page.is_visible("#answer-form")
        text = visit.page.inner_text("body")
    change = code_beside(text, WORDS["change"])
    old_ok = code_beside(text, WORDS["ok"])
    # As it is heard: in small letters, O for nought and l for one.
    heard = change.lower().replace("0", "o").replace("1", "l").replace("-", " ")
    said = command(shop, "answer", "-", typed=heard + "\n").out
    assert f"proof 1 of {BY_KEYBOARD} is recorded" in said
    assert state_of(shop, BY_KEYBOARD)["state"] == "changes"
    command(shop, "press", BY_KEYBOARD, exits=4)
    assert sheets_of(shop, BY_KEYBOARD) == []
    command(shop, "proof", BY_KEYBOARD, "--again")
    assert page_of(shop, BY_KEYBOARD) == page_file  # one link for every edition
    with served(shop) as (site, _):
        address = f"{site}/p/{page_file.parent.name}/index.html"
        with visiting(browser, address, **DESKTOP) as visit:
            see_everything(visit.page)
            answer_by_keyboard(visit.page, tmp_path / "slip.txt")
    refused = command(shop, "answer", "-", typed=old_ok, exits=4)
    assert "proof 2 is the current one" in refused.err
    said = command(shop, "answer", str(tmp_path / "slip.txt")).out
    assert f"to proof 2 of {BY_KEYBOARD} is recorded" in said
    command(shop, "press", BY_KEYBOARD)
    assert f"{BY_KEYBOARD}-ticket.pdf" in sheets_of(shop, BY_KEYBOARD)


def answer_by_keyboard(page: Page, target: Path) -> None:
    """From the top of the page to the saved slip without a mouse."""
    assert page.inner_text("h1").startswith("Proof 2")
    focused = (
        "[document.activeElement.id, document.activeElement.name, document.activeElement.type]"
    )
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # the skip link leads to the answer
    for _ in range(60):
        page.keyboard.press("Tab")
        name, field, kind = page.evaluate(focused)
        if name == "answer-ok" or (field in ("print", "show") and kind == "checkbox"):
            page.keyboard.press("Space")
        elif name == "answer-name":
            page.keyboard.type("Zoë Marchetti")
        elif kind == "submit":
            page.keyboard.press("Enter")
            assert page.evaluate(focused)[0] == "unread-read"
            page.keyboard.press("Enter")
            break
    assert page.is_checked("#answer-ok")
    page.wait_for_selector("#slip-result", state="visible")
    for _ in range(10):
        page.keyboard.press("Tab")
        if page.evaluate(focused)[0] == "slip-save":
            break
    with page.expect_download() as waiting:
        page.keyboard.press("Enter")
    waiting.value.save_as(target)
    assert "Name: Zoë Marchetti" in target.read_text("utf-8")
