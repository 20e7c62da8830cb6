"""Words: letters a font lacks, the order in which room is made, and where the ink lies."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import features

from proofgen.artwork.typeface import Typeface, need_shaping
from proofgen.artwork.words import letter_share, set_words, tidy
from proofgen.errors import MachineError
from proofgen.geometry import Rect
from proofgen.render import systems
from proofgen.render.fonts import find_font

BOX = Rect(20, 50, 60, 20)


def font(name: str) -> Typeface:
    found = find_font(name)
    assert found is not None
    return Typeface(found)


CALADEA = font("Caladea")


def setting(text: str, box: Rect = BOX, *, asked: float = 9.0, align: str = "centre"):
    return set_words(text, CALADEA, box, asked_mm=asked, align=align, least_letter_mm=3.0)


@pytest.mark.parametrize(
    ("name", "text", "missing"),
    [
        ("Caladea", "Zoé, Łucja & Doğan", ""),
        ("Caladea", "محمد", "محد"),
        ("Caladea", "देव", "देव"),
        ("Fredoka One", "Doğan", "ğ"),
        ("Source Serif Pro", "Nguyễn İpek ßñ", ""),
        ("Source Serif Pro", "Ĭulia Ǭkala", ""),  # it has these letters and marks apart alone
        ("Caladea", "Ĭulia Ǭkala", "Ǭ"),
        ("Caladea", "漢字 A", "漢字"),
    ],
)
def test_letters_a_font_lacks_are_named(name: str, text: str, missing: str) -> None:
    assert font(name).missing(text) == missing


@pytest.mark.parametrize(("name", "boxed"), [("Caladea", False), ("Manrope", True)])
def test_what_stands_in_the_place_of_a_letter_is_known(name: str, *, boxed: bool) -> None:
    assert font(name).draws_a_box_for("漢") is boxed
    assert font(name).draws_a_box_for("") is False


def test_letters_in_two_parts_are_the_same_as_composed() -> None:
    apart = unicodedata.normalize("NFD", "Zoé Doğan")
    assert CALADEA.missing(apart) == ""
    assert font("Fredoka One").missing(apart) == "ğ"


def test_joiners_spaces_and_variation_marks_are_not_letters() -> None:
    assert CALADEA.missing("a\u200db\u200cc\ufe0f d\u00a0e\u2009f\n") == ""


def test_text_is_composed_and_its_ends_are_trimmed() -> None:
    assert tidy(" Zoe\u0301 \r\n  & Bram\n") == "Zoé\n& Bram"


def test_short_words_keep_the_size_that_was_asked() -> None:
    got = setting("Ada")
    assert got.fits and got.size_mm == 9.0 and len(got.runs) == 1
    # Caladea's OS/2 table gives a capital height of 667 / 1000.
    assert got.letter_mm == pytest.approx(9 * 0.667, abs=0.04)


def test_size_gives_way_before_lines_break() -> None:
    got = setting("Odalys & Bram Fenn")
    assert got.fits and len(got.runs) == 1
    assert got.size_mm < 9
    assert got.ink is not None and got.ink.width == pytest.approx(60, abs=0.2)


def test_lines_break_at_spaces_when_letters_would_get_too_small() -> None:
    text = "Odalys and Bram and the whole long family of the harbour street"
    got = setting(text)
    assert got.fits and len(got.runs) > 1
    assert " ".join(run.text for run in got.runs) == text
    assert got.letter_mm >= 3


def test_written_lines_stay_lines() -> None:
    got = setting("Odalys\n& Bram")
    assert [run.text for run in got.runs] == ["Odalys", "& Bram"]
    assert got.runs[1].baseline_mm - got.runs[0].baseline_mm == pytest.approx(1.2 * got.size_mm)


def test_an_empty_line_between_two_keeps_its_place() -> None:
    got = setting("Odalys\n\nBram")
    assert [run.text for run in got.runs] == ["Odalys", "Bram"]
    assert got.runs[1].baseline_mm - got.runs[0].baseline_mm == pytest.approx(2.4 * got.size_mm)


def test_lines_that_break_have_the_size_that_was_asked_where_there_is_room() -> None:
    tall = Rect(0, 0, 30, 30)
    text = "Odalys Fenn & Bram Okoro"
    got = set_words(text, CALADEA, tall, asked_mm=6.0, align="left", least_letter_mm=3.6)
    assert got.fits and got.size_mm == 6.0
    assert " ".join(run.text for run in got.runs) == text


@pytest.mark.parametrize("least", [100.0, 1500.0])
def test_a_mask_has_as_many_pixels_as_are_asked_for(least: float) -> None:
    drawn = CALADEA.mask("Zoé", least)
    assert drawn is not None
    mask, ink = drawn
    to_size = mask.width / ink.width
    assert to_size >= 0.99 * least
    assert mask.height / (ink.bottom - ink.top) == pytest.approx(to_size, rel=0.02)


def test_a_long_word_that_cannot_break_says_that_it_does_not_fit() -> None:
    got = setting("Llanfairpwllgwyngyllgogerychwyrndrobwll" * 2)
    assert not got.fits
    assert got.letter_mm == pytest.approx(3, abs=0.01)  # not below the limit, not squashed


def test_a_name_breaks_behind_its_hyphens_before_it_gets_too_small() -> None:
    got = setting("Anna-Lena Müller-Lüdenscheidt", Rect(0, 0, 26, 40))
    assert got.fits and got.letter_mm >= 3
    assert [run.text for run in got.runs] == ["Anna-Lena", "Müller-", "Lüdenscheidt"]
    one = setting("Müller-Lüdenscheidt", Rect(0, 0, 26, 40))
    assert [run.text for run in one.runs] == ["Müller-", "Lüdenscheidt"]


@pytest.mark.parametrize(
    "text",
    ["Anna-Lena Lüdenscheidt", "Jean-Luc"],  # spaces are enough; nothing has to break
)
def test_no_hyphen_parts_what_fits_without(text: str) -> None:
    got = setting(text, Rect(0, 0, 32, 40))
    assert got.fits and " ".join(run.text for run in got.runs) == text
    assert not any(run.text.endswith("-") for run in got.runs)


def test_days_and_bare_strokes_are_not_parted() -> None:
    for text in ("2027-06-12", "A-B-C-D-E-F-G-H", "Ada\u2011Lena\u2011Maria\u2011Sophia"):
        assert len(setting(text, Rect(0, 0, 9, 40)).runs) == 1


def test_letters_asked_smaller_than_the_limit_are_not_made_smaller_still() -> None:
    got = setting("Llanfairpwllgwyngyllgogerychwyrndrobwll" * 2, asked=2.0)
    assert got.size_mm == 2.0 and not got.fits


@pytest.mark.parametrize(("align", "edge"), [("left", "x"), ("right", "right")])
def test_ink_meets_the_edge_it_is_aligned_to(align: str, edge: str) -> None:
    got = setting("Jofy", align=align)
    assert got.ink is not None
    assert getattr(got.ink, edge) == pytest.approx(getattr(BOX, edge))


def test_capitals_stand_in_the_middle_of_the_box() -> None:
    got = setting("HAM")
    assert got.ink is not None
    assert got.ink.centre_y == pytest.approx(BOX.centre_y, abs=0.1)
    # A letter that hangs below does not lift the others.
    assert setting("HAMg").runs[0].baseline_mm == got.runs[0].baseline_mm


def test_a_script_without_capitals_is_measured_by_its_ink() -> None:
    ink = CALADEA.ink("2027")
    assert ink is not None
    assert letter_share(["2027"], CALADEA) == pytest.approx(ink.bottom - ink.top)


def test_no_words_make_no_ink() -> None:
    for text in ("", "   ", "\u00a0"):
        got = setting(text)
        assert got.runs == () and got.ink is None and got.fits


@settings(max_examples=60, deadline=None)
@given(
    text=st.text("abcdefgh ÉŁğßjpQ&-\n", min_size=1, max_size=60),
    width=st.floats(8, 120),
    height=st.floats(4, 60),
    asked=st.floats(3, 30),
)
def test_whatever_fits_is_inside_its_box_and_nothing_is_lost(
    text: str, width: float, height: float, asked: float
) -> None:
    box = Rect(3, 4, width, height)
    clean = tidy(text)
    got = setting(clean, box, asked=asked)
    written = "".join(r.text.replace(" ", "") for r in got.runs)
    assert written == "".join(clean.split())
    assert got.size_mm <= asked + 1e-9
    if got.ink is not None and got.fits:
        assert box.holds(got.ink, 0.021)
    if got.runs and got.size_mm < asked:
        assert got.letter_mm >= 3 - 1e-6


def test_without_shaping_the_line_to_type_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(features, "check", lambda feature: False)
    for system, hint in (
        ("linux", systems.line_for("fribidi")),
        ("darwin", "brew install fribidi"),
        ("win32", "fribidi.dll"),
    ):
        monkeypatch.setattr("sys.platform", system)
        with pytest.raises(MachineError) as caught:
            need_shaping()
        assert hint in caught.value.cure
        assert caught.value.exit_code == 5
