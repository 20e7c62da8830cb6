"""A text letter by letter, so that a reader meets every one of them."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

_JOINER = "\u200d"


@dataclass(frozen=True, slots=True)
class Letter:
    """What is seen as one letter, and what it is where the eye may err: 'capital', 'digit' …"""

    shown: str
    what: str = ""


def _is_flag_half(char: str) -> bool:
    return "\U0001f1e6" <= char <= "\U0001f1ff"


def _belongs(char: str, before: str) -> bool:
    """Whether `char` is part of the letter `before` (the common cases of Unicode UAX 29)."""
    if char == _JOINER or before.endswith(_JOINER):
        return True
    if unicodedata.category(char) in ("Mn", "Me", "Mc"):
        return True
    if "\U0001f3fb" <= char <= "\U0001f3ff":  # skin tone
        return True
    return _is_flag_half(char) and _is_flag_half(before) and len(before) == 1


def graphemes(text: str) -> list[str]:
    """The text cut into what a reader would call letters, signs and spaces."""
    letters: list[str] = []
    for char in unicodedata.normalize("NFC", text):
        if letters and _belongs(char, letters[-1]):
            letters[-1] += char
        else:
            letters.append(char)
    return letters


def _what(letter: str) -> str:
    first = letter[0]
    if first.isspace():
        return "space" if first in " \N{NO-BREAK SPACE}" else "line end or odd space"
    if first.isdigit():
        return "digit"
    if unicodedata.category(first) in ("Lu", "Lt"):
        return "capital"
    if unicodedata.category(first).startswith("P"):
        return unicodedata.name(first, "sign").lower()
    return ""


def spell(text: str) -> list[Letter]:
    """Each letter with its word: O and 0, l and I, a hyphen and a dash look alike in many faces."""
    return [Letter("␣" if g[0].isspace() else g, _what(g)) for g in graphemes(text)]
