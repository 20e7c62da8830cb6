"""Every fault of a list of names, mended as its cure says: a hand that
knows nothing but the sentence changes the file, until nothing is told any more, and then the file
says what was meant."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.errors import ShopError
from proofgen.shop import read_shop
from proofgen.shop.list_reader import parted_by, read_list
from proofgen.shop.nodes import Source
from tests.shop.conftest import DESIGN, ORDER, MakeShop
from tests.shop.followed import (
    STEPS,
    File,
    Hand,
    as_utf8,
    column_out,
    named_in,
    on_lines,
    quotes,
    sign_of,
    ways_of,
)

SLOTS = ("name", "date")


def _rename(lines: list[str], at: int, old: str, new: str, last: bool = False) -> None:
    cells = lines[at].split(sign_of(lines[at]))
    same = [n for n, cell in enumerate(cells) if cell.strip().casefold() == old.casefold()]
    cells[same[-1 if last else 0]] = new
    lines[at] = sign_of(lines[at]).join(cells)


def _meant(lines, at, cure, problem) -> None:
    _rename(lines, at, named_in(problem), cure[1])


def _unlike(lines, at, cure, problem) -> None:
    _rename(lines, at, named_in(problem), "seat")


def _from_line(lines, at, cure, problem) -> None:
    del lines[: int(cure[1]) - 1]


def _row_of_names(lines, at, cure, problem) -> None:
    words = cure[1].split(", ")
    count = len(lines[at].split(sign_of(lines[at]))) if lines[at].strip(" ,;") else len(words)
    lines[at] = sign_of(lines[at]).join(words[:count])


def _names_above(lines, at, cure, problem) -> None:
    words = cure[1].split(", ")
    lines.insert(at, ",".join(words[: lines[at].count(",") + 1]))


def _name_column(lines, at, cure, problem) -> None:
    cells = lines[at].split(",")
    cells[int(re.findall(r"column (\d+)", problem)[0]) - 1] = cure[1].replace("as you like", "seat")
    lines[at] = ",".join(cells)


def _another_name(lines, at, cure, problem) -> None:
    _rename(lines, at, named_in(problem), "seat", last=True)


def _needed_alone(lines, at, cure, problem) -> None:
    words = cure[1].split(", ")
    keep = [n for n, cell in enumerate(lines[at].split(",")) if cell in words]
    lines[:] = [",".join(line.split(",")[n] for n in keep) for line in lines if line]


def _one_row(lines, at, cure, problem) -> None:
    lines[at + 1 :] = ["Ada"]


def _in_quotes(lines, at, cure, problem) -> None:
    lines[at] = f'"{lines[at]}"'


def _cell_named(lines, at, cure, problem) -> None:
    lines[0] += sign_of(lines[at]) + "seat"


def _shorter(lines, at, cure, problem) -> None:
    lines[at] = lines[at][: int(re.findall(r"\d+", problem)[0])]


def _typed_anew(lines, at, cure, problem) -> None:
    lines[at] = "".join(letter for letter in lines[at] if letter.isprintable())


def _two_orders(lines, at, cure, problem) -> None:
    del lines[at:]


def _saved_as_csv(file: File, line: int, cure: re.Match[str], problem: str) -> File:
    return "guests.csv", b"\xef\xbb\xbfname,date\r\nAda,x\r\n"


LIST_HANDS: tuple[tuple[str, Hand], ...] = (
    (r"did you mean “(.+?)”", on_lines(_meant)),
    (r"Or give it a name that is less like it", on_lines(_unlike)),
    (r"take out what stands above line (\d+)", on_lines(_from_line)),
    (r"^name the columns like the design's words: ([^;]+)", on_lines(_row_of_names)),
    (
        r"words: ([^;]+); if that row is a piece already, put a row of names above",
        on_lines(_names_above),
    ),
    (r"^name it (as you like|\w+)", on_lines(_name_column)),
    (r"take one out with its cells", on_lines(column_out)),
    (r"or give it another name", on_lines(_another_name)),
    (r"take out those that nobody needs; the design's words are: (.+)", on_lines(_needed_alone)),
    (r"add one row per piece", on_lines(_one_row)),
    (r"put words that hold a comma or semicolon in double quotes", on_lines(_in_quotes)),
    (r"or name a column for every cell in the first row", on_lines(_cell_named)),
    (r"shorten it", on_lines(_shorter)),
    (r"make two orders of it", on_lines(_two_orders)),
    (r"one before and one after the words, doubled inside", on_lines(quotes)),
    (r"save the file again as UTF-8", as_utf8),
    (r"delete the whole line and type it anew", on_lines(_typed_anew)),
    (r"save it there as “CSV UTF-8”, and name that file instead", _saved_as_csv),
)

ADA, BO = {"name": "Ada"}, {"name": "Bo"}
DATED = [{"name": "Ada", "date": "x"}]
SEATED = {"name": "Ada", "seat": "4"}
# The file, and what its rows say once each thing that its cure offers was done.
LISTS: list[tuple[str | bytes, list[list[dict[str, str]]]]] = [
    ("nam\nAda\n", [[ADA], [ADA]]),
    ("name,dat\nAda,x\n", [DATED, [{"name": "Ada", "seat": "x"}]]),
    ("Nmae;date\nAda;x\n", [DATED, [{"seat": "Ada", "date": "x"}]]),
    ("guest\nAda\n", [[ADA], [{"name": "guest"}, ADA]]),
    ("Ada\nBo\n", [[BO], [ADA, BO]]),
    ("Ada,x\nBo,y\n", [[{"name": "Bo", "date": "y"}], [*DATED, {"name": "Bo", "date": "y"}]]),
    ("Table and guest of Bo\nname,date\nAda,x\n", [DATED]),
    ("Names\n\nname;date\nAda;x\n", [DATED]),
    ("Our list;\nName;Date\nAda;x\n", [DATED]),
    ("name,,seat\nAda,x,4\n", [[{"name": "Ada", "date": "x", "seat": "4"}]]),
    ("name,date,,table\nAda,x,y,4\n", [[{"name": "Ada", "date": "x", "seat": "y", "table": "4"}]]),
    ("name,name\nAda,4\n", [[ADA], [SEATED]]),
    ("name,Name\nAda,4\n", [[ADA], [SEATED]]),
    ("name,x,x\nAda,4,5\n", [[ADA | {"x": "4"}], [ADA | {"x": "4", "seat": "5"}]]),
    ("name," + ",".join(f"c{n}" for n in range(60)) + "\nAda" + ",x" * 60 + "\n", [[ADA]]),
    ("", [[ADA]]),
    ("\n , \n", [[ADA]]),
    ("name\n", [[ADA]]),
    ("\n\nname\n", [[ADA]]),
    ("name\n ,\n \n", [[ADA]]),
    ("name\nFenn, Odalys\n", [[{"name": "Fenn, Odalys"}], [{"name": "Fenn", "seat": " Odalys"}]]),
    ("name\nAda,4\n", [[{"name": "Ada,4"}], [SEATED]]),
    ("name\n" + "x" * 201 + "\n", [[{"name": "x" * 200}]]),
    ("name\n" + "Ada\n" * 5001, [[ADA] * 5000]),
    ('name\n"Bo\nAda\n', [[BO, ADA]]),
    ('name\n"Ada"x\n', [[{"name": 'Ada"x'}]]),
    ('name,date\n"Ada",x\n"6" tall",y\n', [[*DATED, {"name": '6" tall', "date": "y"}]]),
    ("name\nZoë\n".encode("cp1252"), [[{"name": "Zoë"}]]),
    ("name\tdate\nAda\tx\n".encode("utf-16"), [DATED]),
    ("name\tdate\r\nAda\tx\r\n".encode("utf-16-le"), [DATED]),
    ("name\nЖан\nБо\n".encode("utf-16-be"), [[{"name": "Жан"}, {"name": "Бо"}]]),
    ("name,date\nAda,x\nB\0o,y\n", [DATED, [*DATED, {"name": "Bo", "date": "y"}]][1:]),
]  # fmt: skip


def _list_told(folder: Path, file: File) -> tuple[list[ShopError], list[dict[str, str]]]:
    path = folder / file[0]
    path.write_bytes(file[1])
    source = Source(path.name)
    try:
        rows = read_list(path, source, SLOTS)
    except ShopError as error:
        return [error], []
    return source.faults, [row.words | row.more for row in rows]


CASES = [
    pytest.param(file, way, says, id=f"{file[:30]!r} {way}")
    for file, ways in LISTS
    for way, says in enumerate(ways)
]


@pytest.mark.parametrize(("content", "way", "says"), CASES)
def test_a_cure_of_a_list_that_is_followed_mends_it(
    content: str | bytes, way: int, says: list[dict[str, str]], tmp_path: Path
) -> None:
    file = ("guests.csv", content if isinstance(content, bytes) else content.encode())
    faults, _ = _list_told(tmp_path, file)
    assert faults
    for _ in range(STEPS):
        before = faults[0].sentence()
        file = ways_of(faults[0], LIST_HANDS)[way](file)
        way = 0
        faults, rows = _list_told(tmp_path, file)
        assert before not in [fault.sentence() for fault in faults], file[1][:200]
        if not faults:
            break
    said = [{name: text for name, text in row.items() if text} for row in rows]
    assert not faults and said == says


# -- the order's own line of its list ----------------------------------------------------------


LISTED = ORDER + "    list: guests.csv\n"
BARE = re.sub(r"    - words: .+\n", "", DESIGN)
AT_THE_ORDER = [
    (LISTED, DESIGN, "gests.csv", r"did you mean “gests.csv”\? Or put it there under this name"),
    (LISTED, DESIGN, "", r"put it there under this name"),
    (LISTED, DESIGN, "", r"or take this line away"),
    (
        LISTED.replace("    words:", "    # words:"),
        BARE,
        "guests.csv",
        r"take the line list: out of",
    ),
]


@pytest.mark.parametrize(("order", "design", "lies", "cure"), AT_THE_ORDER)
def test_a_cure_of_the_line_that_names_a_list_mends_it(
    make_shop: MakeShop, order: str, design: str, lies: str, cure: str
) -> None:
    files = {"orders/fenn/order.yaml": order, "designs/harbour/design.md": design}
    lying = {f"orders/fenn/{lies}": "name,date\nAda,x\n"} if lies else {}
    (fault,) = read_shop(make_shop({**files, **lying})).faults
    assert re.search(cure, fault.cure), fault.sentence()
    if "did you mean" in cure:
        files["orders/fenn/order.yaml"] = order.replace("guests.csv", lies)
    elif "take" in cure:
        files["orders/fenn/order.yaml"] = order.replace("    list: guests.csv\n", "")
    else:
        lying = {"orders/fenn/guests.csv": "name,date\nAda,x\n"}
    assert read_shop(make_shop({**files, **lying})).faults == ()


@pytest.mark.parametrize(
    "text", ["\nname;date\nAda;x\n", ";\nname;date\nAda;x\n", "name\tdate\nAda\tx\n"]
)
def test_lists_are_taken_as_spreadsheets_and_the_clipboard_write_them(
    text: str, tmp_path: Path
) -> None:
    assert _list_told(tmp_path, ("guests.csv", text.encode())) == ([], DATED)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("name\ttable, seat\nAda\t1\n", "\t"),
        ("table, seat;Name\n1;Ada\n", ";"),
        ('"name, as printed";date\nAda;x\n', ";"),
        ("who;where;table, seat\nAda;x;1\n", ";"),  # names none: the one found most often
        ("name,seat;date\nAda,1;x\n", ","),  # even
        ("name\nAda\n", ","),
    ],
)
def test_the_sign_that_names_the_words_parts_the_cells(text: str, parts: str) -> None:
    assert parted_by(text, SLOTS) == parts


def test_a_comma_in_the_name_of_a_column_parts_nothing_beside_tabs(tmp_path: Path) -> None:
    faults, rows = _list_told(tmp_path, ("guests.csv", b"name\ttable, seat\nAda\t1\n"))
    assert faults == [] and "Ada" in str(rows)


def test_a_spreadsheets_own_file_is_told_and_saved_as_a_list(tmp_path: Path) -> None:
    faults, _ = _list_told(tmp_path, ("guests.xlsx", b"PK\x03\x04\xff"))
    assert len(faults) == 1 and "spreadsheet" in faults[0].problem
    (saved,) = (way(("guests.xlsx", b"")) for way in ways_of(faults[0], LIST_HANDS))
    assert _list_told(tmp_path, saved) == ([], DATED)
