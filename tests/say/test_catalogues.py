"""The catalogues: whole, up to date, with the same places as what they translate."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from proofgen.say.tongue import HOME, Tongue, languages
from tests.say import gather

_PLACE = re.compile(r"%\((\w+)\)s|\{(\w+)\}")
_NUMBERS = frozenset({"n", "num"})  # a form for one, two or none may say the number as a word
OTHERS = [code for code in languages() if code != HOME]


def catalogue(language: str) -> Catalog:
    with (gather.CATALOGUES / f"{language}.po").open("rb") as file:
        return read_po(file, locale=language)


def places(text: str) -> frozenset[str]:
    return frozenset(one or other for one, other in _PLACE.findall(text))


def translated(language: str) -> Iterator[tuple[Message, str]]:
    """Every message of a language with each of its forms."""
    for message in catalogue(language):
        if message.id:
            for form in gather.forms_of(message):
                yield message, form


def english(message: Message) -> str:
    return message.id if isinstance(message.id, str) else message.id[1]


def test_there_are_the_languages_that_the_readme_names() -> None:
    assert languages() == ("en", "ar", "de", "es")
    assert Tongue.of("ar").runs == "rtl" and Tongue.of("de").runs == "ltr"


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_holds_what_is_said_today_and_nothing_else(language: str) -> None:
    path = gather.CATALOGUES / f"{language}.po"
    assert path.read_bytes() == gather.updated(path), "run: python tests/say/gather.py"


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_is_translated_and_none_is_in_doubt(language: str) -> None:
    assert [message.id for message in gather.untranslated(catalogue(language))] == []


@pytest.mark.parametrize("language", OTHERS)
def test_translations_have_the_places_of_their_sentence(language: str) -> None:
    wrong = []
    for message, form in translated(language):
        asked, has = places(english(message)), places(form)
        optional = _NUMBERS if message.pluralizable else frozenset()
        if not (asked - optional <= has <= asked):
            wrong.append((message.id, form))
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_sentences_of_templates_can_be_filled(language: str) -> None:
    """jinja2 fills every sentence by the % operator, so a bare percent sign would break it."""
    said = {one.id for one in gather.gathered() if one.file.startswith("themes/")}
    for message, form in translated(language):
        if message.id in said or english(message) in said:
            values = dict.fromkeys(places(form), "x") | {"num": 3}
            assert "%(" not in form % values


@pytest.mark.parametrize("language", OTHERS)
def test_there_is_a_form_for_every_plural_of_the_language(language: str) -> None:
    # CLDR's categories, as Babel carries them; 'many' of Spanish is of millions alone.
    rules = catalogue(language)
    assert rules.num_plurals == len(Locale(language).plural_form.tags) + 1


@pytest.mark.parametrize("language", OTHERS)
def test_translations_end_as_their_sentence_does(language: str) -> None:
    ends = {".": ".", "?": "?؟", ":": ":", ",": ",،:"}
    for message, form in translated(language):
        last = english(message)[-1]
        if last in ends and places(english(message)[-20:]) == frozenset():
            assert form[-1] in ends[last], form


def test_plurals_of_arabic_follow_its_six_forms() -> None:
    tongue = Tongue.of("ar")
    forms = {n: tongue.messages("%(num)s piece: %(design)s on %(blank)s, %(cloth)s",
                                "%(num)s pieces: %(design)s on %(blank)s, %(cloth)s", n)
             for n in (1, 2, 3, 11, 100)}  # fmt: skip
    assert forms[1].startswith("قطعة واحدة") and forms[2].startswith("قطعتان")
    assert "قطع:" in forms[3] and "قطعة:" in forms[11] and "قطعة:" in forms[100]


def test_the_gatherer_finds_marks_and_only_those_of_customers() -> None:
    said = {one.id for one in gather.gathered()}
    assert "The calendar has no such day." in said  # in a table
    assert ("Piece {numbers}", "Pieces {numbers}") in said  # with its plural
    assert "Please answer by %(day)s." in said  # in a template
    assert not {one.file.split("/")[-1] for one in gather.gathered()} & gather.NOT_THE_CUSTOMERS
    assert {path.name for path in gather.TEMPLATES.iterdir()} >= gather.NOT_THE_CUSTOMERS
