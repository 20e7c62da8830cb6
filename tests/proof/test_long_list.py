"""A long list of names is found, walked, marked and answered, each piece by itself."""

from __future__ import annotations

import dataclasses
import json
import re
import unicodedata
from pathlib import Path

import pytest

from proofgen.proof.content import Word
from proofgen.proof.customer_findings import BesideWord, CustomerFinding
from proofgen.proof.reading import piece_by_piece
from proofgen.proof.terms import as_finding, as_kept
from proofgen.render import Theme
from proofgen.say.tongue import Tongue
from proofgen.signoff.blocks import read_blocks
from tests.proof.opened import GUESTS, PHONE, Visit, browser_only, listed, send, written, wrong
from tests.proof.sample import words as words_of


@pytest.fixture(scope="module")
def guests(tmp_path_factory: pytest.TempPathFactory, theme: Theme) -> Path:
    return written(listed(GUESTS), theme, tmp_path_factory.mktemp("guests"))


@browser_only
def test_a_long_list_is_few_stops_from_the_answer(visit: Visit, guests: Path) -> None:
    page = visit(guests)
    stops = 0
    while stops < 200:
        page.keyboard.press("Tab")
        stops += 1
        if page.evaluate("document.activeElement.id") == "answer-ok":
            break
    assert stops <= 40


@browser_only
def test_a_long_list_is_walked_by_arrows(visit: Visit, guests: Path) -> None:
    page = visit(guests)
    page.focus("#text-1 [value=right]")
    for key in ("Space", "ArrowDown", "ArrowDown", "Space", "ArrowUp", "ArrowRight"):
        page.keyboard.press(key)
    assert page.evaluate("document.activeElement.closest('.word').id") == "text-2"
    assert page.is_checked("#text-1 [value=right]")
    assert page.is_checked("#text-2 [value=wrong]")
    assert page.is_checked("#text-3 [value=right]")
    page.keyboard.press("Tab")
    page.keyboard.type("!")
    assert page.input_value("#text-2 .instead input") == f"{GUESTS[0]}!"


@browser_only
def test_a_name_is_found_by_letters_or_number_and_in_order(visit: Visit, guests: Path) -> None:
    page = visit(guests)

    def shown() -> list[str]:
        return page.locator(".word:visible .text").all_inner_texts()

    page.fill("#find-word", "zoe nguyen")
    assert shown() == ["Zoë Nguyễn"]
    page.fill("#find-word", "37")
    assert shown() == [GUESTS[36]]  # and not the date, which stands on every piece
    page.fill("#find-word", "nobody of that name")
    assert shown() == [] and "Nothing of that name" in page.inner_text(".read-so-far")
    page.fill("#find-word", "")
    page.select_option("#word-order", "letters")
    assert shown()[0] == "Bram Abara" and len(shown()) == 121
    page.locator(".word:visible").first.get_by_text("Correct", exact=True).click()
    page.click("#next-unread")
    assert page.evaluate("document.activeElement.closest('.word').querySelector('.text')"
                         ".textContent") == "Bram Bracken"  # fmt: skip


DOUBLE = (*GUESTS[:8], "Ólafur Pell", GUESTS[2])


def doubled_words() -> tuple[Word, ...]:
    """Of a list in which the pieces 3 and 10 carry the same name."""
    names = tuple(dict.fromkeys(DOUBLE))
    listed_words = [
        dataclasses.replace(
            word, pieces=tuple(n for n, name in enumerate(DOUBLE, 1) if name == word.text)
        )
        for word in words_of(names)[1:]
    ]
    day = dataclasses.replace(words_of(DOUBLE)[0], slot_id="day")
    return (day, *(dataclasses.replace(word, slot_id="name") for word in listed_words))


def doubled(theme: Theme, folder: Path) -> Path:
    return written(dataclasses.replace(listed(DOUBLE), words=doubled_words()), theme, folder)


