"""The check of names against those that the order itself holds: its customer's, other entries'."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from proofgen.checks.characters import words_in
from proofgen.checks.frame import Remarks, check, note
from proofgen.checks.subjects import CheckInput, Spot, WrittenText, texts
from proofgen.checks.words_written import bare_of_ending, name_columns
from proofgen.model import Limits
from proofgen.say import plain_letters, quoted

# Letters from which a name may be one that another lost its accents in, and from which it may be a
# slip of the pen: shorter ones are near many others (a and à, Bo and Jo). Common practice.
_SHORTEST, _SHORTEST_SLIP = 3, 4
# Letters of Vietnamese (a horn, a hook, a dot below, or two marks on one; from memory), whose tones
# tell names apart: Thanh is not Thành, and who wrote these has a keyboard for the others.
_TONES = re.compile("[\u031b\u0309\u0323]|[\u0300-\u036f]{2}")


@dataclass(frozen=True, slots=True)
class _Entry:
    """A text of an order: where it stands, and whether its list is one of names."""

    line: int | None
    slot: str
    of_names: bool
    text: str

    def told_already(self, other: _Entry) -> bool:
        """Whether words/repeated tells of both: the same name but for its accents, in one list."""
        return (
            self.of_names
            and (self.line, self.slot) == (other.line, other.slot)
            and plain_letters(self.text) == plain_letters(other.text)
        )


class _OrderNames:
    """Every word of an order by its plain letters: how it is spelt, how often, and where."""

    def __init__(self, customer: str, found: list[tuple[Spot, WrittenText]], given: CheckInput):
        self.customer = {
            _small(part): part
            for word in words_in(customer)
            for part in dict.fromkeys([word, *word.split("-")])
        }
        lists = {
            line.number: set(name_columns(line)) if line.list_file else set()
            for line in given.order.lines
        }
        self.entries = {
            spot: _Entry(
                spot.line, spot.slot, spot.slot in lists.get(spot.line or 0, ()), written.text
            )
            for spot, written in found
        }
        self._spelt: Mapping[str, dict[str, list[_Entry]]] = defaultdict(dict)
        self._written: dict[str, str] = {}  # as it is to be told
        self._often: Counter[str] = Counter()
        for spot, entry in self.entries.items():
            for word in words_in(entry.text):
                way = _small(word)
                self._written.setdefault(way, word)
                self._spelt[plain_letters(word)].setdefault(way, []).append(entry)
                self._often[way] += len(spot.pieces)

    def otherwise(self, word: str, entry: _Entry) -> str:
        """How the same name is spelt elsewhere in the order with more accents or special letters;
        '' where it is not."""
        here = _small(word)
        if _TONES.search(unicodedata.normalize("NFD", entry.text)):
            return ""
        others = [
            way
            for way, entries in self._spelt[plain_letters(word)].items()
            if _specials(way) > _specials(here)
            and not (word.isupper() and way.upper() == word)
            and not all(entry.told_already(other) for other in entries)
        ]
        best = max(others, key=lambda way: (_specials(way), self._often[way], way), default="")
        return self._written.get(best, "")

    def customers(self, word: str) -> str:
        """The part of the customer's name that a word almost is, '' for none: the same but for
        accents; or one letter apart, where the name as it is known stands nowhere in the order."""
        from rapidfuzz.distance import OSA  # only an order with words waits for it

        way = _small(word)
        if way in self.customer or bare_of_ending(way) in self.customer:
            return ""
        plain = {plain_letters(word), plain_letters(bare_of_ending(way))}
        for known, part in self.customer.items():
            if plain_letters(part) in plain and len(known) >= _SHORTEST:
                return "" if word.isupper() and part.upper() == word else part
        if word.islower() or len(way) < _SHORTEST_SLIP:
            return ""
        for known, part in self.customer.items():
            if (
                len(known) >= _SHORTEST_SLIP
                and OSA.distance(known, way, score_cutoff=1) <= 1
                and not any(map(str.isdigit, known + way))
                and known not in self._spelt[plain_letters(part)]
            ):
                return part
        return ""


def _small(word: str) -> str:
    """A word as it is compared: composed, in small letters; ß stays, other than where case alone
    is looked at."""
    return unicodedata.normalize("NFC", word).lower()


def _specials(word: str) -> int:
    """How many of its letters a plain keyboard lacks."""
    return sum(plain_letters(letter) != letter for letter in _small(word) if letter.isalpha())


@dataclass(frozen=True, slots=True)
class _Named:
    """A text in its order."""

    entry: _Entry
    names: _OrderNames


def _named_texts(given: CheckInput) -> Iterator[tuple[Spot, _Named]]:
    """Every text, beside all names of its order."""
    found = list(texts(given))
    names = _OrderNames(given.order.customer.name, found, given)
    for spot, entry in names.entries.items():
        yield spot, _Named(entry, names)


@check(
    "words/names",
    _named_texts,
    why="Who types a name from a mail loses its accents first; the order often holds the same name "
    "as it is really written.",
    source="the order itself: its customer's name and its other words. Accents and strokes are "
    "taken off by Unicode's decompositions and names of letters; one edit is as in Damerau (1964), "
    "who found four of five slips to be a single one (from memory)",
    codes={
        "customer": "almost the customer's own name",
        "accents": "a name that has more accents or special letters elsewhere in the order",
    },
)
def names(named: _Named, _: Limits) -> Remarks:
    """Every name is spelt as the order has it elsewhere."""
    for word in dict.fromkeys(words_in(named.entry.text)):
        if own := named.names.customers(word):
            yield note(
                "customer",
                f"{quoted(word)} is almost {quoted(own)}, as the customer’s name is written in "
                "this order.",
                "Look at what the customer wrote; if the name is right as it stands, nothing need "
                "be done.",
                measure=own,
            )
        elif len(word) >= _SHORTEST and (way := named.names.otherwise(word, named.entry)):
            yield note(
                "accents",
                f"{quoted(word)} is written {quoted(way)} elsewhere in this order.",
                "Look at what the customer wrote; these may be different people.",
                measure=way,
            )
