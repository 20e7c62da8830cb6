"""Lines for a terminal: indented, wrapped, status by word and symbol, colour only as an extra."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence

from proofgen.say import visible

WIDTH = 88

# status: symbol, SGR code (ECMA-48, 8.3.117)
STYLES = {
    "stop": ("✕", "1;31"),
    "broken": ("◆", "1;31"),
    "warn": ("▲", "33"),
    "skipped": ("○", "36"),
    "note": ("·", "2"),
    "pass": ("✓", "32"),
}


_COMMAND = re.compile(r"(?<=: )proofgen [^;]+")
_LINE = re.compile(r"(?<= as )[\w-]+: \{[^;]*\}")  # of a file, as it must read
_HELD = "\x1f"  # a space that no line may end at; `visible` leaves no other


def coloured(text: str, code: str, colour: bool) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if colour and code else text


def wrapped(text: str, indent: str, first: str | None = None) -> list[str]:
    """`text` in lines of at most WIDTH, the first one behind `first`, the others behind `indent`.

    Words are never broken: file names and codes stay whole; and neither is a command to type, which
    in two lines is another command, nor a line to write into a file.
    """
    held = visible(text)
    for whole in (_COMMAND, _LINE):
        held = whole.sub(lambda one: one[0].replace(" ", _HELD), held)
    lines = textwrap.wrap(
        held,
        WIDTH,
        initial_indent=indent if first is None else first,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_HELD, " ") for line in lines]


def commands_apart(text: str) -> list[tuple[str, bool]]:
    """A text in parts, each with whether it is a command to type, which must not be broken; the
    grave accents that a terminal has round it are left out."""
    parts, at = [], 0
    for command in _COMMAND.finditer(text):
        parts += [(text[at : command.start()], False), (command[0], True)]
        at = command.end()
    parts.append((text[at:], False))
    return [(part.replace("`", ""), typed) for part, typed in parts]


def columns(rows: Sequence[tuple[str, ...]], right: frozenset[int] = frozenset()) -> list[str]:
    """Rows under each other; columns in `right` are aligned to the right."""
    widths = [max(_width(row[i]) for row in rows) for i in range(len(rows[0]))] if rows else []
    lines = []
    for row in rows:
        cells = [
            " " * (w - _width(cell)) + cell if i in right else cell + " " * (w - _width(cell))
            for i, (cell, w) in enumerate(zip(row, widths, strict=True))
        ]
        lines.append("  ".join(cells).rstrip())
    return lines


def _width(text: str) -> int:
    """Columns a text takes in a terminal: wide letters two, marks above and below none."""
    if all(c < "\u0300" for c in text):
        return len(text)
    import wcwidth  # takes as long as three starts of Python; few texts need it

    return max(wcwidth.wcswidth(text), 0)


def what_differs(
    edition: int, *, why: Sequence[str], told: Sequence[str], since: Sequence[str]
) -> list[str]:
    """What differs from an edition, in whole sentences: its artwork, its terms, how it is
    pressed."""
    return [
        *(f"Not as proof {edition}: {sentence}" for sentence in why),
        *(f"Since proof {edition}: {clause}." for clause in dict.fromkeys([*told, *since])),
    ]


def since_lines(
    order: str,
    edition: int,
    *,
    why: Sequence[str],
    told: Sequence[str],
    since: Sequence[str],
    indent: str,
) -> list[str]:
    """`what_differs` for a terminal, and how the customer learns of it."""
    lines = []
    for sentence in what_differs(edition, why=why, told=told, since=since):
        lines += wrapped(sentence, indent + "  ", indent)
    if told and not why:
        way = f"The customer learns of it by a new proof only: proofgen proof {order}"
        lines += wrapped(way, indent + "  ", indent)
    return lines
