"""What single characters are: joiners that a script needs, emoji; and where words begin and end."""

from __future__ import annotations

import re
import unicodedata

ZWNJ, ZWJ = "\u200c", "\u200d"
# UAX 9, the characters with property Bidi_Control.
BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# Drawn as nothing, though not of category Cf: fillers and the grapheme joiner (from memory).
BLANKS = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0\u2800")
# Cf that are seen: signs that go before Arabic and Kaithi numbers, the end of a verse.
SEEN_FORMATS = frozenset("\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u08e2\U000110bd")
SELECTORS = frozenset("\ufe0e\ufe0f")
_TAGS = range(0xE0020, 0xE0080)
_BLACK_FLAG = "\U0001f3f4"
_KEYCAPS = frozenset("0123456789#*")
# Scripts whose letters join, or whose syllables are steered by a joiner.
_JOINING = (
    "ARABIC", "SYRIAC", "MONGOLIAN", "NKO", "MANDAIC", "DEVANAGARI", "BENGALI", "GURMUKHI",
    "GUJARATI", "ORIYA", "TAMIL", "TELUGU", "KANNADA", "MALAYALAM", "SINHALA", "KHMER", "MYANMAR",
    "BALINESE", "JAVANESE",
)  # fmt: skip
_INSIDE = "'’ʼ‐·-"  # signs that stand inside a name: O’Neil, Anne-Marie, Gal·la


def _is_emoji(char: str) -> bool:
    """Whether a character can be part of an emoji: symbols, skin tones, regional letters."""
    code = ord(char)
    return unicodedata.category(char) == "So" or 0x1F1E6 <= code <= 0x1FAFF


def _joins(char: str) -> bool:
    return unicodedata.category(char)[0] in "LM" and unicodedata.name(char, "").startswith(_JOINING)


def _before(text: str, at: int) -> str:
    """The character before `at` that is no variation selector."""
    at -= 1
    while at >= 0 and text[at] in SELECTORS:
        at -= 1
    return text[at] if at >= 0 else ""


def joiner_belongs(text: str, at: int) -> bool:
    """Whether the ZWJ or ZWNJ at `at` stands where a script or an emoji needs it."""
    before, after = _before(text, at), text[at + 1 : at + 2]
    if before and _joins(before):
        # After a virama (class 9) a joiner may end a word, as in older Malayalam.
        return bool(after and _joins(after)) or unicodedata.combining(before) == 9
    return text[at] == ZWJ and bool(before and after and _is_emoji(before) and _is_emoji(after))


def selector_belongs(text: str, at: int) -> bool:
    """Whether a variation selector follows something it can act on."""
    before = text[at - 1] if at else ""
    return bool(before) and (
        _is_emoji(before) or before in _KEYCAPS or unicodedata.category(before)[0] in "SPN"
    )


def tag_belongs(text: str, at: int) -> bool:
    """Whether a tag character belongs to the flag of a land such as Wales."""
    while at >= 0 and ord(text[at]) in _TAGS:
        at -= 1
    return at >= 0 and text[at] == _BLACK_FLAG


def is_tag(char: str) -> bool:
    return ord(char) in _TAGS


def words_in(text: str) -> list[str]:
    """The words of a text: letters with their marks, digits, and the signs inside names."""
    kept = "".join(
        c if unicodedata.category(c)[0] in "LMN" or c in _INSIDE or c in (ZWJ, ZWNJ) else " "
        for c in text
    )
    bare = (re.sub(rf"^[{_INSIDE}]+|[{_INSIDE}]+$", "", word) for word in kept.split())
    return [word for word in bare if word]
