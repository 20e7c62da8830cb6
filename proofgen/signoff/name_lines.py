"""Lines of a letter that look like names in a list: no sentence, greeting or signature."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from proofgen.signoff import manners
from proofgen.signoff.wording import QUOTE

_LEAST = 5  # lines of a list
_MOST_LETTERS, _MOST_WORDS = 48, 6  # of a name
_BULLET = re.compile(r"^\s*(?:[-*•·–—]|\(?\d{1,3}[.):])\s+")
_NO_NAME = re.compile(r"[.:!?…@=<>/]$|@|https?:|^[^\W\d_]+\.?: ")
# Ends a sentence; not behind an initial, St, Jr …
_STOP = re.compile(r"(?:[!?]|(?<!\b\w)(?<!\b(?:St|Dr|Jr|Sr|Mr|Ms))(?<!\bMrs)\.)(?=\s|$)")
_BEFORE_LAST = re.compile(r"(?:^|\s+)(?:and|und|sowie|y|e|et|&|og|och|en|i|و)\s+", re.IGNORECASE)
_GREETINGS = frozenset(manners.SALUTATIONS) - {"to"}
_WHOLE = frozenset((*manners.THANKS, *manners.CLOSINGS))


def bare_lines(text: str) -> Iterator[str]:
    """The lines without marks of quoting, bullets, numbers and a comma at the end; '' for an empty
    one."""
    for line in unicodedata.normalize("NFC", text).splitlines():
        yield _BULLET.sub("", QUOTE.sub("", line)).strip().rstrip(",;").rstrip()


def lists_in(text: str) -> list[list[str]]:
    """Each run of five lines or more that look like names, as far apart from each other."""
    found: list[list[str]] = [[]]
    gap, usual = 0, 0
    for line in bare_lines(text):
        if not line:
            gap += 1
            continue
        now = found[-1]
        if not _is_like_name(line):
            found.append([])
        elif now and (len(now) == 1 or gap == usual):
            usual = gap
            now.append(line)
        else:
            found.append([line])
        gap = 0
    return [one for one in found if len(one) >= _LEAST]


def lists_in_sentences(text: str) -> list[list[str]]:
    """The same of names that stand one behind the other, parted by commas: “Names: Zoë, Bo, Ada,
    Bram and Jana”. The first may have words before it."""
    found = []
    lines = [QUOTE.sub("", line) for line in unicodedata.normalize("NFC", text).splitlines()]
    for paragraph in re.split(r"\n\s*\n", "\n".join(lines)):
        for sentence in _STOP.split(" ".join(paragraph.split())):
            names = [one.strip() for one in re.split(r"[,;]\s", sentence.rpartition(": ")[2])]
            last = [one.strip() for one in _BEFORE_LAST.split(names.pop()) if one.strip()]
            names = [one for one in [*names, *last] if one]
            if len(names) >= _LEAST and all(map(_is_like_name, names)):
                found.append(names)
    return found


def _is_like_name(line: str) -> bool:
    words = line.casefold().split()
    if len(line) > _MOST_LETTERS or len(words) > _MOST_WORDS or _NO_NAME.search(line):
        return False
    if not any(c.isalpha() for c in line) or " ".join(words) in _WHOLE:
        return False
    return words[0] not in _GREETINGS and " ".join(words[:2]) not in _GREETINGS
