"""guests.csv: one row per piece, its columns named like the design's words; what other columns say
goes to the press with the piece."""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from proofgen.errors import Place
from proofgen.say import did_you_mean, quoted, sentences
from proofgen.shop.getters import MOST_TEXT, named
from proofgen.shop.nodes import Source, read_text

MOST_ROWS = 5000
_MOST_COLUMNS = 50
_MOST_BYTES = 4 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Row:
    """The words of one piece and what other columns say of it, as written; where it begins."""

    words: dict[str, str]
    place: Place
    more: dict[str, str] = field(default_factory=dict)


def read_list(path: Path, source: Source, slots: Sequence[str]) -> tuple[Row, ...]:
    """The rows of a list; wholly empty ones are dropped. Faults go to `source`."""
    text = read_text(path, source.file, _MOST_BYTES)
    rest = ((n, cells) for n, cells in records(text, source) if any(c.strip() for c in cells))
    header_line, header = next(rest, (1, []))
    columns = _columns(header, header_line, source, slots)
    rows: list[Row] = []
    for line, cells in rest:
        if len(rows) == MOST_ROWS:
            source.fault(line, f"this list has more than {MOST_ROWS} rows", "make two orders of it")
            break
        while len(cells) > len(columns) and not cells[-1].strip():
            cells.pop()  # spreadsheets add empty columns
        if len(cells) > len(columns):
            source.fault(
                line,
                f"this row has {len(cells)} cells but the first row names {len(columns)}",
                "put words that hold a comma or semicolon in double quotes",
            )
            continue
        words = [unicodedata.normalize("NFC", cell) for cell in cells]
        words += [""] * (len(columns) - len(words))  # spreadsheets leave trailing cells out
        if any(len(word) > MOST_TEXT for word in words):
            source.fault(line, f"a cell has more than {MOST_TEXT} letters", "shorten it")
            continue
        row = dict(zip(columns, words, strict=True))
        own = {name: text for name, text in row.items() if name in slots}
        more = {name: text for name, text in row.items() if name not in slots}
        rows.append(Row(own, source.place(line), more))
    if not rows and not source.faults:
        source.fault(header_line, "this list has no row below its first", "add one row per piece")
    return tuple(rows)


def parted_by(text: str) -> str:
    """What parts the cells: a semicolon when the first row has one and no comma, as spreadsheets
    write it in many countries."""
    first = text.split("\n", 1)[0]
    return ";" if ";" in first and "," not in first else ","


def cells_of(text: str) -> Iterator[list[tuple[int, int]]]:
    """Where each record's cells stand in the text, their quotes included (RFC 4180)."""
    parts, at, row = parted_by(text), 0, list[tuple[int, int]]()
    cell = re.compile(rf'"(?:[^"]|"")*"|[^{parts}\r\n]*')
    while at <= len(text):
        found = cell.match(text, at)
        assert found  # it may be empty
        row.append(found.span())
        at = found.end()
        if text[at : at + 1] == parts:
            at += 1
            continue
        yield row
        row = []
        at += 2 if text[at : at + 2] == "\r\n" else 1


def records(text: str, source: Source) -> Iterator[tuple[int, list[str]]]:
    """Each record with the line it begins in."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=parted_by(text), strict=True)
    begins = 1
    try:
        for cells in reader:
            yield begins, cells
            begins = reader.line_num + 1
    except csv.Error as error:
        source.fault(
            begins,
            f"this row cannot be read ({error})",
            "check its double quotes: one before and one after the words, doubled inside",
        )


def column_of(cell: str, slots: Sequence[str]) -> str:
    """What a column is called: the design's word that its first cell names, whatever the capitals
    ("Name" in a spreadsheet is name), else as it is written."""
    name = unicodedata.normalize("NFC", cell.strip())
    by_fold = {slot.casefold(): slot for slot in slots}
    alone = len(by_fold) == len(slots) and name not in slots
    return by_fold.get(name.casefold(), name) if alone else name


def _columns(
    header: Sequence[str], line: int, source: Source, slots: Sequence[str]
) -> tuple[str, ...]:
    last = max((i for i, cell in enumerate(header) if cell.strip()), default=-1)
    columns = tuple(column_of(cell, slots) for cell in header[: last + 1])
    cure = f"name the columns like the design's words: {named(slots) or 'it has none'}"
    if len(columns) > _MOST_COLUMNS:
        source.fault(line, f"this list has more than {_MOST_COLUMNS} columns", cure)
        return columns[:_MOST_COLUMNS]
    if not columns and not source.faults:
        source.fault(line, "the first row must name the columns", cure)
    for column in dict.fromkeys(columns):
        if not column:
            source.fault(line, "a column of this list has no name", cure)
        elif columns.count(column) > 1:
            source.fault(line, f"two columns are named {quoted(column)}", "keep one")
        elif meant := _meant(column, columns, slots):
            source.fault(
                line,
                f"column {quoted(column)} is not a word of the design",
                sentences(meant, "Or give it a name that is less like it: it goes to the ticket"),
            )
    if columns and not set(columns) & set(slots) and not source.faults:
        source.fault(line, "the first row of this list names no word of the design", cure)
    return columns


def _meant(column: str, columns: Sequence[str], slots: Sequence[str]) -> str:
    """'did you mean “guest”?' of a column that may be a word of the design, misspelt."""
    return "" if column in slots else did_you_mean(column, [s for s in slots if s not in columns])
