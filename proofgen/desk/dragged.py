"""A file's name as a person types it or drags it into the window of a terminal."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

_QUOTES = ("'", '"')


def typed_path(text: str) -> Path:
    """The file that is meant. Terminals put a dragged name in quotes (Windows, Linux), backslashes
    before its spaces (macOS), an ampersand ahead (PowerShell), or give an address (file://…): what
    is there counts; where nothing is, what stands between the quotes."""
    plain = _bare(text.strip())
    for name in _readings(text.strip()):
        path = Path(name)
        try:
            if name and path.expanduser().exists():
                return path.expanduser()
        except (OSError, ValueError, RuntimeError):
            continue
    return Path(plain)


def _bare(text: str) -> str:
    """Without the quotes around it."""
    text = text.removeprefix("& ").strip()
    if len(text) > 1 and text[0] == text[-1] and text[0] in _QUOTES:
        return text[1:-1]
    return text


def _readings(text: str) -> Iterator[str]:
    """The names that a text may stand for, the plainest first."""
    yield text
    yield _bare(text)
    if text.startswith("file:"):
        yield url2pathname(unquote(urlsplit(text).path))
    try:
        words = shlex.split(text)
    except ValueError:
        return
    yield " ".join(words)
