"""A file's name with spaces, typed or pasted without quotes: its words are put together again."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path


def in_one_word(typed: Sequence[str]) -> list[str]:
    """The words of a command; those that together name a file that is there are one, also behind
    PLACE= or --option=. A word that is a file by itself begins no longer name."""
    found, begin = list[str](), 0
    while begin < len(typed):
        end = _end(typed, begin)
        found.append(" ".join(typed[begin:end]))
        begin = end
    return found


def _end(typed: Sequence[str], begin: int) -> int:
    """Where the name that begins there ends; the next word where it is none of several."""
    for end in range(begin + 1, len(typed) + 1):
        words = " ".join(typed[begin:end])
        if _is_file(words) or ("=" in typed[begin] and _is_file(words.partition("=")[2])):
            return end
    return begin + 1


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except (OSError, ValueError):  # too long for a name, or with a null
        return False
