"""Checks of what the customer's words say: names twice, names nearly known, weekdays of dates."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import date
from functools import lru_cache

from babel.dates import format_date

from proofgen.checks.characters import words_in
from proofgen.checks.dates import Written, weekdays, written_dates
from proofgen.checks.frame import Remarks, check, note, skipped, warn
from proofgen.checks.phrases import day
from proofgen.checks.subjects import (
    CheckInput,
    OrderedLine,
    Spot,
    WrittenText,
    lines,
    texts,
    whole_order,
)
from proofgen.model import Limits, Line
from proofgen.model.name_lists import are_names
from proofgen.say import joined, plain_letters, quoted, runs


@check(
    "words/repeated",
    lines,
    why="A guest list copied together names somebody twice, and somebody else not at all.",
    source="the list itself",
    codes={
        "twice": "the same name more than once",
        "alike": "two names that differ in accents or hyphens alone",
    },
)
def repeated(ordered: OrderedLine, _: Limits) -> Remarks:
    """No name stands in the list twice."""
    if ordered.line.list_file is None:
        return
    for slot, column in name_columns(ordered.line).items():
        twice = list(_groups(column, _same))
        for names, numbers in twice:
            yield warn(
                "twice",
                f"{quoted(names[0])} stands in the list more than once: pieces {runs(numbers)}.",
                "Please say whether these are different people.",
                measure=len(numbers),
                limit=1,
                about=f"{slot}-{_same(names[0])}",
                text=names[0],
                pieces=numbers,
            )
        for names, numbers in _groups(column, _nearly):
            if set(numbers) not in [set(known) for _, known in twice]:
                yield warn(
                    "alike",
                    f"{joined(quoted(n) for n in names)} differ in little: pieces {runs(numbers)}.",
                    "Please say whether these are different people.",
                    measure=len(numbers),
                    limit=1,
                    about=f"{slot}-{_nearly(names[0])}",
                    text=" / ".join(names),
                    pieces=numbers,
                )


def name_columns(line: Line) -> dict[str, dict[int, str]]:
    """Slots of a list whose entries are mostly different: slot to piece number to text."""
    columns: dict[str, dict[int, str]] = {}
    for slot in dict.fromkeys(s for piece in line.pieces for s in piece.words):
        texts = {p.number: p.words[slot] for p in line.pieces if p.words.get(slot, "").strip()}
        different = len({_same(t) for t in texts.values()})
        if are_names(different, len(texts)):
            columns[slot] = texts
    return columns


def _same(text: str) -> str:
    """What two spellings share that differ in case, spaces or composition alone."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())


def _nearly(text: str) -> str:
    """What two spellings share that differ in accents, hyphens or apostrophes too."""
    return "".join(c for c in plain_letters(_same(text)) if c.isalnum())


def _groups(
    texts: dict[int, str], fold: Callable[[str], str]
) -> Iterator[tuple[list[str], tuple[int, ...]]]:
    pieces = defaultdict(list)
    for number, text in texts.items():
        pieces[fold(text)].append(number)
    for shared, numbers in pieces.items():
        if shared and len(numbers) > 1:
            yield list(dict.fromkeys(texts[n] for n in numbers)), tuple(numbers)


_GUESTS = 4  # other names of a list


@check(
    "words/sample",
    texts,
    why="A sample's words stand in for the customer's; left there by a slip, they are pressed.",
    source="the design's own sample: words in its design.md",
    codes={"unchanged": "the words are those of the design's sample"},
)
def sample(written: WrittenText, _: Limits) -> Remarks:
    """No words are still those of the design's sample."""
    if written.sample and _same(written.text) == _same(written.sample):
        # In a list it is a guest's own name as a rule.
        yield (note if written.others >= _GUESTS else warn)(
            "unchanged",
            f"{quoted(written.text)} is what the design’s sample says.",
            "Write the customer’s own words there; if they want just these, nothing need be done.",
        )


# Shorter names are one letter away from many others: Tim and Tom, José and Joss.
_SHORTEST = 5
_MOST_NEAR = 3  # names that are told
_ENDING = re.compile(r"[’']?s$")  # the Fenns, Odalys’s


def _texts_or_order(given: CheckInput) -> Iterator[tuple[Spot, WrittenText | None]]:
    """Every text; without a list of names the order, once."""
    some = list(texts(given))
    if some and given.shop.names is None:
        yield from ((spot, None) for spot, _ in whole_order(given))
    yield from some if given.shop.names is not None else ()


