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

from proofgen.errors import Place, ShopError
from proofgen.say import did_you_mean, quoted, sentences
from proofgen.shop.getters import MOST_TEXT, named
from proofgen.shop.nodes import Source, read_text

MOST_ROWS = 5000
_MOST_COLUMNS = 50
_MOST_BYTES = 4 * 1024 * 1024
_TITLES = 10  # lines in which a row of names is looked for, below a title
_QUOTED = '"(?:[^"]|"")*"'
_OWN_KINDS = (".xlsx", ".xls", ".ods", ".numbers")  # what spreadsheets keep for themselves


@dataclass(frozen=True, slots=True)
class Row:
    """The words of one piece and what other columns say of it, as written; where it begins."""

    words: dict[str, str]
    place: Place
    more: dict[str, str] = field(default_factory=dict)


def read_list(path: Path, source: Source, slots: Sequence[str]) -> tuple[Row, ...]:
    """The rows of a list; wholly empty ones are dropped. Faults go to `source`. ShopError for a
    file that is no text."""
    if path.suffix.lower() in _OWN_KINDS:
        raise ShopError(
            "this is a spreadsheet's own file, not a list",
            "save it there as “CSV UTF-8”, and name that file instead",
            source.place(None),
        )
    text = read_text(path, source.file, _MOST_BYTES)
    rest = (
        (n, cells)
        for n, cells in records(text, source, parted_by(text, slots))
        if any(c.strip() for c in cells)
    )
    header_line, header = next(rest, (1, []))
    columns = _columns(header, header_line, source, slots, _named_in(text, slots))
    if not columns:
        return ()
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
                "put words that hold a comma or semicolon in double quotes, or name a column for "
                "every cell in the first row",
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


def parted_by(text: str, names: Sequence[str] = ()) -> str:
    """What parts the cells, by the first row that says something: of the comma, the semicolon of
    spreadsheets in many countries and the tab of cells that were copied out of one, the sign that
    makes most cells that are one of `names`; else the one found most often outside quotes."""
    lines = (found[0] for found in re.finditer(r"[^\r\n]+", text))
    first = next((line for line in lines if line.strip(" ,;\t")), "")
    bare = re.sub(_QUOTED, "", first)

    def rank(sign: str) -> tuple[int, int]:
        cells = re.findall(rf"{_QUOTED}|[^{sign}]+", first)
        return sum(column_of(c.strip('" '), names) in names for c in cells), bare.count(sign)

    return max(",;\t", key=rank)  # the comma, where they are even


def cells_of(text: str, parts: str) -> Iterator[list[tuple[int, int]]]:
    """Where each record's cells stand in the text, their quotes included (RFC 4180)."""
    at, row = 0, list[tuple[int, int]]()
    cell = re.compile(rf"{_QUOTED}|[^{parts}\r\n]*")
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


def records(text: str, source: Source, parts: str = "") -> Iterator[tuple[int, list[str]]]:
    """Each record with the line it begins in; `parts` where it is known what parts the cells."""
    sign = parts or parted_by(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)
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


def _named_in(text: str, slots: Sequence[str]) -> int:
    """The first line that names a word of the design, of those in which a row of names is looked
    for; 0: none does."""
    for number, line in enumerate(re.split(r"\r\n|\r|\n", text, maxsplit=_TITLES)[:_TITLES], 1):
        cells = (cell.strip().strip('"') for cell in re.split(r"[,;\t]", line))
        if any(column_of(cell, slots) in slots for cell in cells):
            return number
    return 0


def _columns(
    header: Sequence[str], line: int, source: Source, slots: Sequence[str], named_in: int
) -> tuple[str, ...]:
    """What the columns are called; () and a fault where the first row names none of the words."""
    last = max((i for i, cell in enumerate(header) if cell.strip()), default=-1)
    columns = tuple(column_of(cell, slots) for cell in header[: last + 1])
    words = named(slots)
    if len(columns) > _MOST_COLUMNS:
        source.fault(
            line,
            f"this list has more than {_MOST_COLUMNS} columns",
            f"take out those that nobody needs; the design's words are: {words or 'none'}",
        )
        return ()
    known = bool(set(columns) & set(slots))
    if not known and not source.faults and (cure := _no_row_of_names(line, words, named_in)):
        source.fault(line, "the first row of this list names no word of the design", cure)
        return ()
    if not columns and not source.faults:
        source.fault(
            line,
            "the first row must name the columns",
            f"name the columns like the design's words: {words}",
        )
    for column in dict.fromkeys(columns):
        _column(column, columns, source, line, slots)
    if columns and not known and not source.faults:
        source.fault(
            line,
            "the first row of this list names no word of the design",
            f"name the columns like the design's words: {words}; if that row is a piece already, "
            "put a row of names above it",
        )
    return columns if known else ()


def _no_row_of_names(line: int, words: str, named_in: int) -> str:
    """What to do about a list that lacks more than a name; '' where names are all it lacks."""
    if not words:
        return "take the line list: out of the order; the design has no words"
    return (
        f"take out what stands above line {named_in}, which names them" if named_in > line else ""
    )


def _column(
    column: str, columns: Sequence[str], source: Source, line: int, slots: Sequence[str]
) -> None:
    """Note what is wrong with the name of one column."""
    free = [slot for slot in slots if slot not in columns]
    if not column:
        source.fault(
            line,
            f"column {columns.index(column) + 1} of this list has no name",
            f"name it {' or '.join(free) or 'as you like'}; what is no word of the design goes to "
            "the ticket",
        )
    elif columns.count(column) > 1:
        source.fault(
            line,
            f"two columns are named {quoted(column)}",
            "take one out with its cells, or give it another name: it goes to the ticket",
        )
    elif column not in slots and (meant := did_you_mean(column, free)):
        source.fault(
            line,
            f"column {quoted(column)} is not a word of the design",
            sentences(meant, "Or give it a name that is less like it: it goes to the ticket"),
        )
