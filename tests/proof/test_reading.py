"""Every name and date is asked about where it stands, and what is said of it reaches the shop."""

from __future__ import annotations

import dataclasses
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest

from proofgen.proof.build import build
from proofgen.proof.content import ProofContent
from proofgen.proof.reading import Part, compared, texts_of
from proofgen.render import Theme, theme_names
from proofgen.say.tongue import Tongue
from proofgen.say.ways import way_of
from proofgen.signoff import Records, take_answer
from tests.proof.opened import PHONE, Visit, browser_only, send, written, wrong
from tests.proof.sample import content

# -- letters that differ ---------------------------------------------------------------------


def test_the_letters_that_changed_are_told_from_those_that_stayed() -> None:
    before, now = compared("Odalis & Bram", "Odalys & Bram")
    assert before == [Part("Odal", False), Part("i", True), Part("s & Bram", False)]
    assert now == [Part("Odal", False), Part("y", True), Part("s & Bram", False)]


def test_a_letter_differs_as_a_whole() -> None:
    assert compared("Zoe", "Zoe\u0308")[1] == [Part("Zo", False), Part("ë", True)]
    assert compared("", "A") == ([], [Part("A", True)])


@pytest.mark.parametrize(
    ("text", "way"), [("Zoë", "ltr"), ("محمد", "rtl"), ("“12” דן", "rtl"), ("12", "ltr")]
)
def test_letters_run_as_their_text_does(text: str, way: str) -> None:
    assert way_of(text) == way


def reworded() -> ProofContent:
    words = content().words
    return content(words=(words[0], dataclasses.replace(words[1], before="Odalis & Bram")))


@browser_only
def test_a_changed_text_shows_what_it_was(visit: Visit, theme: Theme, tmp_path: Path) -> None:
    page = visit(written(reworded(), theme, tmp_path))
    row = page.locator("#text-2")
    assert row.locator("mark").all_inner_texts() == ["y"]
    assert row.locator("del").all_inner_texts() == ["i"]
    assert "It was: Odalis & Bram" in row.inner_text()
    section = page.locator("#changed")
    assert section.locator("del").all_inner_texts() == ["i"]
    above = "document.querySelector('#changed').compareDocumentPosition(document.querySelector"
    assert page.evaluate(above + "('#words')) & Node.DOCUMENT_POSITION_FOLLOWING")


@browser_only
def test_arabic_letters_stand_right_to_left(visit: Visit) -> None:
    page = visit()
    row = page.locator(".word", has_text="محمد")
    row.locator("summary").click()
    letters = row.locator(".letters li").all()
    boxes = [letter.bounding_box() for letter in letters]
    assert [letter.inner_text() for letter in letters] == list("محمد")
    places = [box["x"] for box in boxes if box]
    assert places == sorted(places, reverse=True) and len(places) == 4


@browser_only
@pytest.mark.parametrize("look", theme_names())
def test_a_long_word_stays_whole_on_a_phone(visit: Visit, look: str, tmp_path: Path) -> None:
    words = content().words
    named = dataclasses.replace(words[1], text="Brzęczyszczykiewicz & Konstantynopol")
    shown = content(words=(words[0], named))
    page = visit(written(shown, Theme(look), tmp_path), viewport={"width": 320, "height": 800})
    lines = page.evaluate(
        """() => {
          const shown = document.evaluate("//*[contains(@class, 'text')]//text()[contains(., " +
              "'Brz')]", document, null, XPathResult.FIRST_ORDERED_NODE_TYPE).singleNodeValue;
          const range = document.createRange();
          return shown.data.split(' ').map((word) => {
            range.setStart(shown, shown.data.indexOf(word));
            range.setEnd(shown, shown.data.indexOf(word) + word.length);
            return new Set(Array.from(range.getClientRects(), (r) => r.top)).size;
          });
        }"""
    )
    assert lines == [1, 1, 1]


# -- letters that are not printed --------------------------------------------------------------


def lacking(*, boxed: bool, before: str = "") -> ProofContent:
    words = content().words
    return content(
        words=(
            dataclasses.replace(words[0], text="Bo 漢字", missing="漢", boxed=boxed, before=before),
        )
    )


def test_a_letter_that_the_typeface_lacks_is_not_listed_as_printed() -> None:
    [text] = texts_of(lacking(boxed=False), Tongue("en"))
    assert text["now"] == [Part("Bo ", False), Part("漢", False, printed=False), Part("字", False)]
    assert text["lacks"] == (
        "Not printed, because the typeface lacks it: 漢 — its place stays empty."
    )
    assert [one.shown for one in text["letters"] if not one.printed] == ["漢"]
    assert [one.what for one in text["letters"] if not one.printed] == ["not printed"]
    [boxed] = texts_of(lacking(boxed=True, before="Bo 漢"), Tongue("en"))
    assert boxed["lacks"].endswith("an empty box stands in its place.")
    assert boxed["now"][-1] == Part("字", True) and not boxed["now"][1].printed
    assert all(not text["lacks"] for text in texts_of(content(), Tongue("en")))


