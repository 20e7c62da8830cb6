"""Names of many scripts: shaped and measured as their readers expect, or refused by the letter."""

from __future__ import annotations

import unicodedata

import pytest
from PIL import Image, ImageChops, ImageFont

from proofgen.artwork.typeface import Typeface
from proofgen.artwork.words import letter_share, set_words
from proofgen.geometry import Rect
from proofgen.render.fonts import find_font
from tests.real_fonts import real_font

BOX = Rect(10, 20, 60, 15)
# Script to a font that has it and a name.
NAMES = {
    "Arabic": ("Noto SansArabic", "محمد"),
    "Hebrew": ("Noto SansHebrew", "שלום"),
    "Devanagari": ("Noto SansDevanagari", "नरेन्द्र"),
    "Thai": ("Noto SansThai", "สมหญิง"),
    "Hangul": ("Nanum Gothic", "박서준"),
    "Han": ("Noto Sans JP", "佐藤花子"),
    "Vietnamese": ("EB Garamond", "Nguyễn Thuỷ"),
    "Greek": ("EB Garamond", "Ελένη"),
}


def opened(name: str) -> Typeface:
    return Typeface(real_font(name))


def drawn(text: str, font: Typeface) -> Image.Image:
    found = font.mask(text, 512)
    assert found is not None
    return found[0]


def by_glyphs(text: str, font: Typeface) -> Image.Image:
    """The glyphs of the letters one after the other, without any shaping: a judge."""
    face = ImageFont.truetype(str(font.file), 512, layout_engine=ImageFont.Layout.BASIC)
    mask = Image.new("L", (512 * (len(text) + 1), 1536))
    at = 256.0
    for char in text:
        mask.paste(255, (round(at), 0), Image.new("L", (1, 1)))
        layer = Image.new("L", mask.size)
        part, offset = face.getmask2(char, anchor="ls")
        glyph = Image.frombytes("L", part.size, bytes(part))
        layer.paste(glyph, (round(at) + offset[0], 1024 + offset[1]))
        mask = ImageChops.lighter(mask, layer)
        at += face.getlength(char)
    box = mask.getbbox()
    assert box is not None
    return mask.crop(box)


def differing(one: Image.Image, other: Image.Image) -> float:
    """Share of the ink by which two pictures differ, laid corner to corner."""
    size = max(one.width, other.width), max(one.height, other.height)
    both = []
    for image in (one, other):
        sheet = Image.new("L", size)
        sheet.paste(image)
        both.append(sheet)
    ink = sum(i * n for i, n in enumerate(both[0].histogram()))
    apart = sum(i * n for i, n in enumerate(ImageChops.difference(*both).histogram()))
    return apart / ink


@pytest.mark.parametrize("script", NAMES)
def test_a_name_of_every_script_is_set_inside_its_box(script: str) -> None:
    carrier, text = NAMES[script]
    font = opened(carrier)
    assert font.missing(text) == ""
    got = set_words(text, font, BOX, asked_mm=9, align="centre", least_letter_mm=3)
    assert got.fits and got.ink is not None
    assert [run.text for run in got.runs] == [text]
    assert BOX.holds(got.ink, 0.02)
    # Letters of all scripts are half to a whole type size high.
    assert 0.45 * got.size_mm < got.letter_mm < 1.1 * got.size_mm


@pytest.mark.parametrize("script", ["Arabic", "Devanagari", "Thai", "Hangul", "Han"])
def test_where_no_font_of_ours_has_it_every_letter_is_named(script: str) -> None:
    ours = find_font("Caladea")
    assert ours is not None
    text = NAMES[script][1]
    lacking = Typeface(ours).missing(text)
    assert set(lacking) == set(unicodedata.normalize("NFC", text))


def test_arabic_letters_join_and_run_from_right_to_left() -> None:
    font = opened("Noto SansArabic")
    # The same four letters in their joined forms (Unicode block FE70), in the order of the eye:
    # final dal, medial meem, medial hah, initial meem.
    assert differing(drawn("محمد", font), by_glyphs("\ufeaa\ufee4\ufea4\ufee3", font)) < 0.02
    assert differing(drawn("محمد", font), by_glyphs("محمد", font)) > 0.3


def test_hebrew_runs_from_right_to_left() -> None:
    font = opened("Noto SansHebrew")
    assert differing(drawn("שלום", font), by_glyphs("םולש", font)) < 0.15  # kerning alone
    assert differing(drawn("שלום", font), by_glyphs("שלום", font)) > 0.3


def test_devanagari_signs_move_before_their_letter_and_letters_join() -> None:
    font = opened("Noto SansDevanagari")
    # The sign for i is written after ka and seen before it.
    seen, written = by_glyphs("िक", font), by_glyphs("कि", font)
    assert differing(drawn("कि", font), seen) < differing(drawn("कि", font), written)
    ksha, ka, ssha = (font.ink(t) for t in ("क्ष", "क", "ष"))
    assert ksha and ka and ssha and ksha.width < 0.8 * (ka.width + ssha.width)


def test_thai_marks_stand_above_each_other_and_take_no_width() -> None:
    font = opened("Noto SansThai")
    bare, marked, twice = (font.ink(t) for t in ("ท", "ที", "ที่"))
    assert bare and marked and twice
    assert twice.width < 1.25 * bare.width
    assert twice.top < marked.top < bare.top
    # Marks do not make letters larger: the limit is about the letters.
    assert letter_share(["ที่"], font) == pytest.approx(bare.bottom - bare.top)


@pytest.mark.parametrize("script", ["Vietnamese", "Greek", "Hangul"])
def test_composed_and_decomposed_letters_are_one_picture(script: str) -> None:
    carrier, text = NAMES[script]
    font = opened(carrier)
    apart = unicodedata.normalize("NFD", text)
    assert apart != text
    box = Rect(0, 0, 100, 20)
    one, other = (
        set_words(
            unicodedata.normalize("NFC", t), font, box, asked_mm=9, align="left", least_letter_mm=3
        )
        for t in (text, apart)
    )
    assert one == other
    assert font.missing(apart) == ""


def test_han_letters_are_as_wide_as_the_type() -> None:
    font = opened("Noto Sans JP")
    one, four = font.ink("国"), font.ink("国国国国")
    assert one and four and four.width - one.width == pytest.approx(3, abs=0.01)


def test_two_directions_in_one_name_keep_their_order() -> None:
    font = opened("Noto SansArabic")
    lacking = font.missing("Bo محمد")
    if lacking:  # the font has Arabic alone: the Latin letters are named, not guessed
        assert lacking == "Bo"
    joined, alone = font.ink("محمد 12"), font.ink("محمد")
    assert joined and alone and joined.width > alone.width
