"""Every fault of a file of readings, mended as its cure says, until it is read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.errors import ShopError, ShopFaults
from proofgen.shop import read_readings
from tests.shop.followed import (
    STEPS,
    File,
    Hand,
    as_utf8,
    column_out,
    named_in,
    on_lines,
    quotes,
    ways_of,
)


def _typed(lines, at, cure, problem) -> None:
    lines[at] = lines[at].replace(named_in(problem), cure[1])


def _read_again(lines, at, cure, problem) -> None:
    column = lines[0].split(",").index(problem.split()[0])
    cells = lines[at].split(",") + [""] * 4
    lines[at] = ",".join([*cells[:column], "42", *cells[column + 1 :]][:4])


def _last_number(lines, at, cure, problem) -> None:
    lines[at] = lines[at].replace(re.findall(r"\d+", problem)[0], cure[1], 1)


def _line_out(lines, at, cure, problem) -> None:
    del lines[at]


def _named_so(lines, at, cure, problem) -> None:
    lines[at] = cure[1]


def _named_above(lines, at, cure, problem) -> None:
    lines.insert(at, cure[1])


def _a_reading(lines, at, cure, problem) -> None:
    lines.insert(at + 1, "1,50,0,0")


READ_HANDS: tuple[tuple[str, Hand], ...] = (
    (r"write it like (\S+)$", on_lines(_typed)),
    (r"write what was read|read the swatch again", on_lines(_read_again)),
    (r"the numbers on the list run from \d+ to (\d+)", on_lines(_last_number)),
    (r"keep the one that was read", on_lines(_line_out)),
    (r"^name the columns (number,L,a,b) or", on_lines(_named_so)),
    (r"^name the columns .+ or (number,hex)", on_lines(_named_so)),
    (r"^put a row above it: (number,L,a,b) or", on_lines(_named_above)),
    (r"^put a row above it: .+ or (number,hex)", on_lines(_named_above)),
    (r"take one out with its cells", on_lines(column_out)),
    (r"add a row per swatch", on_lines(_a_reading)),
    (r"one before and one after the words, doubled inside", on_lines(quotes)),
    (r"save the file again as UTF-8", as_utf8),
)

# The file, which of the things that the cure offers is done, and the numbers that are read then.
READINGS: list[tuple[str | bytes, int, list[int]]] = [
    ("number,L,a,b\n1,50,0,0\n2,fifty,0,0\n", 0, [1, 2]),
    ("number,L,a,b\n1,50,0\n", 0, [1]),
    ("number,L,a,b\n1,120,0,0\n", 0, [1]),
    ("number,L,a,b\n1,50,0,200\n", 0, [1]),
    ("number,L,a,b\n1,nan,0,0\n", 0, [1]),
    ("number,L,a,b\n1,1e2,0,0\n", 0, [1]),
    ("number,L,a,b\n26,50,0,0\n", 0, [25]),
    ("number,L,a,b\n0,50,0,0\n", 0, [25]),
    ("number,L,a,b\nx,50,0,0\n", 0, [12]),
    ("number,L,a,b\n4,50,0,0\n4,50,0,1\n", 0, [4]),
    ("number,hex\n1,red\n", 0, [1]),
    ("number,hex\n1,#12345\n", 0, [1]),
    ('number,hex\n1,"""red"""\n', 0, [1]),
    ("hex,number\nred,1\n", 0, [1]),
    ("number,hex,L,a,b\n1,#123456,5,0,0\n", 1, [1]),
    ("number,L,a\n1,5,0\n", 0, [1]),
    ("no,shade\n1,#123456\n", 1, [1]),
    ("1,50,0,0\n2,50,0,0\n", 0, [1, 2]),
    ("1,#123456\n", 1, [1]),
    ("number,L,a,b,L\n1,5,0,0,5\n", 0, [1]),
    ("number,L,a,b\n", 0, [1]),
    ("", 0, [1]),
    ('number,hex\n1,"#123456\n', 0, [1]),
    ("number,hex,who\n1,#123456,Zoë\n".encode("cp1252"), 0, [1]),
]


def _readings_told(folder: Path, file: File) -> tuple[list[ShopError], list[int]]:
    path = folder / file[0]
    path.write_bytes(file[1])
    try:
        return [], [reading.number for reading in read_readings(path, range(1, 26))]
    except ShopFaults as told:
        return told.faults, []
    except ShopError as error:
        return [error], []


@pytest.mark.parametrize(("content", "way", "numbers"), READINGS)
def test_a_cure_of_readings_that_is_followed_mends_them(
    content: str | bytes, way: int, numbers: list[int], tmp_path: Path
) -> None:
    file = ("read.csv", content if isinstance(content, bytes) else content.encode())
    faults, read = _readings_told(tmp_path, file)
    assert faults
    for _ in range(STEPS):
        before = faults[0].sentence()
        file = ways_of(faults[0], READ_HANDS)[way](file)
        way = 0
        faults, read = _readings_told(tmp_path, file)
        assert before not in [fault.sentence() for fault in faults], file[1]
        if not faults:
            break
    assert not faults and read == numbers


@pytest.mark.parametrize(
    "text",
    [
        'number,hex\n1,"#6fb7e9"\n',
        'number,hex\n1,"""#6fb7e9"""\n',  # quotes that were typed into a spreadsheet
        "hex,number\n#6fb7e9,1\n",
        "# read in June, by Bo\nnumber;hex\n1;#6fb7e9\n",
        "number\thex\n1\t#6fb7e9\n",
    ],
)
def test_readings_are_taken_as_the_cure_and_spreadsheets_write_them(
    text: str, tmp_path: Path
) -> None:
    assert _readings_told(tmp_path, ("read.csv", text.encode())) == ([], [1])
