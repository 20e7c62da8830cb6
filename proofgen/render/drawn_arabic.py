"""Arabic words as the row of forms that is seen, for an engine that sets letter by letter.

WeasyPrint 70 draws the text of an SVG one letter at a time, so that Arabic letters would neither
join nor run from right to left. Unicode has each letter's forms (Arabic Presentation Forms-B).
"""

from __future__ import annotations

import functools
import re
import unicodedata
from collections.abc import Mapping

_FORMS = range(0xFE80, 0xFEFD)
_KINDS = ("isolated", "final", "initial", "medial")
_LETTERS = "\u0600-\u08ff\ufe80-\ufefc"
# What runs from left to right within the words: Latin letters and figures.
_OTHER_WAY = re.compile(rf"[^\W{_LETTERS}](?:[^{_LETTERS}]*[^\W{_LETTERS}])?|.", re.DOTALL)
_ARABIC = re.compile(f"[{_LETTERS}]")
_MIRRORS = str.maketrans("()[]{}<>«»", ")(][}{><»«")


@functools.cache
def _table() -> Mapping[str, Mapping[str, str]]:
    """A letter (or lam with alef) to its forms by their kind."""
    table: dict[str, dict[str, str]] = {}
    for code in _FORMS:
        kind, *letters = unicodedata.decomposition(chr(code)).split()
        whole = "".join(chr(int(letter, 16)) for letter in letters)
        table.setdefault(whole, {})[kind.strip("<>")] = chr(code)
    return table


def _units(word: str) -> list[str]:
    """Letters without their marks; lam and alef are one."""
    bare = "".join(c for c in word if unicodedata.category(c) not in ("Mn", "Cf"))
    units: list[str] = []
    for char in bare:
        if units and units[-1] + char in _table():
            units[-1] += char
        else:
            units.append(char)
    return units


def _form(units: list[str], at: int) -> str:
    forms = _table().get(units[at])
    if forms is None:
        return units[at]
    after = at > 0 and "final" in forms and "initial" in _table().get(units[at - 1], {})
    before = (
        at + 1 < len(units) and "initial" in forms and "final" in _table().get(units[at + 1], {})
    )
    return forms[_KINDS[after + 2 * before]]


def as_drawn(text: str) -> str:
    """The forms from left to right; a text without Arabic letters stays as it is."""
    if not _ARABIC.search(text):
        return text
    units = _units(text)
    drawn = "".join(_form(units, at) for at in range(len(units)))
    runs = _OTHER_WAY.findall(drawn)
    return "".join(run.translate(_MIRRORS) if len(run) == 1 else run for run in reversed(runs))
