"""The languages that customers read: whole sentences from catalogues, their places filled by name.

A sentence is written in English where it is said, and found in `catalogues/LANGUAGE.po`. Templates
say `_("…")` and `ngettext("…", "…", n)` (jinja2's i18n extension, new style); Python says
`tongue("…", place=value)` and `tongue.several("…", "…", n)`. A sentence that stands in a table is
marked there by `to_say`, so that it is found by who gathers them.
"""

from __future__ import annotations

import datetime
import functools
import gettext
import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from io import BytesIO
from pathlib import Path

from babel import Locale
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from proofgen.say.lists import spans
from proofgen.say.local import (
    day_form,
    locale_of,
    money_form,
    say_date,
    say_day,
    say_list,
    say_mm,
    say_money,
    say_number,
)

CATALOGUES = Path(__file__).parent / "catalogues"
_MOST_RUNS = 5  # of pieces that are told one by one
HOME = "en"  # what sentences are written in
# A value that may run the other way is kept apart from the sentence (Unicode UAX 9, FSI and PDI).
_APART, _TOGETHER = "\u2068", "\u2069"


def to_say(sentence: str) -> str:
    """Mark a sentence for the catalogues; it is said later, by a `Tongue`."""
    return sentence


def languages() -> tuple[str, ...]:
    """The languages that customers can be spoken to in, by their ISO 639 codes."""
    return _languages_in(CATALOGUES)


@functools.cache
def _languages_in(folder: Path) -> tuple[str, ...]:
    return (HOME, *sorted(path.stem for path in folder.glob("*.po")))


@functools.cache
def names_of(language: str) -> tuple[str, str]:
    """A language's name in English and in itself: 'German', 'Deutsch'."""
    locale = locale_of(language)
    return str(locale.get_display_name(HOME)), str(locale.get_display_name())


def english_of(tag: str) -> str:
    """The tag itself where it is a kind of English, else plain English: what the maker reads."""
    return tag if tag.lower().split("-")[0] == HOME else HOME


@functools.cache
def _sentences(language: str) -> gettext.NullTranslations:
    """The sentences of a language, with its rule for plurals; those of HOME are said as written."""
    path = CATALOGUES / f"{language}.po"
    if not path.is_file():
        return gettext.NullTranslations()
    with path.open("rb") as file:
        catalogue = read_po(file, locale=language)
    packed = BytesIO()
    write_mo(packed, catalogue)  # leaves out what is marked fuzzy
    packed.seek(0)
    return gettext.GNUTranslations(packed)


@functools.cache  # a page asks for it with each place of a sentence
def _runs(tag: str) -> str:
    return str(locale_of(tag).text_direction)


@dataclass(frozen=True, slots=True)
class Tongue:
    """One language as a customer reads it. `tag` is as in 'en', 'de' or 'en-IE'."""

    tag: str = HOME

    @classmethod
    def of(cls, *wishes: str) -> Tongue:
        """The first of the wished tags that there is a catalogue for; English where there is
        none."""
        for tag in wishes:
            if tag.replace("_", "-").split("-")[0].lower() in languages():
                return cls(tag.replace("_", "-"))
        return cls(HOME)

    @property
    def language(self) -> str:
        return self.tag.split("-")[0].lower()

    @property
    def locale(self) -> Locale:
        return locale_of(self.tag)

    @property
    def catalogue(self) -> bytes:
        """The file of its sentences; empty for English."""
        path = CATALOGUES / f"{self.language}.po"
        return path.read_bytes() if path.is_file() else b""

    @property
    def digest(self) -> str:
        """SHA-256 of that, hex: changes when a sentence does."""
        return hashlib.sha256(self.catalogue).hexdigest()

    @property
    def runs(self) -> str:
        """Which way it is written: 'ltr' or 'rtl'."""
        return _runs(self.tag)

    def __call__(self, sentence: str, /, **places: object) -> str:
        """The sentence in this language, its {places} filled."""
        return self._filled(self.message(sentence), places)

    def several(self, one: str, many: str, number: int, /, **places: object) -> str:
        """The form of a sentence for a number of things, by the language's own rules for plurals;
        {n} is the number."""
        filled = {"n": self.number(number, 0), **places}
        return self._filled(self.messages(one, many, number), filled)

    def message(self, sentence: str) -> str:
        """The sentence with its places still empty (what jinja2 calls gettext)."""
        return _sentences(self.language).gettext(sentence)

    def messages(self, one: str, many: str, number: int) -> str:
        """The same for a number of things (what jinja2 calls ngettext)."""
        return _sentences(self.language).ngettext(one, many, number)

    def _filled(self, said: str, places: dict[str, object]) -> str:
        if not places:
            return said
        apart = self.runs == "rtl"
        return said.format_map(
            {
                name: f"{_APART}{value}{_TOGETHER}" if apart and isinstance(value, str) else value
                for name, value in places.items()
            }
        )

    def joined(self, things: Sequence[str]) -> str:
        """'a, b and c' as the language joins them (CLDR)."""
        return say_list(things, self.tag)

    def runs_of(self, numbers: Iterable[int]) -> str:
        """Numbers with neighbours joined: '1 to 4 and 7'; two neighbours stay two: '1 and 2'."""
        parts: list[str] = []
        for first, last in spans(numbers):
            if last - first > 1:
                parts.append(self(to_say("{first} to {last}"), first=first, last=last))
            else:
                parts += [str(number) for number in range(first, last + 1)]
        return self.joined(parts)

    def pieces(self, numbers: Iterable[int], quantity: int = 0) -> str:
        """Some pieces of an order as a label: 'Piece 3', 'Pieces 1 to 4 and 7'; of more than
        _MOST_RUNS only how many of the order's `quantity`, where that is told."""
        some = set(numbers)
        if quantity and len(list(spans(some))) > _MOST_RUNS:
            return self(to_say("{n} of the {all} pieces"), n=len(some), all=quantity)
        runs = self.runs_of(some)
        return self.several("Piece {numbers}", "Pieces {numbers}", len(some), numbers=runs)

    def date(self, day: datetime.date, long: bool = True) -> str:
        return say_date(day, self.tag, long)

    def day(self, day: datetime.date) -> str:
        return say_day(day, self.tag)

    def day_form(self) -> dict[str, str | list[str]]:
        return day_form(self.tag)

    def number(self, value: float, places: int = 1) -> str:
        return say_number(value, self.tag, places)

    def mm(self, value: float, places: int = 1) -> str:
        return say_mm(value, self.tag, places)

    def money(self, amount: Decimal, currency: str) -> str:
        return say_money(amount, currency, self.tag)

    def money_form(self, currency: str) -> dict[str, str | int]:
        return money_form(currency, self.tag)
