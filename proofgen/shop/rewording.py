"""Puts other words into an order: its order.yaml or a line's list, every other letter kept."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import yaml

from proofgen import store
from proofgen.errors import ShopError
from proofgen.model import AskedChange, Line, Order
from proofgen.say import pieces as say_pieces
from proofgen.say import quoted
from proofgen.shop.list_reader import cells_of, column_of, parted_by
from proofgen.shop.nodes import read_text
from proofgen.shop.yaml_text import as_yaml, entry

_FORMULA = tuple("=+-@\t\r")  # what a spreadsheet takes for a formula (OWASP, CSV Injection)
_BOM = b"\xef\xbb\xbf"
_MOST = 4 * 1024 * 1024  # bytes, as of a list


@dataclass(frozen=True, slots=True)
class Left:
    """What was not written, and why."""

    asked: AskedChange
    why: str


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a text of an order is written: a row of a line's list (0: the first piece's), or the
    words of the line in order.yaml."""

    file: Path
    line: int
    slot: str
    row: int | None = None
    parts: str = ","  # what parts the cells of that list


def reword(
    order: Order, wanted: Sequence[AskedChange], reads_as: Callable[[str], str]
) -> tuple[list[Path], list[Left]]:
    """Write every wanted text whose place still reads `old`; the files that changed, and what was
    left. `reads_as` makes a written text what a proof shows of it.

    A file is written whole or not at all, and only when it reads back as it was but for the texts.
    Errors: ShopError where it does not; MachineError.
    """
    texts: dict[_Place, str] = {}
    left: list[Left] = []
    for one in wanted:
        if not one.new.strip():
            left.append(Left(one, "ask the customer what it should be"))
            continue
        found, not_found = _places(order, one, reads_as)
        new = unicodedata.normalize("NFC", one.new)
        if any(texts.get(place, new) != new for place in found):
            found, not_found = [], [Left(one, "it is asked for in two ways")]
        texts |= dict.fromkeys(found, new)
        left += not_found
    files = list(dict.fromkeys(place.file for place in texts))
    made = {file: _with(file, {p: t for p, t in texts.items() if p.file == file}) for file in files}
    return [file for file in files if store.write(file, made[file], durable=True)], left


def _places(
    order: Order, asked: AskedChange, reads_as: Callable[[str], str]
) -> tuple[list[_Place], list[Left]]:
    """Where the text stands, and for which pieces it cannot be put there."""
    line = next((one for one in order.lines if one.number == asked.line), None)
    there = {piece.number: row for row, piece in enumerate(line.pieces)} if line else {}
    if line is None or not set(asked.pieces) & there.keys():
        return [], [Left(asked, f"line {asked.line} has no {say_pieces(asked.pieces)} any more")]
    parts, columns = _columns(line, asked.slot)
    in_list = asked.slot in columns
    found: list[_Place] = []
    left: list[Left] = []
    for number in asked.pieces:
        why = _why_not(line, asked, number, in_list, reads_as)
        if why:
            left.append(Left(replace(asked, pieces=(number,)), why))
        elif in_list and line.list_file:
            found.append(_Place(line.list_file, line.number, asked.slot, there[number], parts))
        else:
            found.append(_Place(order.folder / "order.yaml", line.number, asked.slot))
    others = sorted(there.keys() - set(asked.pieces))
    if found and others and not in_list:
        why = f"order.yaml has these words once, for {say_pieces(others)} as well"
        return [], [*left, Left(asked, why)]
    return list(dict.fromkeys(found)), left


def _why_not(
    line: Line, asked: AskedChange, number: int, in_list: bool, reads_as: Callable[[str], str]
) -> str:
    """Why a piece cannot be given the text; '' where it can."""
    piece = next((one for one in line.pieces if one.number == number), None)
    if piece is None:
        return f"line {line.number} has no piece {number} any more"
    now = reads_as(piece.words.get(asked.slot, ""))
    if now != reads_as(asked.old):
        return f"it reads {quoted(now)} {'already' if now == reads_as(asked.new) else 'now'}"
    if in_list and asked.new.startswith(_FORMULA):
        return "a spreadsheet would take its first sign for a formula"
    if not in_list and asked.slot not in line.words:
        return "the order does not write it: the design has these words"
    return ""


def _columns(line: Line, slot: str) -> tuple[str, list[str]]:
    """What parts the cells of a line's list, as it was read, and what its columns are called."""
    if line.list_file is None:
        return ",", []
    text = read_text(line.list_file, line.list_file.name, _MOST)
    parts = parted_by(text, tuple(line.pieces[0].words) if line.pieces else ())
    return parts, [name for name, _ in _header(text, parts, [slot])]


