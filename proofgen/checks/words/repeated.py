"""Check words/repeated."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator

from proofgen.checks.phrases import joined, quoted, runs
from proofgen.checks.registry import Said, check, warn
from proofgen.checks.subjects import LineSubject, lines
from proofgen.model import Line

# A column counts as names when most of its entries differ: table numbers and sizes repeat.
_NAMES_SHARE = 0.5


def same(text: str) -> str:
    """What two spellings share that differ in case, spaces or composition alone."""
    return " ".join(unicodedata.normalize("NFKC", text).casefold().split())


def nearly(text: str) -> str:
    """What two spellings share that differ in accents, hyphens or apostrophes too."""
    split = unicodedata.normalize("NFD", same(text))
    return "".join(c for c in split if c.isalnum())


def _groups(
    texts: dict[int, str], fold: Callable[[str], str]
) -> Iterator[tuple[list[str], tuple[int, ...]]]:
    found = defaultdict(list)
    for number, text in texts.items():
        found[fold(text)].append(number)
    for folded, numbers in found.items():
        if folded and len(numbers) > 1:
            yield list(dict.fromkeys(texts[n] for n in numbers)), tuple(numbers)


def name_columns(line: Line) -> dict[str, dict[int, str]]:
    """Slots of a list whose entries are mostly different: slot to piece number to text."""
    columns: dict[str, dict[int, str]] = {}
    for slot in dict.fromkeys(s for piece in line.pieces for s in piece.words):
        texts = {p.number: p.words[slot] for p in line.pieces if p.words.get(slot, "").strip()}
        different = len({same(t) for t in texts.values()})
        if len(texts) > 1 and different > 1 and different / len(texts) >= _NAMES_SHARE:
            columns[slot] = texts
    return columns


@check(
    "words/repeated",
    over=lines,
    why="A guest list copied together names somebody twice, and somebody else not at all.",
    source="the list itself",
    codes={
        "twice": "the same name more than once",
        "alike": "two names that differ in accents or hyphens alone",
    },
)
def repeated(subject: LineSubject) -> Iterator[Said]:
    """No name stands in the list twice."""
    if subject.item.list_file is None:
        return
    for slot, column in name_columns(subject.item).items():
        twice = list(_groups(column, same))
        for names, numbers in twice:
            yield warn(
                "twice",
                f"{quoted(names[0])} stands in the list more than once: pieces {runs(numbers)}.",
                "Please say whether these are different people.",
                measure=len(numbers),
                limit=1,
                about=f"{slot}-{same(names[0])}",
            )
        for names, numbers in _groups(column, nearly):
            if (set(numbers)) not in [set(known) for _, known in twice]:
                yield warn(
                    "alike",
                    f"{joined(quoted(n) for n in names)} differ in little: pieces {runs(numbers)}.",
                    "Please say whether these are different people.",
                    measure=len(numbers),
                    limit=1,
                    about=f"{slot}-{nearly(names[0])}",
                )