@check(
    "words/spelling",
    _texts_or_order,
    why="A name one letter away from one the shop knows may be a slip of the pen; only the "
    "customer can tell.",
    source="the shop's own list, words/names.txt; one edit as in Damerau (1964), who found four "
    "of five slips to be a single one (from memory)",
    codes={
        "near": "a name that is almost one of the list",
        "no-list": "the shop has no list of names",
    },
)
def spelling(written: WrittenText | None, _: Limits) -> Remarks:
    """No name is almost another that the shop knows."""
    if written is None or written.names is None:
        yield skipped(
            "no-list",
            "Spelling was not compared: the shop has no list of names it knows.",
            "To have it, write words/names.txt with one name on each line.",
            where="words/names.txt",
        )
        return
    known = _known_names(written.names)
    own = {folded(word) for word in words_in(written.customer)}
    for word in dict.fromkeys(words_in(written.text)):
        sure = folded(word) in own or any(c.isdigit() for c in word)
        near = [] if sure else known.near(word)
        if near:
            names = joined((quoted(name) for name in near[:_MOST_NEAR]), "or")
            yield note(
                "near",
                f"{quoted(word)} is almost {names}, which this shop knows.",
                "If the name is right as it stands, nothing need be done.",
                measure=near[0],
            )


class _KnownNames:
    """The names a shop has seen, ready to be asked for near ones."""

    def __init__(self, names: frozenset[str]) -> None:
        self._spelt: dict[str, str] = {}
        self._bare: dict[str, str] = {}
        for name in sorted(names):
            # A full name teaches its parts, too.
            for part in dict.fromkeys([name, *words_in(name)]):
                self._spelt.setdefault(folded(part), part)
                self._bare.setdefault(plain_letters(part), part)
        self._by_length: dict[int, list[str]] = defaultdict(list)
        for spelt in self._spelt:
            self._by_length[len(spelt)].append(spelt)

    def near(self, word: str) -> list[str]:
        """Known names one edit away from an unknown word: a letter more, less, other or swapped
        with its neighbour; or the same but for accents. None for a known word."""
        from rapidfuzz import process  # only a shop with a list waits for it
        from rapidfuzz.distance import OSA

        small = folded(word)
        if small in self._spelt or bare_of_ending(small) in self._spelt:
            return []
        if plain_letters(word) in self._bare:
            return [self._bare[plain_letters(word)]]
        if len(small) < _SHORTEST:
            return []
        lengths = (len(small) - 1, len(small), len(small) + 1)
        as_long = [spelt for length in lengths for spelt in self._by_length.get(length, ())]
        near = process.extract(small, as_long, scorer=OSA.distance, score_cutoff=1, limit=None)
        names = {self._spelt[spelt] for spelt, _, _ in near}
        return sorted(name for name in names if len(name) >= _SHORTEST)


@lru_cache(maxsize=1)  # folding a long list for every text would take longer than all else
def _known_names(names: frozenset[str]) -> _KnownNames:
    return _KnownNames(names)


def folded(name: str) -> str:
    """A name as it is compared: composed, without case."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def bare_of_ending(name: str) -> str:
    """A folded name without the s of many or of whose it is."""
    return _ENDING.sub("", name)


_HAS_YEAR = re.compile(r"\d{4}|\d[./-]\s?\d{2}(?!\d)")


@check(
    "words/weekday",
    texts,
    why="“Friday 12 June 2027” is wrong somewhere, and nobody but the customer knows where.",
    source="the Gregorian calendar; names of days and months from Unicode CLDR, through Babel",
    codes={
        "mismatch": "the weekday is not that of the date",
        "no-such-day": "there is no such day in the calendar",
    },
)
def weekday(written: WrittenText, _: Limits) -> Remarks:
    """Every weekday is that of its date."""
    text = written.text
    if not _HAS_YEAR.search(text):
        return  # most words are names; no language's calendar is loaded for those
    languages = tuple(dict.fromkeys(("en", *written.languages)))
    dates = written_dates(text, languages)
    for one in dates:
        if not one.days:
            yield warn(
                "no-such-day",
                f"There is no day such as {quoted(one.text)}.",
                "Please look at the date again.",
            )
    for one, allowed in _paired(dates, weekdays(text, languages)):
        if one.days and not any(d.weekday() in allowed for d in one.days):
            truth = joined((f"{day(d)} is a {_name_of(d)}" for d in one.days), "or")
            yield warn(
                "mismatch",
                f"{quoted(text)}: {truth}.",
                "Please say which is meant, the weekday or the date.",
                measure=_name_of(one.days[0]),
            )


def _paired(dates: list[Written], named: list[int]) -> list[tuple[Written, list[int]]]:
    """Each date with the weekdays that may be its own; none where that cannot be told."""
    if len(dates) == 1 and named:
        return [(dates[0], named)]
    if len(dates) == len(named):
        return [(one, [number]) for one, number in zip(dates, named, strict=True)]
    return []


def _name_of(when: date) -> str:
    return format_date(when, "EEEE", locale="en")
