"""A word as it is typed into a terminal: quoted where it has to be, with straight quotes."""

from __future__ import annotations

import re
import shlex
import sys

_PLAIN = re.compile(r"[\w@%+=:,./\\~^-]+")
_SAFE = re.compile(r"\w[\w’'.,&+() -]*")
_TURNED = frozenset('"$`\\!')  # what double quotes do not keep as it is, but for Windows


def can_be_typed(text: str) -> bool:
    """Whether any terminal takes a customer's text, in quotes, as it is."""
    return _SAFE.fullmatch(text) is not None


def for_shell(word: str, *, windows: bool = sys.platform == "win32") -> str:
    """The word, in quotes where it holds a space or what a terminal takes otherwise."""
    plain = _PLAIN.fullmatch(word) and (windows or "\\" not in word)
    if plain:
        return word
    if windows or not _TURNED & set(word):
        return f'"{word}"'
    return shlex.quote(word)
