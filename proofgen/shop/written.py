"""Where the words of an order are written: in which file, in which line."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

from proofgen.model import AskedChange, Line, Order
from proofgen.shop.list_reader import column_of, parted_by, records
from proofgen.shop.nodes import Source, read_text
from proofgen.shop.yaml_text import entry

_MOST = 4 * 1024 * 1024  # bytes, as of a list


@dataclass(frozen=True, slots=True)
class Written:
    """One text of an order, as it is written once: in `file`, at `at` (from 1)."""

    file: Path
    at: int
    line: int  # of the order
    slot: str
    pieces: tuple[int, ...]
    text: str

    def as_change(self, new: str) -> AskedChange:
        """The wish that it reads otherwise."""
        return AskedChange(
            pieces=self.pieces, slot=self.slot, line=self.line, old=self.text, new=new
        )


def written_words(order: Order) -> Iterator[Written]:
    """Every text of an order's own, line by line. ShopError where a file is no text."""
    file = order.folder / "order.yaml"
    root = yaml.compose(read_text(file, file.name, _MOST), Loader=yaml.SafeLoader)
    for line in order.lines:
        listed = _listed(line)
        for slot, text in line.words.items():
            if slot not in listed:
                numbers = tuple(piece.number for piece in line.pieces)
                yield Written(file, _at(root, line, slot), line.number, slot, numbers, text)
        if line.list_file:
            for piece in line.pieces:
                at = piece.place.line or 1
                for slot in listed:
                    text = piece.words.get(slot, "")
                    yield Written(line.list_file, at, line.number, slot, (piece.number,), text)


def _listed(line: Line) -> tuple[str, ...]:
    """The words of a line that stand in its list."""
    if line.list_file is None or not line.pieces:
        return ()
    slots = tuple(line.pieces[0].words)
    text = read_text(line.list_file, line.list_file.name, _MOST)
    header = next((c for _, c in records(text, Source(""), parted_by(text, slots)) if any(c)), [])
    named = {column_of(cell, slots) for cell in header}
    return tuple(slot for slot in slots if slot in named)


def _at(root: yaml.Node | None, line: Line, slot: str) -> int:
    """In which line of order.yaml a line's words of this name stand."""
    found = entry(root, "lines")
    if found and isinstance(found[1], yaml.SequenceNode) and len(found[1].value) >= line.number:
        words = entry(found[1].value[line.number - 1], "words")
        text = entry(words[1], slot) if words else None
        if text:
            return int(text[0].start_mark.line) + 1
    return line.place_of("words").line or 1


def whole_words(old: str) -> re.Pattern[str]:
    """Finds these words where they stand by themselves: “Ola” is not in “Olaf”, nor “Anne” in
    “Anne-Marie”, nor a letter in the same with a mark on it."""
    old = unicodedata.normalize("NFC", old)
    marks = "\u0300-\u036f" if old.isascii() else _marks()  # what Latin letters bear
    before = r"(?<!\w)(?<!\w-)" if old[:1].isalnum() else ""
    after = rf"(?![\w{marks}]|-\w)" if old[-1:].isalnum() or _is_mark(old[-1:]) else ""
    return re.compile(before + re.escape(old) + after)


def _is_mark(char: str) -> bool:
    return unicodedata.category(char or " ")[0] == "M"


@cache
def _marks() -> str:
    """The marks that join the letter before them, as ranges of a character class."""
    codes = [code for code in range(0x300, 0x20000) if _is_mark(chr(code))]
    starts = [code for code in codes if not _is_mark(chr(code - 1))]
    ends = [code for code in codes if not _is_mark(chr(code + 1))]
    return "".join(f"{chr(a)}-{chr(b)}" for a, b in zip(starts, ends, strict=True))
