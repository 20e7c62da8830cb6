"""Text of unknown origin made safe, by one rule for each surface it may reach.

- A sentence (finding, error, change; terminal, page and JSON alike): `visible` and `quoted` write
  out whatever cannot be seen, ends a line, turns the direction of writing or steers a terminal.
- A terminal, as the last step before printing: `for_terminal` does the same and keeps lines.
- A page: the template engine escapes and isolates; `for_page` writes out only what no page can
  hold and what would turn the words around it, because a customer's words are shown as they will be
  pressed.
- A letter: `for_letter` sets a value on one line and drops what cannot be seen.
- JSON: `for_json` escapes what cannot be seen, so that it reads back as it was.
- A file's name: `file_name` makes one of our own.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from pathlib import Path

from proofgen.errors import written_out

_LONGEST = 60  # of a quoted text, characters
_ENDING = 15  # of a long file name, so that its kind can be read
_JOINERS = "\u200c\u200d"  # Persian, Indic names and emoji need them
_MARKS = "\u200e\u200f\u061c"  # of direction, without a scope: they lead nothing astray
_ISOLATES = "\u2068\u2069"  # what is between them has its own direction (Unicode UAX 9)
_TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067")  # whatever comes after them
# Names that Windows keeps for devices, with any ending (learn.microsoft.com, "Naming Files,
# Paths, and Namespaces").
_DEVICES = frozenset(
    ["con", "prn", "aux", "nul", "conin$", "conout$"]
    + [f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"]
)


def _hidden(char: str) -> bool:
    """Whether nobody can see it: controls, formats, halves of letters, line ends, no letters."""
    return not char.isprintable() and unicodedata.category(char) != "Zs" and char not in _JOINERS


def _each(text: str, change: Callable[[str], str]) -> list[str]:
    if text.isprintable():  # nearly always
        return list(text)
    return [change(c) if _hidden(c) else c for c in text]


def _written_out(char: str) -> str:
    return " / " if char == "\n" else written_out(char)


def visible(text: str) -> str:
    """One line in which all can be seen: hidden characters as ⟨U+001B⟩, line ends as ' / '."""
    return "".join(_each(text, _written_out))


def cut(text: str, most: int = _LONGEST) -> str:
    """Words without quotes: all visible, on one line, cut to `most` characters."""
    return quoted(" ".join(text.split()), most)[1:-1]


def quoted(text: str, most: int = _LONGEST, *, ending: int = 0) -> str:
    """“A customer's words”, all visible, cut to `most` characters; `ending` of them from the end.

    What was written out is cut as a whole or not at all.
    """
    units = _each(text[: 2 * most] + text[2 * most :][-most:], _written_out)
    if sum(map(len, units)) > most:
        tail = _fitting(units[::-1], ending)[::-1]
        units = [*_fitting(units, most - 1 - ending), "…", *tail]
    return f"“{''.join(units)}”"


def respaced(text: str) -> str:
    """What two texts share that differ in spaces or composition (NFC) alone."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def quoted_whole(text: str) -> str:
    """“All that a customer wrote”, all visible, and never cut."""
    return f"“{visible(text)}”"


def _fitting(units: list[str], most: int) -> list[str]:
    kept: list[str] = []
    for unit in units:
        most -= len(unit)
        if most < 0:
            break
        kept.append(unit)
    return kept


def quoted_file(path: Path) -> str:
    """“A file's name”, all visible; of a long one the beginning and the end."""
    return quoted(path.name, ending=_ENDING)


def for_terminal(text: str) -> str:
    """Lines that cannot steer the terminal; indents and line ends stay."""
    if text.isprintable():
        return text
    lines = text.split("\n")  # of a long table hardly one holds what cannot be seen
    return "\n".join(
        "".join(_each(line, lambda c: c if c == "\t" else _written_out(c))) for line in lines
    )


def for_page(value: object) -> object:
    """A value on its way into a page: controls and halves of letters, which HTML cannot hold
    (HTML, 13.2.3.5), and what turns the direction of the words around it are written out. Markup
    and what is no text pass as they are; so does a sentence's own isolates, as far as they pair
    up."""
    if not isinstance(value, str) or hasattr(value, "__html__") or value.isprintable():
        return value
    turns = _TURNS if _in_pairs(value) else _TURNS | set(_ISOLATES)
    return "".join(
        written_out(c)
        if c in turns or (unicodedata.category(c) in ("Cc", "Cs") and c not in "\n\r\t")
        else c
        for c in value
    )


def is_seen(text: str) -> bool:
    """Whether every character of a name can be seen; what joins letters (Persian, Indic names) and
    marks of direction (as Hebrew and Arabic programs set them) are let pass."""
    return not any(_hidden(c) and c not in _MARKS for c in text)


def _in_pairs(text: str) -> bool:
    depth = 0
    for char in text:
        depth += (char == _ISOLATES[0]) - (char == _ISOLATES[1])
        if depth < 0:
            return False
    return depth == 0


def for_letter(text: str) -> str:
    """A value in a plain-text letter: one line, without what could break a mail's head or turn
    the direction of the words beside it. A sentence's own isolates stay, as far as they pair up."""
    marks = _MARKS + (_ISOLATES if _in_pairs(text) else "")
    kept = "".join(c for c in text if c in marks or c.isspace() or not _hidden(c))
    return " ".join(kept.split())


def for_json(document: object) -> str:
    """A document as indented JSON; hidden characters are escaped (RFC 8259, 7) and so lose their
    power over a terminal, not their meaning."""
    import json  # a help text does without

    text = json.dumps(document, ensure_ascii=False, indent=2)
    return "".join(_each(text, lambda c: c if c == "\n" else _escaped(c)))


def _escaped(char: str) -> str:
    units = char.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[i : i + 4]}" for i in range(0, len(units), 4))


def is_device(name: str) -> bool:
    """Whether Windows would take the name for a device."""
    return name.split(".")[0].strip().casefold() in _DEVICES


def file_name(text: str, fallback: str = "order") -> str:
    """A file or folder name of our own making: at most 40 lower-case ASCII letters, digits and
    single hyphens, no device of Windows."""
    plain = unicodedata.normalize("NFKD", text.replace("ß", "ss")).encode("ascii", "ignore")
    name = re.sub(r"[^a-z0-9]+", "-", plain.decode().lower()).strip("-")[:40].strip("-")
    if not name or is_device(name):
        return f"{fallback}-{name}".strip("-")
    return name