def _with(file: Path, texts: dict[_Place, str]) -> bytes:
    data = file.read_bytes()
    text = read_text(file, file.name, _MOST)
    made = _in_list(text, texts) if file.name != "order.yaml" else _in_order(text, texts)
    return (_BOM if data.startswith(_BOM) else b"") + made.encode()


def _set(text: str, spans: dict[tuple[int, int], str]) -> str:
    """The text with what stands at these places replaced."""
    for (start, end), new in sorted(spans.items(), reverse=True):
        text = text[:start] + new + text[end:]
    return text


# -- order.yaml ------------------------------------------------------------------------------


def _in_order(text: str, texts: dict[_Place, str]) -> str:
    spans: dict[tuple[int, int], str] = {}
    wanted = yaml.load(text, Loader=yaml.BaseLoader)  # texts alone, no objects
    for place, new in texts.items():
        key, node = _written(text, place)
        start, end = node.start_mark.index, node.end_mark.index
        blank = len(text[start:end]) - len(text[start:end].rstrip())  # below a text of many lines
        spans[start, end - blank] = as_yaml(new)
        wanted["lines"][place.line - 1]["words"][key] = new
    made = _set(text, spans)
    if yaml.load(made, Loader=yaml.BaseLoader) != wanted:
        raise ShopError(
            "the words could not be put into order.yaml as it is written",
            "write them there by hand",
        )
    return made


def _written(text: str, place: _Place) -> tuple[str, yaml.ScalarNode]:
    """The key and the value of a line's words."""
    lines = entry(yaml.compose(text, Loader=yaml.SafeLoader), "lines")
    if lines and isinstance(lines[1], yaml.SequenceNode) and len(lines[1].value) >= place.line:
        words = entry(lines[1].value[place.line - 1], "words")
        found = entry(words[1], place.slot) if words else None
        if found and isinstance(found[1], yaml.ScalarNode):
            return str(found[0].value), found[1]
    raise ShopError(f"order.yaml has no {place.slot} in line {place.line}", "write it by hand")


# -- a list ----------------------------------------------------------------------------------


def _in_list(text: str, texts: dict[_Place, str]) -> str:
    slots = list(dict.fromkeys(place.slot for place in texts))
    parts = next(place.parts for place in texts)
    columns = [name for name, _ in _header(text, parts, slots)]
    rows = list(_rows(text, parts))[1:]
    spans: dict[tuple[int, int], str] = {}
    for place, new in texts.items():
        row, column = rows[place.row or 0], columns.index(place.slot)
        if column >= len(row):  # spreadsheets leave trailing cells out
            end = row[-1][1]
            spans[end, end] = parts * (column + 1 - len(row)) + _cell(new, parts)
        else:
            start, end = row[column]
            spans[start, end] = _cell(new, parts, always=text[start : start + 1] == '"')
    made = _set(text, spans)
    if _values(made, texts, columns) != list(texts.values()) or len(
        list(_rows(made, parts))
    ) != len(list(_rows(text, parts))):
        raise ShopError("the words could not be put into the list", "write them there by hand")
    return made


def _values(text: str, texts: dict[_Place, str], columns: Sequence[str]) -> list[str]:
    """How the list reads at these places."""
    parts = next(place.parts for place in texts)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=parts, strict=True)
    rows = [row for row in reader if any(cell.strip() for cell in row)][1:]
    return [rows[place.row or 0][columns.index(place.slot)] for place in texts]


def _rows(text: str, parts: str) -> Iterator[list[tuple[int, int]]]:
    """Where the cells of every row stand that is not wholly empty, as the reader counts rows."""
    for row in cells_of(text, parts):
        if any(text[start:end].strip('" \t') for start, end in row):
            yield row


def _header(text: str, parts: str, slots: Sequence[str]) -> list[tuple[str, tuple[int, int]]]:
    first = next(iter(_rows(text, parts)), [])
    names = (text[start:end].strip().strip('"') for start, end in first)
    return [(column_of(name, slots), span) for name, span in zip(names, first, strict=True)]


def _cell(text: str, parts: str, *, always: bool = False) -> str:
    plain = not always and text == text.strip() and not set(text) & {parts, '"', "\n", "\r"}
    return text if plain else '"' + text.replace('"', '""') + '"'
