"""A text letter by letter, so that a reader meets every one of them."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass

from proofgen.say.tongue import Tongue, to_say

_JOINER = "\u200d"


@dataclass(frozen=True, slots=True)
class Letter:
    """What is seen as one letter, and what it is where the eye may err: 'capital', 'digit' …; of
    one that the typeface lacks, that it is not `printed`."""

    shown: str
    what: str = ""
    printed: bool = True


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


_BRACKET_OPENS, _BRACKET_CLOSES = to_say("bracket opens"), to_say("bracket closes")
_QUOTATION = to_say("quotation mark")
_SIGNS: Mapping[str, str] = {
    "-": to_say("hyphen"),
    "\u2010": to_say("hyphen"),
    "\u2011": to_say("hyphen"),
    "\u2013": to_say("dash"),
    "\u2014": to_say("long dash"),
    "'": to_say("straight apostrophe"),
    "\u2019": to_say("apostrophe"),
    "\u2018": to_say("turned apostrophe"),
    **dict.fromkeys('"\u201c\u201d\u201e\u00ab\u00bb\u2039\u203a', _QUOTATION),
    **dict.fromkeys("([{", _BRACKET_OPENS),
    **dict.fromkeys(")]}", _BRACKET_CLOSES),
    ".": to_say("full stop"),
    **dict.fromkeys(",\u060c", to_say("comma")),
    ":": to_say("colon"),
    **dict.fromkeys(";\u061b", to_say("semicolon")),
    **dict.fromkeys("!\u00a1", to_say("exclamation mark")),
    **dict.fromkeys("?\u00bf\u061f", to_say("question mark")),
    "\u2026": to_say("three points"),
    **dict.fromkeys("\u00b7\u2022", to_say("round point")),
    "/": to_say("slash"),
    "\\": to_say("backslash"),
    "_": to_say("underscore"),
    "&": to_say("and sign"),
    "@": to_say("at sign"),
    "#": to_say("number sign"),
    "*": to_say("asterisk"),
    "%": to_say("per cent sign"),
}


def _what(letter: str) -> str:
    first = letter[0]
    if first.isspace():
        return (
            to_say("space") if first in " \N{NO-BREAK SPACE}" else to_say("line end or odd space")
        )
    if first.isdigit():
        return to_say("digit")
    if unicodedata.category(first) in ("Lu", "Lt"):
        return to_say("capital")
    if unicodedata.category(first).startswith("P"):
        return _SIGNS.get(first, to_say("sign"))
    return ""


def lacks(letter: str, missing: str) -> bool:
    """Whether what is seen as one letter is not printed, or not whole: part of it is `missing`."""
    return any(char in missing for char in letter)


def spell(text: str, tongue: Tongue, missing: str = "") -> list[Letter]:
    """Each letter with its word: O and 0, l and I, a hyphen and a dash look alike in many faces."""
    letters = []
    for one in graphemes(text):
        if lacks(one, missing):
            letters.append(Letter(one, tongue("not printed"), printed=False))
            continue
        what = _what(one)
        letters.append(Letter("␣" if one[0].isspace() else one, tongue(what) if what else ""))
    return letters