@browser_only
def test_two_pieces_of_one_name_are_answered_each_by_itself(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    page = visit(doubled(theme, tmp_path))
    numbers = page.locator(".word .number").all_inner_texts()
    assert numbers == [str(n) for n in range(1, 11)]  # in order, without a gap
    assert "The same as on piece 10." in page.inner_text("#text-4")
    assert "The same as on piece 3." in page.inner_text("#text-11")
    page.locator("#text-4").get_by_text("Correct", exact=True).click()
    wrong(page, "#text-11", "Zoë Fennimore")
    page.check("#answer-change")
    slip = send(page)
    assert f"Piece 10: instead of “{DOUBLE[9]}”: “Zoë Fennimore”" in slip
    (block,) = read_blocks(slip)
    assert block.payload is not None
    (change,) = block.payload["changes"]
    assert (change["pieces"], change["slot"], change["new"]) == ([10], "name", "Zoë Fennimore")
    assert "on all" not in page.inner_text("#marked") and "Piece 10" in page.inner_text("#marked")


def test_what_stands_on_most_pieces_is_read_once() -> None:
    words = [
        Word(pieces=tuple(range(1, 51)), slot="Side", slot_id="side", text="Bride"),
        Word(pieces=tuple(range(51, 101)), slot="Side", slot_id="side", text="Groom"),
    ]
    assert [word.pieces[0] for word, _ in piece_by_piece(words, Tongue())] == [1, 51]


@browser_only
def test_names_are_found_without_the_letters_a_keyboard_lacks(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    names = ("Małgorzata Sørlie", "Malgorzata Sorlie", "Þóra Æsa", "Đặng İpek", "Groß", "O’Neil")
    page = visit(written(listed((*names, "Anna", "Bea", "Cia")), theme, tmp_path))
    for typed, found in {
        "malg": names[:2], "małg": names[:2], "sørlie": names[:2], "thora ae": [names[2]],
        "dang ip": [names[3]], "GROSS": [names[4]], "o'neil": [names[5]],
    }.items():  # fmt: skip
        page.fill("#find-word", typed)
        shown = page.locator(".word:visible .text").all_inner_texts()
        assert shown == list(found), typed


@browser_only
def test_each_latin_letter_is_found_by_the_one_it_is_made_of(visit: Visit) -> None:
    """Unicode names the letter and what was done to it: “l with stroke” is typed as l."""
    made = {}
    for number in (*range(0xC0, 0x250), *range(0x1E00, 0x1F00), *range(0x2C60, 0x2C68)):
        named = re.fullmatch(
            r"LATIN (?:SMALL|CAPITAL) LETTER (?:DOTLESS |LONG )?([A-Z]) ?(?:WITH .*)?",
            unicodedata.name(chr(number), ""),
        )
        if named:
            made[chr(number)] = named[1].lower()
    said = visit().evaluate("(letters) => letters.map(plainLetters)", list(made))
    wrong = {c: plain for c, plain in zip(made, said, strict=True) if plain[:1] != made[c]}
    assert len(made) > 400 and wrong == {}


@browser_only
def test_the_rest_of_a_long_list_is_marked_in_one_go_and_back(visit: Visit, guests: Path) -> None:
    page = visit(guests)
    page.locator("#text-3").get_by_text("No, it is …").click()
    page.click("#rest-right")
    so_far = "Pieces marked as right: {} of 120. Words that stand on several pieces: {} of 1."
    assert f"{so_far.format(119, 1)} Marked as wrong: 1." in page.inner_text(".read-so-far")
    page.locator("#text-5").get_by_text("No, it is …").click()
    page.get_by_text("Take that back").click()
    assert f"{so_far.format(0, 0)} Marked as wrong: 2." in page.inner_text(".read-so-far")
    page.fill("#find-word", "37")
    assert not page.is_visible("#rest-right")  # the others are then not those one sees


def noticed(theme: Theme, folder: Path) -> Path:
    """The list of before, in which besides a name of piece 5 is written otherwise elsewhere."""
    beside = BesideWord(1, "name", (5,), "Elsewhere it is written “Bram”.")
    told = CustomerFinding("Piece 5: Elsewhere it is written “Bram”.", word=beside)
    names = dataclasses.replace(listed(DOUBLE), findings=(told,), words=doubled_words())
    return written(names, theme, folder)


@browser_only
def test_what_was_noticed_of_a_name_stands_beside_it_and_asks_for_a_look_of_its_own(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    page = visit(noticed(theme, tmp_path))
    assert "10 pieces carry 9 different names." in page.inner_text("#words")
    beside = page.locator("#text-6 .also")
    assert beside.inner_text() == "Elsewhere it is written “Bram”."
    page.click("#rest-right")
    left = "Left for you to look at, because something is said beside them: 3."
    assert page.inner_text("#rest-said") == f"Marked as right just now: 8. {left}"
    assert page.locator(".word:not(:has(:checked))").count() == 3
    for row in ("#text-4", "#text-6", "#text-11"):  # both of the one name, and the other
        page.locator(row).get_by_text("Correct", exact=True).click()
    assert page.inner_text(".read-so-far") == "All of them are marked as right."


def test_terms_keep_what_stands_beside_a_name() -> None:
    beside = BesideWord(1, "name", (5, 7), "Elsewhere it is written “Bram”.")
    for told in (CustomerFinding("Dark.", "meant so"), CustomerFinding("Bo.", word=beside)):
        assert as_finding(json.loads(json.dumps(as_kept(told)))) == told


@browser_only
def test_yes_tells_how_many_names_are_unread(visit: Visit, guests: Path) -> None:
    page = visit(guests)
    page.locator("#text-1").get_by_text("Correct", exact=True).click()
    page.check("#answer-ok")
    assert "Not yet marked as right: 120" in page.inner_text("#unread")
    page.click("#unread-next")
    assert page.evaluate("document.activeElement.closest('.word').id") == "text-2"


@browser_only
def test_a_long_list_is_few_screens_and_large_enough_to_tap(visit: Visit, guests: Path) -> None:
    page = visit(guests, **PHONE)
    page.evaluate("document.querySelectorAll('.word').forEach(w => "
                  "w.style.contentVisibility = 'visible')")  # fmt: skip
    box = page.locator(".words").bounding_box()
    assert box and box["height"] <= 12 * 844
    targets = page.locator("#text-5 :is(summary, .verdict label)").all()
    sizes = [target.bounding_box() for target in targets]
    assert len(sizes) == 3 and all(s and s["height"] >= 44 and s["width"] >= 44 for s in sizes)
    assert not page.is_visible(".keys") and visit(guests).is_visible(".keys")


LONG = tuple(f"{name} of the Lighthouse-and-Harbour Singers" for name in GUESTS[:100])


@browser_only
def test_the_button_for_the_rest_stays_under_the_finger(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    """Rows whose height was only guessed grew once they were seen, and a tap fell beside it."""
    page = visit(written(listed(LONG), theme, tmp_path), **PHONE)
    page.locator("#text-3").get_by_text("No, it is …").tap()
    page.evaluate("document.querySelector('#rest-right').scrollIntoView({block: 'center'})")
    where = page.evaluate(
        "(({x, y, width, height}) => [x + width / 2, y + height / 2])"
        "(document.querySelector('#rest-right').getBoundingClientRect())"
    )
    page.wait_for_timeout(300)  # what was guessed is laid out by now
    page.touchscreen.tap(*where)
    assert page.inner_text("#rest-said") == "Marked as right just now: 100."
    page.touchscreen.tap(*where)
    assert page.inner_text("#rest-said") == "No longer marked: 100."


# Where each word of a name lies: one that is broken lies in two places.
BROKEN = """() => Array.from(document.querySelectorAll('.many .text bdi')).flatMap((name) => {
  const text = name.firstChild;
  return Array.from(text.data.matchAll(/\\S+/g)).filter((word) => {
    const range = document.createRange();
    range.setStart(text, word.index);
    range.setEnd(text, word.index + word[0].length);
    return new Set(Array.from(range.getClientRects(), (r) => r.top)).size > 1;
  }).map((word) => word[0]);
})"""


@browser_only
@pytest.mark.parametrize("width", [320, 390, 800])
def test_no_name_is_broken_within_a_word(
    visit: Visit, theme: Theme, tmp_path: Path, width: int
) -> None:
    names = tuple(f"{first} Achterbergsen" for first in ("Bartholomäus", "Małgorzata", "Óscar")) * 4
    page = visit(written(listed(names), theme, tmp_path), viewport={"width": width, "height": 844})
    assert page.evaluate(BROKEN) == []
    assert page.evaluate("document.documentElement.scrollWidth") == width


@browser_only
def test_a_name_opens_letter_by_letter(visit: Visit, guests: Path) -> None:
    page = visit(guests, **PHONE)
    row = page.locator(".word", has_text="Zoë Fenn")
    assert not row.locator(".letters").is_visible()
    row.locator("summary").tap()
    assert row.locator(".letters li bdi").all_inner_texts() == list("Zoë␣Fenn")
    row.get_by_text("No, it is …").tap()
    assert row.locator(".instead input").is_visible()


@browser_only
def test_a_tap_on_a_small_picture_shows_it_larger(visit: Visit, guests: Path) -> None:
    page = visit(guests, **PHONE)
    small = page.locator("[data-pieces='3'] img")
    small.scroll_into_view_if_needed()
    before = small.bounding_box()
    seen = small.get_attribute("src") or "?"
    small.tap()
    large = page.locator("dialog img")
    box = large.bounding_box()
    assert before and box and box["width"] > 2 * before["width"] and box["width"] <= 390
    assert large.get_attribute("src") == seen
    assert page.inner_text("dialog p >> nth=0") == "Piece 3"
    page.get_by_text("The next one", exact=True).tap()
    assert page.inner_text("dialog p >> nth=0") == "Piece 4"
    page.keyboard.press("Escape")
    assert not page.is_visible("dialog")
    assert page.evaluate("document.activeElement.closest('[data-pieces]').dataset.pieces") == "3"


@browser_only
def test_the_total_stands_under_its_columns_on_a_phone(
    visit: Visit, theme: Theme, tmp_path: Path
) -> None:
    for width in (320, 390):
        page = visit(
            written(listed(GUESTS), theme, tmp_path), viewport={"width": width, "height": 844}
        )
        ends = page.evaluate(
            """[...document.querySelectorAll('.bill tr')].map((row) => [...row.cells].slice(1)
              .map((cell) => Math.round(cell.getBoundingClientRect().right)))"""
        )
        assert len(ends) == 3 and ends[0] == ends[1] == ends[2]


@browser_only
def test_the_frame_of_a_box_is_whole(visit: Visit, theme: Theme, tmp_path: Path) -> None:
    page = visit(written(listed(GUESTS), theme, tmp_path), **PHONE)
    page.locator("#text-3").get_by_text("No, it is …").tap()
    clips = page.evaluate(
        """(() => {
      const clipping = [];
      for (let e = document.querySelector('#text-3-now'); e; e = e.parentElement) {
        const style = getComputedStyle(e);
        if (/paint|strict|content/.test(style.contain) || style.contentVisibility !== 'visible')
          clipping.push(e.className);
      }
      return clipping;
    })()"""
    )
    assert clips == []
