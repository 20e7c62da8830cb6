"""What is wrong with a picture is written beside it, and reaches the shop under its name."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from proofgen.proof.content import ProofContent
from proofgen.render import Theme
from tests.proof.opened import Visit, browser_only, send, written
from tests.proof.sample import content

TICK = "Something in this picture is wrong"


def single(**changed: object) -> ProofContent:
    shown = content(edition=1, **changed)  # type: ignore[arg-type]
    return dataclasses.replace(
        shown, works=tuple(dataclasses.replace(work, every=()) for work in shown.works)
    )


@pytest.fixture
def page_of_one(theme: Theme, tmp_path: Path) -> Path:
    return written(single(), theme, tmp_path)


@browser_only
def test_a_tick_opens_a_box_whose_words_travel_under_the_pictures_name(
    visit: Visit, page_of_one: Path
) -> None:
    page = visit(page_of_one)
    box = page.get_by_label("Front: What is wrong with it?")
    assert box.count() == 0
    page.get_by_text(TICK).click()
    assert page.evaluate("document.activeElement.tagName") == "TEXTAREA"
    box.fill("the sky is too dark")
    page.reload()
    assert box.input_value() == "the sky is too dark"
    page.locator(".turn-on").click()  # another side is seen; what was written is of the front
    assert "Front: the sky is too dark" in page.inner_text("#marked")
    page.check("#answer-change")
    assert "What else" in page.inner_text("label[for=answer-note]")
    assert "Front: the sky is too dark" in send(page)
    assert "Front: the sky is too dark\nThank you." in send(page, note="Thank you.")
    page.get_by_label(TICK).uncheck()
    assert not box.is_visible()
    assert "too dark" not in send(page, note="Make it all larger.")


@browser_only
def test_an_empty_box_is_asked_for_where_it_stands(visit: Visit, page_of_one: Path) -> None:
    page = visit(page_of_one)
    page.locator(".turn-on").click()
    side = page.inner_text(".stage-label")
    page.get_by_label(TICK).check()
    page.check("#answer-change")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    assert "what is wrong" in page.inner_text("#answer-trouble")
    assert page.evaluate("document.activeElement.closest('.why') !== null")
    page.keyboard.type("upside down")
    assert f"{side}: upside down" in send(page)


@browser_only
def test_a_piece_of_a_list_has_its_box_too(visit: Visit) -> None:
    page = visit()
    page.locator("#pieces [data-pieces='4']").get_by_text("Wrong").click()
    page.keyboard.type("it is upside down")
    page.check("#answer-change")
    assert "Piece 4: it is upside down" in send(page)


@browser_only
def test_remarks_are_never_cut(visit: Visit, page_of_one: Path) -> None:
    page = visit(page_of_one)
    page.get_by_label(TICK).check()
    page.locator(".why textarea").fill("x" * 400)
    page.check("#answer-change")
    page.fill("#answer-name", "Odalys")
    page.fill("#answer-note", "y" * 3900)
    page.click("#answer-form [type=submit]")
    assert "at most 4000 letters" in page.inner_text("#answer-trouble")
    assert not page.is_visible("#slip-result")


LINES = """() => {
  const text = document.querySelector("#text-1 .text");
  const range = document.createRange();
  const walk = document.createTreeWalker(text, NodeFilter.SHOW_TEXT);
  const words = [];
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    for (const found of node.data.matchAll(/\\S+/g)) {
      range.setStart(node, found.index);
      range.setEnd(node, found.index + found[0].length);
      const boxes = Array.from(range.getClientRects());
      words.push([found[0], ...new Set(boxes.map((box) => Math.round(box.top)))]);
    }
  }
  return words;
}"""


@browser_only
@pytest.mark.parametrize("theme_name", ["quay", "kite"])
def test_words_have_room_keep_their_lines_and_never_break(
    browser: Browser, tmp_path: Path, theme_name: str
) -> None:
    """Also in the device's own letters, until ours are there."""
    shown = content(edition=1)
    said = "Mairead is 70\nThank you for coming all this way"
    words = (dataclasses.replace(shown.words[0], text=said), *shown.words[1:])
    file = written(single(words=words), Theme(theme_name, "en", "EUR"), tmp_path)
    page = browser.new_page(bypass_csp=True)
    page.goto(file.as_uri())
    for letters in ("ours", "monospace"):  # the widest that a device brings
        if letters != "ours":
            page.add_style_tag(content=f".word .text {{ font-family: {letters} !important }}")
        for width in (390, 768, 820, 1024, 1440):
            page.set_viewport_size({"width": width, "height": 1000})
            found = page.evaluate(LINES)
            assert all(len(word) == 2 for word in found), (letters, width, found)
            lines = list(dict.fromkeys(word[1] for word in found))
            first = [word[0] for word in found if word[1] == lines[0]]
            assert first == ["Mairead", "is", "70"], (letters, width, found)
            assert len(lines) <= (4 if width < 768 else 3), (letters, width, found)
    page.close()
