"""Markdown of what the code declares: cells and tables that no sign of it can break."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

_SIGNS = re.compile(r"([\\`*_{}\[\]<>|&])")


def plain(text: str) -> str:
    """A text as Markdown that shows every letter of it as it is.

    >>> plain("a|b")
    'a&#124;b'
    """
    return _SIGNS.sub(lambda sign: f"&#{ord(sign[1])};", text)


def cell(text: str) -> str:
    """The same on one line, with what stands between backticks as code."""
    parts = " ".join(text.split()).split("`")
    if len(parts) % 2 == 0:
        return plain("`".join(parts))
    return "".join(code(p) if i % 2 else plain(p) for i, p in enumerate(parts))


def code(text: str) -> str:
    """A text as code; `|` would end a cell of a table."""
    return f"`{text}`" if "|" not in text else f"<code>{plain(text)}</code>"


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of Markdown; its cells are Markdown already."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines)