def test_its_place_is_left_empty_in_the_list_to_tick(theme: Theme, tmp_path: Path) -> None:
    html = written(lacking(boxed=False), theme, tmp_path).read_text("utf-8")
    listed = html.partition('<li class="word"')[2].partition("</li>")[0]
    assert '<s class="unprinted">漢</s>' in listed and "its place stays empty" in html


# -- as a person would -----------------------------------------------------------------------


@pytest.fixture
def kept(tmp_path: Path, theme: Theme) -> tuple[Records, Path]:
    """Records that hold the edition of a page, and the page."""
    records = Records(tmp_path / "records")
    document: Any = {"schema": "proofgen/artwork/1", "order": "fenn", "lines": []}
    made = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
    picture = {"line1-a-round.png": (b"pixels", "0f" * 32)}
    edition = records.new_edition("fenn", document, picture, made, date(2026, 12, 4))
    words = tuple(dataclasses.replace(w, slot_id=w.slot.lower()) for w in content().words)
    proof = content(
        edition=1,
        words=words,
        fingerprint=edition.fingerprint,
        key_hex=edition.key.hex(),
    )
    return records, written(proof, theme, tmp_path)


NOON = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)


@browser_only
def test_what_is_wrong_is_typed_where_it_stands_and_reaches_the_shop(
    visit: Visit, kept: tuple[Records, Path]
) -> None:
    records, file = kept
    page = visit(file, viewport={"width": 390, "height": 844})
    page.locator("#text-1").get_by_text("I have read it: correct", exact=True).click()
    wrong(page, "#text-3", "Zoë Nguyễn-O’Neill ")
    so_far = "Pieces marked as right: 0 of 5. Words that stand on several pieces: 1 of 1."
    assert f"{so_far} Marked as wrong: 1." in page.inner_text(".read-so-far")
    assert "“Zoë Nguyễn-O’Neil” should be “Zoë Nguyễn-O’Neill”" in page.inner_text("#marked")
    page.check("#answer-change")
    page.check("#answer-print")
    outcome = take_answer(records, send(page), today=NOON.date(), now=NOON)
    assert outcome.status == "recorded", outcome.sentence
    (answer,) = records.answers("fenn")
    (change,) = answer.changes
    assert (change.pieces, change.slot, change.line) == ((2,), "name", 1)
    assert (change.old, change.new) == ("Zoë Nguyễn-O’Neil", "Zoë Nguyễn-O’Neill")
    assert answer.may_print is True and answer.may_show is None
    assert answer.words == () or answer.answer == "change"


@browser_only
def test_a_draft_survives_a_reload_until_it_is_removed(
    visit: Visit, kept: tuple[Records, Path]
) -> None:
    page = visit(kept[1])
    page.locator("#text-1").get_by_text("I have read it: correct", exact=True).click()
    wrong(page, "#text-2", "Odalys & Bramm")
    page.check("#answer-change")
    page.fill("#answer-note", "The sky is too dark.")
    page.fill("#answer-name", "Odalys")
    page.check("#answer-show")
    page.reload()
    assert page.is_checked("#text-1 [value=right]")
    assert page.is_checked("#text-2 [value=wrong]")
    assert page.input_value("#text-2 .instead input") == "Odalys & Bramm"
    assert page.is_checked("#answer-change") and page.is_checked("#answer-show")
    assert page.input_value("#answer-note") == "The sky is too dark."
    assert "Bramm" in page.inner_text("#marked")
    page.click("#forget-draft")
    page.wait_for_selector("#marked", state="hidden")
    assert not page.is_checked("#text-1 [value=right]")
    assert page.input_value("#answer-note") == ""
    assert page.evaluate("Object.keys(localStorage)") == []


@browser_only
def test_a_new_proof_starts_without_the_marks_of_the_last(
    visit: Visit, theme: Theme, tmp_path: Path, kept: tuple[Records, Path]
) -> None:
    page = visit(kept[1])
    page.locator("#text-1").get_by_text("I have read it: correct", exact=True).click()
    written(content(edition=2), theme, tmp_path)
    page.reload()
    assert not page.is_checked("#text-1 [value=right]")
    assert page.evaluate("Object.keys(localStorage)") == []


@browser_only
def test_a_browser_that_keeps_nothing_loses_nothing_else(visit: Visit) -> None:
    page = visit()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }});"
    )
    page.reload()
    wrong(page, "#text-2", "Odalys & Bramm")
    page.check("#answer-change")
    assert not page.is_visible("#kept")
    assert "BEGIN ANSWER CODE" in send(page)


