"""Which way a text runs."""

from __future__ import annotations

from unicodedata import bidirectional


def way_of(text: str) -> str:
    """'ltr' or 'rtl', by a text's first letter that has a way (Unicode UAX 9, P2 and P3)."""
    for way in map(bidirectional, text):
        if way in ("L", "R", "AL"):
            return "ltr" if way == "L" else "rtl"
    return "ltr"
