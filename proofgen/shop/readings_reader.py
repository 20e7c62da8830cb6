"""A CSV of what was read off pressed swatches: a number and CIE Lab, or '#rrggbb', in each row."""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from proofgen.colour import hex_to_rgb8, lab_of
from proofgen.errors import ShopFaults
from proofgen.say import quoted
from proofgen.shop.list_reader import parted_by, records
from proofgen.shop.nodes import Source, read_text
from proofgen.shop.parsers import parse_colour, parse_whole

_NUMBERS = ("number", "no", "no.", "patch", "swatch")
_COLOURS = ("hex", "srgb", "colour", "color")
_LAB = ("l", "a", "b")
_WRITE = "name the columns number,L,a,b or number,hex"
_HEX = re.compile(r"#(?:[0-9a-fA-F]{3}){1,2}")
_DECIMAL = re.compile(r"[+-]?[0-9]{1,4}([.,][0-9]{1,9})?")
_MOST_ROWS = 1000
# Beyond these no surface reads; L of a fluorescent one may pass 100 a little.
_RANGES = {"l": (0.0, 105.0), "a": (-140.0, 140.0), "b": (-140.0, 140.0)}


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read off one swatch: its number, CIE Lab under D65, and the line it stands in."""

    number: int
    lab: tuple[float, float, float]
    line: int


def read_readings(path: Path, numbers: Collection[int]) -> tuple[Reading, ...]:
    """The readings of a file; `numbers` are those of the swatches there are.

    Errors: ShopError for a file that cannot be read, ShopFaults with every bad line.
    """
    source = Source(path.name)
    text = read_text(path, source.file)
    said = (line for line in text.splitlines() if not _is_remark(re.split("[,;\t]", line)[0]))
    parts = parted_by("\n".join(said), (*_NUMBERS, *_COLOURS, *_LAB))
    rows = [(n, [c.strip() for c in cells]) for n, cells in records(text, source, parts)]
    rows = [(n, cells) for n, cells in rows if any(cells) and not _is_remark(cells[0])]
    columns = _columns(rows[0] if rows else (1, []), source)
    readings: dict[int, Reading] = {}
    for line, cells in rows[1 : _MOST_ROWS + 1] if columns else ():
        reading = _reading(line, cells, columns, numbers, source)
        if reading is None:
            continue
        before = readings.setdefault(reading.number, reading)
        if before is not reading:
            source.fault(
                line,
                f"swatch {reading.number} stands in line {before.line} already",
                "keep the one that was read",
            )
    if columns and len(rows) < 2 and not source.faults:
        source.fault(rows[0][0], "there is no reading below the first row", "add a row per swatch")
    if len(rows) > _MOST_ROWS + 1:
        source.fault(rows[_MOST_ROWS + 1][0], "this file has too many rows", "keep one per swatch")
    if source.faults:
        raise ShopFaults(source.faults)
    return tuple(readings.values())


def _is_remark(cell: str) -> bool:
    """Whether a line that begins so is a remark of the maker's own: # and words, not a colour."""
    return cell.lstrip().startswith("#") and not _HEX.fullmatch(cell.strip())


def _columns(header: tuple[int, list[str]], source: Source) -> dict[str, int]:
    """Where number, l, a, b or hex stand; {} and a fault when they are not all there."""
    line, cells = header
    columns: dict[str, int] = {}
    for index, cell in enumerate(cells):
        name = cell.casefold().removesuffix("*")
        key = "number" if name in _NUMBERS else "hex" if name in _COLOURS else name
        if key not in ("number", "hex", *_LAB):
            continue  # names and remarks of the maker's own
        if key in columns:
            source.fault(
                line, f"two columns are named {quoted(cell)}", "take one out with its cells"
            )
            return {}
        columns[key] = index
    lab = all(key in columns for key in _LAB)
    if "number" not in columns or lab == ("hex" in columns):
        what = "has both Lab and sRGB" if lab and "hex" in columns else "does not name what is read"
        above = cells and (cells[0].isdecimal() or _HEX.fullmatch(cells[0]))
        cure = "put a row above it: number,L,a,b or number,hex" if above else _WRITE
        source.fault(line, f"the first row {what}", cure)
        return {}
    return columns


def _reading(
    line: int,
    cells: list[str],
    columns: dict[str, int],
    numbers: Collection[int],
    source: Source,
) -> Reading | None:
    cells = cells + [""] * (max(columns.values()) + 1 - len(cells))
    try:
        which = parse_whole(cells[columns["number"]])
        if which not in numbers:
            raise ValueError(
                f"there is no swatch {which}; "
                f"the numbers on the list run from {min(numbers)} to {max(numbers)}"
            )
        if "hex" in columns:
            shade = _hex(cells[columns["hex"]])
            l, a, b = lab_of(hex_to_rgb8(shade))  # noqa: E741
            return Reading(which, (float(l), float(a), float(b)), line)
        values = [_value(key, cells[columns[key]]) for key in _LAB]
        return Reading(which, (values[0], values[1], values[2]), line)
    except ValueError as error:
        problem, _, cure = str(error).partition("; ")
        source.fault(line, problem, cure or _WRITE)
        return None


def _hex(text: str) -> str:
    """A colour, with or without the quotes that it has in other files of a shop."""
    try:
        return parse_colour(text.strip('"'))
    except ValueError:
        raise ValueError(f"{quoted(text)} is not a colour; write it like #6fb7e9") from None


def _value(key: str, text: str) -> float:
    if not text:
        raise ValueError(f"{key.upper() if key == 'l' else key} is empty; write what was read")
    if not _DECIMAL.fullmatch(text):
        raise ValueError(f"{quoted(text)} is not a number; write it like 41.5")
    value = float(text.replace(",", "."))
    low, high = _RANGES[key]
    if not math.isfinite(value) or not low <= value <= high:
        name = "L" if key == "l" else key
        raise ValueError(
            f"{name} is {text}, but lies between {low:g} and {high:g}; read the swatch again"
        )
    return value