@browser_only
def test_yes_beside_a_mark_is_asked_about_and_not_possible(visit: Visit) -> None:
    page = visit()
    page.fill("#answer-name", "Odalys")
    wrong(page, "#text-2", "Odalys & Bramm")
    page.check("#answer-ok")
    assert page.is_visible("#ask-marked")
    assert page.is_disabled("#answer-form [type=submit]")
    ground = "getComputedStyle(document.querySelector('#answer-form [type=submit]')).background"
    assert page.evaluate(f"{ground}Color") == "rgba(0, 0, 0, 0)", "its words can be read"
    page.focus("#answer-name")
    page.keyboard.press("Enter")
    page.evaluate("form.requestSubmit ? form.dispatchEvent(new Event('submit')) : 0")
    assert not page.is_visible("#slip-result")
    page.click("#marked-change")
    assert page.is_checked("#answer-change") and not page.is_visible("#ask-marked")
    page.check("#answer-ok")
    page.click("#marked-clear")
    assert page.is_checked("#text-2 [value=right]")
    assert "BEGIN ANSWER CODE" in send(page)


@browser_only
def test_a_single_piece_is_marked_at_its_picture(visit: Visit, kept: tuple[Records, Path]) -> None:
    records, file = kept
    page = visit(file)
    page.locator("#pieces [data-pieces='4']").get_by_text("Wrong").click()
    page.reload()
    assert page.locator("#pieces [data-pieces='4'] input").is_checked()
    page.check("#answer-ok")
    assert page.is_visible("#ask-marked")
    page.click("#marked-change")
    outcome = take_answer(
        records, send(page, note="It is upside down."), today=NOON.date(), now=NOON
    )
    assert outcome.status == "recorded", outcome.sentence
    (answer,) = records.answers("fenn")
    assert answer.wrong == (4,)


