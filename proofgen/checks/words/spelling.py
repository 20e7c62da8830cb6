"""Check words/spelling."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

from proofgen.checks.characters import words_in
from proofgen.checks.phrases import joined, quoted
from proofgen.checks.registry import Said, check, note, skipped
from proofgen.checks.subjects import CheckInput, OrderSubject, TextSubject, texts, whole_order

# Shorter names are one letter away from many others: Tim and Tom, José and Joss.
SHORTEST = 5
_TOLD = 3
_ENDING = re.compile(r"[’']?s$")  # the Fenns, Odalys’s


def folded(name: str) -> str:
    """A name as it is compared: composed, without case."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def bare(name: str) -> str:
    """A name without accents."""
    split = unicodedata.normalize("NFD", folded(name))
    return "".join(c for c in split if not unicodedata.combining(c))


class Known:
    """The names a shop has seen, ready to be asked for near ones."""

    def __init__(self, names: frozenset[str]) -> None:
        self.spelt: dict[str, str] = {}
        self.bare: dict[str, str] = {}
        for name in sorted(names):
            # A full name teaches its parts, too.
            for part in dict.fromkeys([name, *words_in(name)]):
                self.spelt.setdefault(folded(part), part)
                self.bare.setdefault(bare(part), part)
        self.letters = "".join(sorted({c for name in self.spelt for c in name}))

    def near(self, word: str) -> list[str]:
        """Known names one edit away from an unknown word: a letter more, less, other or swapped
        with its neighbour; or the same but for accents. None for a known word."""
        plain = folded(word)
        if plain in self.spelt or _ENDING.sub("", plain) in self.spelt:
            return []
        if bare(word) in self.bare:
            return [self.bare[bare(word)]]
        if len(plain) < SHORTEST:
            return []
        found = {self.spelt[edit] for edit in self._edits(plain) if edit in self.spelt}
        return sorted(name for name in found if len(name) >= SHORTEST)

    def _edits(self, word: str) -> Iterator[str]:
        for at in range(len(word) + 1):
            head, tail = word[:at], word[at:]
            if tail:
                yield head + tail[1:]
            if len(tail) > 1:
                yield head + tail[1] + tail[0] + tail[2:]
            for letter in self.letters:
                yield head + letter + tail
                if tail:
                    yield head + letter + tail[1:]


@lru_cache(maxsize=4)
def _known(names: frozenset[str]) -> Known:
    return Known(names)


def _looked_at(given: CheckInput) -> Iterator[TextSubject | OrderSubject]:
    """Every text; without a list the order, once."""
    some = list(texts(given))
    yield from some if given.shop.names is not None or not some else whole_order(given)


@check(
    "words/spelling",
    over=_looked_at,
    why="A name one letter away from one the shop knows may be a slip of the pen; only the "
    "customer can tell.",
    source="the shop's own list, words/names.txt; one edit as in Damerau (1964), who found four "
    "of five slips to be a single one (from memory)",
    codes={
        "near": "a name that is almost one of the list",
        "no-list": "the shop has no list of names",
    },
)
def spelling(subject: TextSubject | OrderSubject) -> Iterator[Said]:
    """No name is almost another that the shop knows."""
    names = subject.given.shop.names
    if names is None or isinstance(subject, OrderSubject):
        yield skipped(
            "no-list",
            "Spelling was not compared: the shop has no list of names it knows.",
            "To have it, write words/names.txt with one name on each line.",
            where="words/names.txt",
        )
        return
    known = _known(names)
    for word in dict.fromkeys(words_in(subject.text)):
        if any(c.isdigit() for c in word):
            continue
        near = known.near(word)
        if near:
            told = joined((quoted(name) for name in near[:_TOLD]), "or")
            yield note(
                "near",
                f"{quoted(word)} is almost {told}, which this shop knows.",
                "If the name is right as it stands, nothing need be done.",
                measure=near[0],
            )
