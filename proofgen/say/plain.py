"""Letters as a hurried hand types them: without case, accents and strokes."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

# Letters that have no mark to take off, and are not called one "with" something either (names in
# the Unicode Character Database): what is written where a keyboard lacks them. The proof page's
# search has its own (letters.js); a test holds that the two agree.
_OTHERS = {
    "æ": "ae", "œ": "oe", "ĳ": "ij", "þ": "th", "ð": "d", "ı": "i", "ĸ": "q", "ŋ": "n", "ŉ": "n",
    "ȷ": "j", "ƅ": "b", "ǝ": "e", "ə": "e", "ɛ": "e", "ɣ": "g", "ɩ": "i", "ɔ": "o", "ʊ": "u",
    "ɵ": "o", "ʉ": "u", "ſ": "s", "ё": "е",
    "’": "'", "‘": "'", "ʼ": "'", "ʻ": "'", "ʹ": "'", "‐": "-", "‑": "-",
}  # fmt: skip


@lru_cache(maxsize=4096)  # names hold few different letters
def _plain(letter: str) -> str:
    """One small letter without what stands above, below or across it."""
    if letter in _OTHERS:
        return _OTHERS[letter]
    base = unicodedata.normalize("NFD", letter)[0]
    name = unicodedata.name(base, "")
    if not name.startswith(("LATIN", "GREEK")):
        return letter  # elsewhere a mark makes another letter: й, が
    try:
        bare = unicodedata.lookup(name.partition(" WITH ")[0])
    except KeyError:
        return base
    return _OTHERS.get(bare, bare)


def plain_letters(text: str) -> str:
    """A text as it is typed where letters with marks are not at hand: in small letters, those of
    the Latin and Greek alphabets without accents and strokes.

    >>> plain_letters("Małgorzata Novák"), plain_letters("Søren Weiß"), plain_letters("Андрей")
    ('malgorzata novak', 'soren weiss', 'андрей')
    """
    small = unicodedata.normalize("NFC", unicodedata.normalize("NFKC", text).casefold())
    plain: list[str] = []
    for letter in small:
        # A mark that no letter holds in one piece: g̃.
        latin = plain and unicodedata.name(plain[-1][-1], "").startswith(("LATIN", "GREEK"))
        if not (latin and unicodedata.combining(letter)):
            plain.append(_plain(letter))
    return "".join(plain)
