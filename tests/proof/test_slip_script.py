"""The page's script writes the same slip as the tool, letter for letter."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Page, expect

from proofgen.render import carried
from proofgen.signoff.blocks import read_blocks
from tests.proof.sample import KEY

pytestmark = pytest.mark.browser

FINGERPRINT = hashlib.sha256(b"sample").hexdigest()

# FIPS 180-4's own examples, as published with the standard by NIST ("abc", two blocks), and RFC
# 6234 section 8.5 for the longer ones.
SHA256 = {
    "": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    "abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": (
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
    ),
    "01234567" * 80: "594847328451bdfa85056225462cc1d867d877fb388df0ce35f25ab5562bfbb5",
    "a" * 1_000_000: "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
}

# RFC 4231, test cases 1 to 4, 6 and 7 (5 is about a shortened code).
HMAC = [
    ("0b" * 20, "4869205468657265",
     "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"),
    ("4a656665", "7768617420646f2079612077616e7420666f72206e6f7468696e673f",
     "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"),
    ("aa" * 20, "dd" * 50, "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe"),
    ("0102030405060708090a0b0c0d0e0f10111213141516171819", "cd" * 50,
     "82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b"),
    ("aa" * 131, "54657374205573696e67204c6172676572205468616e20426c6f636b2d53697a65204b6579202d"
     "2048617368204b6579204669727374",
     "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54"),
    ("aa" * 131, "5468697320697320612074657374207573696e672061206c6172676572207468616e20626c6f63"
     "6b2d73697a65206b657920616e642061206c6172676572207468616e20626c6f636b2d73697a6520646174612e20"
     "546865206b6579206e6565647320746f20626520686173686564206265666f7265206265696e6720757365642062"
     "792074686520484d414320616c676f726974686d2e",
     "9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2"),
]  # fmt: skip


def test_hash_agrees_with_the_published_examples(visit: Callable[..., Page]) -> None:
    page = visit()
    for text, expected in SHA256.items():
        said = page.evaluate("t => toHex(sha256(new TextEncoder().encode(t)))", text)
        assert said == expected, text[:60]


def test_hash_agrees_at_every_length_round_a_block(visit: Callable[..., Page]) -> None:
    said = visit().evaluate(
        "Array.from({length: 200}, (_, n) => toHex(sha256(new Uint8Array(n).fill(n))))"
    )
    assert said == [hashlib.sha256(bytes([n]) * n).hexdigest() for n in range(200)]


@pytest.mark.parametrize("case", range(len(HMAC)))
def test_code_agrees_with_rfc_4231(visit: Callable[..., Page], case: int) -> None:
    key, data, expected = HMAC[case]
    said = visit().evaluate("([k, d]) => toHex(hmacSha256(fromHex(k), fromHex(d)))", [key, data])
    assert said == expected


def filled(page: Page, answer: str = "ok", **fields: str) -> None:
    page.check(f"#answer-{answer}")
    for name, text in {"name": "Odalys Fenn", **fields}.items():
        page.fill(f"#answer-{name}", text)
    page.click("#answer-form button[type=submit]")
    if page.is_visible("#ask-unread"):
        page.click("#unread-read")


def slip_of(page: Page) -> str:
    page.wait_for_selector("#slip-result", state="visible")
    return page.input_value("#slip-text")


def payload_of(page: Page) -> dict[str, Any]:
    """What the slip carries, once the reader believed it."""
    (block,) = read_blocks(slip_of(page))
    assert block.payload is not None
    assert block.fits(KEY, FINGERPRINT)
    return {**block.payload}


def test_the_form_becomes_a_slip_that_the_tool_believes(visit: Callable[..., Page]) -> None:
    page = visit()
    page.check("#answer-show")
    filled(page, "change", note="“Zoe” → “Zoë”\n\nthanks\ud83d ")
    payload = payload_of(page)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", payload.pop("time"))
    assert payload == {
        "v": 2,
        "answer": "change",
        "edition": 2,
        "name": "Odalys Fenn",
        "note": "“Zoe” → “Zoë”\n\nthanks\ufffd",
        "order": "fenn",
        "show": True,
    }


def test_a_text_cut_at_its_limit_has_no_half_letter(visit: Callable[..., Page]) -> None:
    said = visit().evaluate("limited(' ' + 'a'.repeat(199) + '\\u{1F600}', 200)")
    assert said == "a" * 199 + "\ufffd"


def mail_fields(page: Page) -> dict[str, str]:
    slip_of(page)
    link = page.get_attribute("#slip-open", "href") or ""
    assert page.is_visible("#slip-open")
    assert len(link) <= 1800
    assert re.fullmatch(r"[A-Za-z0-9:@?&=.%_~!*'()-]+", link)
    parts = urlsplit(link)
    assert parts.path == "hello@ternrow.example"
    return {key: value for key, (value,) in parse_qs(parts.query, strict_parsing=True).items()}


def test_the_mail_link_carries_the_whole_slip_and_is_encoded(visit: Callable[..., Page]) -> None:
    page = visit()
    filled(page, note="50% & more? #1 +1")
    fields = mail_fields(page)
    body, slip = fields["body"].split(), page.input_value("#slip-text").split()
    assert "".join(body) == "".join(slip)  # but for the spaces between its groups
    assert fields["subject"] == "Answer to proof 2 of order fenn"
    assert not page.is_visible("#slip-long")


STORY = " ".join(f"word{n * 7919 % 1009}" for n in range(400))  # too many to be packed away
SHARES = "navigator.share = (given) => { window.given = given; return Promise.resolve(); };"


def test_an_answer_no_mail_can_hold_is_copied_and_never_goes_by_halves(
    visit: Callable[..., Page], tmp_path: Path
) -> None:
    page = visit()
    filled(page, "change", note=STORY)
    slip = slip_of(page)
    assert not page.is_visible("#slip-open") and not page.is_visible("#slip-share")
    assert page.get_attribute("#slip-open", "href") == "#slip-long"
    link = page.get_attribute("#slip-paste-mail", "href") or ""
    (subject,), (body,) = parse_qs(urlsplit(link).query).values()
    assert subject == slip.splitlines()[0]
    assert body.strip() == "Please paste your answer here, in place of this line."
    page.evaluate("navigator.clipboard.writeText = async text => { window.copied = text; }")
    page.click("#slip-take")
    page.wait_for_function("document.querySelector('#slip-took').textContent")
    assert page.evaluate("window.copied") == slip
    with page.expect_download() as waiting:
        page.click("#slip-save")
    waiting.value.save_as(tmp_path / "a.txt")
    assert (tmp_path / "a.txt").read_text("utf-8") == slip
    assert payload_of(page)["note"] == STORY


def test_a_telephone_hands_a_long_answer_on_whole(visit: Callable[..., Page]) -> None:
    page = visit()
    page.evaluate(SHARES)
    filled(page, "change", note=STORY)
    slip = slip_of(page)
    assert not page.is_visible("#slip-open") and page.is_visible("#slip-long")
    page.click("#slip-share")
    assert page.evaluate("window.given") == {"title": slip.splitlines()[0], "text": slip}


def test_two_corrections_and_a_note_fit_into_a_mail(visit: Callable[..., Page]) -> None:
    page = visit()
    page.evaluate(
        """() => {
      draft.texts["text-2"] = { now: "Małgorzata Ferreira-Dąbrowska" };
      draft.texts["text-3"] = { now: "Anneliese Lindström-Mac Cárthaigh" };
      changed();
    }"""
    )
    filled(page, "change", note="Und bitte den Himmel etwas heller, sonst ist alles schön. " * 6)
    (block,) = read_blocks(mail_fields(page)["body"])
    assert block.fits(KEY, FINGERPRINT) and block.payload is not None
    assert len(block.payload["changes"]) == 2 and len(block.payload["note"]) > 300


def test_a_mail_says_which_words_change_and_what_was_noted(visit: Callable[..., Page]) -> None:
    """It counted them: “Words to change: 1 · A note is with it.”"""
    page = visit()
    page.evaluate("draft.texts['text-2'] = { now: 'Małgorzata' }; changed()")
    note = "Und bitte den Himmel etwas heller, sonst ist alles schön. " * 6
    filled(page, "change", note=note)
    read = mail_fields(page)["body"].partition("BEGIN ANSWER CODE")[0]
    assert "“Małgorzata”" in read and note.strip() in read and "Words to change" not in read


def test_a_yes_says_what_it_is_given_for(visit: Callable[..., Page]) -> None:
    page = visit()
    line = "6 × Harbour photo, can sleeve, white · €78.00 · ready on Friday, 18 December"
    page.evaluate("line => { facts.given_for = [line]; }", line)
    filled(page)
    assert line in mail_fields(page)["body"].splitlines()
    assert payload_of(page)["answer"] == "ok", "the code is what it was"
    filled(page, "change", note="More sky.")
    assert line not in mail_fields(page)["body"]


def test_a_prepared_answer_is_told_of_after_a_reload(visit: Callable[..., Page]) -> None:
    """Nothing showed that one had answered."""
    page = visit()
    assert page.is_hidden("#prepared")
    filled(page)
    slip = slip_of(page)
    page.reload()
    assert "You prepared your answer “Yes” on" in page.inner_text("#prepared")
    page.click("#prepared-show")
    assert slip_of(page) == slip and page.is_visible("#slip-open")
    page.fill("#answer-note", "With love")  # what was prepared no longer stands there
    page.reload()
    assert page.is_hidden("#prepared")
    filled(page)
    slip_of(page)
    page.evaluate("forgetDrafts()")  # as a newer proof does
    page.reload()
    assert page.is_hidden("#prepared")


def test_boxes_show_whole_rows(visit: Callable[..., Page]) -> None:
    page = visit(viewport={"width": 390, "height": 800})
    page.check("#answer-change")
    heights = []
    for rows in (1, 9, 60):
        page.fill("#answer-note", "\n".join(["Ida"] * rows))
        heights.append(page.evaluate("note.clientHeight"))
        style = "parseFloat(getComputedStyle(note).{})"
        row, padding = (page.evaluate(style.format(of)) for of in ("lineHeight", "paddingTop"))
        whole = (heights[-1] - 2 * padding) / row
        assert abs(whole - round(whole)) < 0.1
    assert heights[0] < heights[1] < heights[2] <= 400
    filled(page, "change", note="\n".join(["Ida"] * 60))
    slip_of(page)
    assert page.evaluate("slip.scrollHeight - slip.clientHeight") <= 1, "the page scrolls"


def test_a_link_closes_up_the_code_alone(visit: Callable[..., Page]) -> None:
    for kind in ("ORDER", "ANSWER"):
        text = f"HI MUM\n\nBEGIN {kind} CODE\nAB12C DE34F\nGH5\nEND {kind} CODE\nHI DAD\n"
        closed = visit().evaluate("text => closedUp(text)", text)
        assert closed == text.replace("AB12C DE34F\nGH5", "AB12CDE34FGH5")


def test_the_slip_can_be_saved_as_it_stands(visit: Callable[..., Page], tmp_path: Path) -> None:
    page = visit()
    filled(page)
    slip_of(page)
    with page.expect_download() as waiting:
        page.click("#slip-save")
    assert waiting.value.suggested_filename == "answer-fenn-proof-2.txt"
    waiting.value.save_as(tmp_path / "a.txt")
    assert (tmp_path / "a.txt").read_text("utf-8") == page.input_value("#slip-text")


def test_the_slip_can_be_copied(visit: Callable[..., Page]) -> None:
    page = visit(permissions=["clipboard-read", "clipboard-write"])
    filled(page)
    slip_of(page)
    page.click("#slip-copy")
    expect(page.locator("#slip-note")).to_contain_text(re.compile("^Copied"))
    assert page.evaluate("navigator.clipboard.readText()") == page.input_value("#slip-text")


def test_paper_holds_the_whole_slip_and_nothing_else(visit: Callable[..., Page]) -> None:
    page = visit()
    filled(page, "change", note="A long story. " * 250)
    slip = slip_of(page)
    page.evaluate("window.print = () => { window.printed = document.body.className; }")
    page.click("#slip-print")
    assert "print-slip" in page.evaluate("window.printed")
    page.evaluate("document.body.classList.add('print-slip')")
    page.emulate_media(media="print")
    paper = page.locator("#slip-paper")
    assert paper.is_visible() and paper.text_content() == slip
    room = paper.evaluate("e => [e.scrollHeight - e.clientHeight, e.scrollWidth - e.clientWidth]")
    assert max(room) <= 1  # nothing of it is cut off
    assert not page.is_visible("h1") and not page.is_visible("#slip-text")


def test_a_changed_form_takes_its_slip_back(visit: Callable[..., Page]) -> None:
    page = visit()
    filled(page)
    slip_of(page)
    page.fill("#answer-note", "Wait.")
    assert not page.is_visible("#slip-result")


@pytest.mark.parametrize(
    ("answer", "fields", "says", "focused"),
    [
        ("", {}, "choose one of the two", "answer-ok"),
        ("ok", {"name": " "}, "your name", "answer-name"),
        ("change", {}, "what should change", "answer-note"),
    ],
)
def test_what_is_missing_is_said_and_shown(
    visit: Callable[..., Page], answer: str, fields: dict[str, str], says: str, focused: str
) -> None:
    page = visit()
    if answer:
        filled(page, answer, **fields)
    else:
        page.click("#answer-form button[type=submit]")
    assert says in page.inner_text("#answer-trouble")
    assert page.evaluate("document.activeElement.id") == focused
    assert not page.is_visible("#slip-result")


def test_the_script_is_one_that_old_browsers_read() -> None:
    """A regular expression that looks behind is an error before Safari 16.4, and then nothing of
    the page's script runs (caniuse.com, js-regexp-lookbehind)."""
    for name in (
        "coded",
        "sending",
        "slip",
        "turntable",
        "growing",
        "remembering",
        "proof",
        "kept",
        "pictures",
        "words",
        "answer",
    ):
        script = (carried("themes") / "base" / f"{name}.js").read_text("utf-8")
        assert "(?<" not in script, name