@browser_only
def test_the_picture_of_a_single_design_has_its_own_place_to_be_marked(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    shown = content(edition=1)
    (only,) = shown.works
    page = visit(
        written(
            dataclasses.replace(shown, works=(dataclasses.replace(only, every=()),)),
            theme,
            tmp_path,
        )
    )
    page.get_by_label("Something in this picture is wrong").check()
    assert "Something is wrong in the picture" in page.inner_text("#marked")
    page.check("#answer-change")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    assert "what is wrong" in page.inner_text("#answer-trouble")
    assert "by number: 1–5" in send(page, note="It is upside down.")


@browser_only
def test_a_text_marked_wrong_without_its_right_words_is_asked_for(visit: Visit) -> None:
    page = visit()
    page.locator("#text-2").get_by_text("No, it is …").click()
    page.check("#answer-change")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    assert "how it should read" in page.inner_text("#answer-trouble")
    assert page.evaluate("document.activeElement.id") == "text-2-now"
    assert not page.is_visible("#slip-result")


@browser_only
@pytest.mark.parametrize(
    ("note", "asked"),
    [
        ("please write Willy with y", True),
        ("Lovely! BUT the boat is too small.", True),
        ("Thank you, we look forward to it. Greetings to Maren.", False),
        ("Pleased with the stopwatch", False),
    ],
)
def test_a_note_that_sounds_like_a_change_is_asked_about(
    visit: Visit, note: str, asked: bool
) -> None:
    page = visit()
    page.check("#answer-ok")
    assert "changes nothing" in page.inner_text("label[for=answer-note]")
    page.fill("#answer-note", note)
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    if asked:
        assert page.is_visible("#ask-note") and not page.is_visible("#slip-result")
        page.click("#note-change")
        assert page.is_checked("#answer-change")
        assert page.input_value("#answer-note") == note
        page.check("#answer-ok")
        page.click("#answer-form [type=submit]")
        page.click("#note-keep")
    page.click("#unread-read")
    page.wait_for_selector("#slip-result", state="visible")


# -- on a telephone --------------------------------------------------------------------------


@browser_only
@pytest.mark.parametrize("width", [320, 390])
def test_her_copy_tells_what_she_wrote_and_fits_the_screen(visit: Visit, width: int) -> None:
    page = visit(**{**PHONE, "viewport": {"width": width, "height": 844}})
    wrong(page, "#text-2", "Odalys & Bramm")
    page.check("#answer-change")
    note = "The sky is too dark. " * 90  # more than a link holds
    text = send(page, note=note)
    assert "Piece 1: instead of “Odalys & Bram”: “Odalys & Bramm”\n" in text
    assert f"Note: {note.strip()}\n" in text
    assert page.evaluate("slip.scrollWidth <= slip.clientWidth")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    link = unquote(page.get_attribute("#slip-open", "href") or "")
    assert "A note is with it." in link and "too dark" not in link


@browser_only
def test_the_note_is_asked_for_as_the_case_is(visit: Visit) -> None:
    page = visit()
    page.check("#answer-change")
    assert page.inner_text("label[for=answer-note]") == "What should change?"
    wrong(page, "#text-2", "Odalys & Bramm")
    assert page.inner_text("label[for=answer-note]").startswith("What else should change?")
    page.locator("#text-2").get_by_text("I have read it: correct", exact=True).click()
    assert page.inner_text("label[for=answer-note]") == "What should change?"


@browser_only
def test_a_complaint_goes_once_it_is_heeded(visit: Visit) -> None:
    page = visit()
    page.click("#answer-form [type=submit]")
    assert "choose one" in page.inner_text("#answer-trouble")
    page.fill("#answer-name", "Odalys")
    assert "choose one" in page.inner_text("#answer-trouble")  # not yet heeded
    page.check("#answer-change")
    assert page.inner_text("#answer-trouble") == ""
    assert page.locator("[aria-invalid]").count() == 0


@browser_only
def test_a_hurried_yes_is_asked_once_about_names_without_a_mark(visit: Visit) -> None:
    page = visit()
    page.locator("#text-1").get_by_text("I have read it: correct", exact=True).click()
    page.check("#answer-ok")
    page.fill("#answer-name", "Odalys")
    page.click("#answer-form [type=submit]")
    assert "Not yet marked as right: 5. Have you read them all?" in page.inner_text("#ask-unread")
    assert not page.is_visible("#slip-result") and not page.is_visible("#unread")
    page.click("#unread-show")
    assert page.evaluate("document.activeElement.closest('.word').id") == "text-2"
    assert not page.is_visible("#ask-unread")
    page.click("#answer-form [type=submit]")
    page.wait_for_selector("#slip-result", state="visible")


@browser_only
@pytest.mark.parametrize("ticked", [0, 1, 6])
def test_a_yes_tells_how_many_spellings_were_ticked(
    visit: Visit, kept: tuple[Records, Path], ticked: int
) -> None:
    """Six names were to be ticked, none was, and nothing told the shop of it."""
    records, file = kept
    page = visit(file)
    for at in range(1, ticked + 1):
        page.locator(f"#text-{at}").get_by_text("I have read it: correct", exact=True).click()
    page.check("#answer-ok")
    outcome = take_answer(records, send(page), today=NOON.date(), now=NOON)
    (answer,) = records.answers("fenn")
    says = {
        0: "Of the 6 texts no spelling was ticked on the page.",
        1: "Of the 6 texts 1 was ticked on the page.",
        6: "",
    }[ticked]
    assert answer.unmarked == says and answer.plain_ok and answer.words == ()
    assert says in outcome.sentence and ("ticked" in outcome.sentence) is bool(says)
    assert outcome.cure == "proofgen press fenn", "it holds nothing"


# -- what no longer counts -------------------------------------------------------------------


@browser_only
def test_a_page_opened_after_its_day_says_so(visit: Visit) -> None:
    page = visit()
    assert not page.is_visible("#too-late") and not page.is_visible(".today")
    page.clock.set_fixed_time("2026-12-04T22:00:00Z")  # its last day
    page.reload()
    assert not page.is_visible("#too-late") and page.is_visible("#answer-form")
    assert page.inner_text(".today").strip() == "That is today."
    page.clock.set_fixed_time("2026-12-05T10:00:00Z")
    page.reload()
    assert "was Friday 4 December 2026" in page.inner_text("#too-late")
    assert not page.is_visible("#answer-form") and not page.is_visible(".codes")
    page.click("#answer-anyway")
    assert page.is_visible("#answer-form") and page.is_visible(".codes")


def test_the_script_knows_where_each_text_stands() -> None:
    words = tuple(
        dataclasses.replace(word, slot_id="name", line=2) for word in content().words[1:2]
    )
    (text,) = texts_of(content(words=words), Tongue())
    assert (text["slot"], text["line"], text["pieces"]) == ("name", 2, (1,))


@browser_only
@pytest.mark.parametrize("name", theme_names())
@pytest.mark.parametrize("width", [390, 800, 1024, 1440])
def test_whose_words_they_are_stands_in_lines(
    visit: Visit, tmp_path: Path, name: str, width: int
) -> None:
    """Above the words or beside them, and never letter under letter."""
    folder = tmp_path / "index.html"
    for file, data in build(content(), Theme(name), with_pdf=False).items():
        (tmp_path / file).write_bytes(data)
    page = visit(folder, viewport={"width": width, "height": 900})
    for of, word in zip(
        page.locator(".word > .of").all(), page.locator(".word > .text").all(), strict=True
    ):
        label, text = of.bounding_box(), word.bounding_box()
        assert label and text and label["width"] > 80 and label["height"] < 80, label
        if name == "kite":
            assert label["y"] + label["height"] <= text["y"] + 1
