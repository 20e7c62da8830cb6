"""Languages: sentences from catalogues, plurals by the language's rules, values kept apart."""

from __future__ import annotations

from datetime import date

import pytest

from proofgen.say import tongue
from proofgen.say.tongue import Tongue

# Polish plural forms as CLDR and the GNU gettext manual (section 12.6) give them.
_POLISH = """
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\\n"
"Plural-Forms: nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<10 || n%100>=20) "
"? 1 : 2);\\n"

msgid "Dear {name},"
msgstr "Witaj {name},"

msgid "one file"
msgid_plural "{n} files"
msgstr[0] "jeden plik"
msgstr[1] "{n} pliki"
msgstr[2] "{n} plików"
"""


@pytest.fixture
def polish(tmp_path, monkeypatch):
    (tmp_path / "pl.po").write_text(_POLISH, "utf-8")
    (tmp_path / "ar.po").write_text('msgid ""\nmsgstr ""\n\nmsgid "Dear {name},"\n'
                                    'msgstr "عزيزي {name}،"\n', "utf-8")  # fmt: skip
    monkeypatch.setattr(tongue, "CATALOGUES", tmp_path)
    tongue._sentences.cache_clear()
    yield Tongue.of("pl")
    tongue._sentences.cache_clear()


@pytest.mark.parametrize(
    ("number", "said"), [(1, "jeden plik"), (3, "3 pliki"), (5, "5 plików"), (22, "22 pliki")]
)
def test_plurals_follow_the_language(polish, number, said):
    assert polish.several("one file", "{n} files", number) == said


def test_a_sentence_without_translation_is_said_in_english(polish):
    assert polish("Dear {name},", name="Ada") == "Witaj Ada,"
    assert polish("Yours, {name}", name="Ada") == "Yours, Ada"


def test_the_first_language_that_is_known_is_spoken(polish):
    assert Tongue.of("tlh", "pl-PL").tag == "pl-PL"
    assert Tongue.of("tlh").tag == "en"
    assert Tongue.of("en-IE").date(date(2026, 12, 4)) == "Friday 4 December 2026"


def test_a_name_in_a_line_from_right_to_left_is_kept_apart(polish):
    assert Tongue.of("ar").runs == "rtl"
    assert Tongue.of("ar")("Dear {name},", name="Ada") == "عزيزي \u2068Ada\u2069،"


@pytest.mark.parametrize(
    ("language", "value", "places", "said"),
    [
        ("en", 1867.456, 2, "1,867.46"),
        ("de", 1867.456, 2, "1.867,46"),
        ("es", 22.94, 1, "22,9"),
        ("de", 0.125, 4, "0,125"),  # no decimals that say nothing
        ("en", 3.96, 0, "4"),
        ("en", -0.04, 1, "0"),
    ],
)
def test_numbers_and_lengths_have_the_decimals_asked_for(language, value, places, said):
    assert Tongue.of(language).number(value, places) == said
    assert Tongue.of(language).mm(value, places) == f"{said}\N{NO-BREAK SPACE}mm"
