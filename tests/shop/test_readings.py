"""Readings of swatches: what a CSV says, its bad lines, the one entry they change in a blank."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen import store
from proofgen.errors import MachineError, ShopError, ShopFaults
from proofgen.shop import built_in_blanks, check_blank, read_readings, write_readings
from proofgen.shop.blank_reader import read_blank
from proofgen.shop.nodes import Source
from proofgen.shop.readings_writer import with_readings

NUMBERS = range(1, 26)
PAIRS = (
    ("#ff0000", "#903040"),
    ("#00ff00", "#309050"),
    ("#0000ff", "#303080"),
    ("#000000", "#181820"),
    ("#808080", "#607080"),
)
OTHER = (*PAIRS[:4], ("#ffff00", "#708040"))
HEAD = """\
# A remark at the top.
name: Market patch
construction: flat
width: 150 mm
height: 110 mm
bleed: 4 mm
safe: 6 mm
"""
CLOTHS = {
    "block": 'cloth:\n  finish: foam # soft\n  colours: {white: "#ffffff", sky: "#6fb7e9"} # two\n',
    "flow": 'cloth: {finish: foam, colours: {white: "#ffffff", sky: "#6fb7e9"}}  # two\n',
    "flow with a comma": 'cloth: {finish: foam, colours: {white: "#ffffff", sky: "#6fb7e9"},}\n',
    "flow in lines": (
        'cloth: {\n  finish: foam, # so\n  colours: {white: "#ffffff",\n    sky: "#6fb7e9"}\n  }\n'
    ),
    "all block": 'cloth:\n    colours:\n        white: "#ffffff"\n        sky: "#6fb7e9"  # one\n'
    "    finish: foam\n",
    "last": 'cloth:\n  finish: foam\n  colours:\n    white: "#ffffff"\n    sky: "#6fb7e9"\n',
    "old ones": (
        'cloth:\n  finish: foam\n  correction:\n    sky:\n      "#ff0000": "#111111"\n'
        '      "#00ff00": "#222222"\n      "#0000ff": "#333333"\n      "#000000": "#444444"\n'
        '  colours: {white: "#ffffff", sky: "#6fb7e9"}\n'
    ),
    "those of white": (
        "cloth:\n  finish: foam\n  colours: {white: '#ffffff', sky: '#6fb7e9'}\n  correction: "
        '{white: {"#ff0000": "#911111", "#00ff00": "#229222", "#0000ff": "#333393", '
        '"#000000": "#444444"}}\n'
    ),
    "empty": 'cloth:\n  finish: foam\n  correction: {}\n  colours: {white: "#fff", sky: "#6ae"}\n',
}
TAIL = "# Pressed in October.\npress: {heat: 196 C, time: 55 s}\nnote: “ours” 🐟\n"


def put(folder: Path, text: str) -> Path:
    path = folder / "blanks" / "patch.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode())
    return path


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("written", CLOTHS)
def test_only_the_readings_change(written: str, newline: str, tmp_path: Path) -> None:
    text = (HEAD + CLOTHS[written] + TAIL).replace("\n", newline)
    path = put(tmp_path, text)
    before = check_blank(text, "patch")
    assert write_readings(tmp_path, before, "sky", PAIRS) == path
    after = path.read_bytes().decode()
    again = check_blank(after, "patch")
    assert again.cloth.readings["sky"] == PAIRS
    assert again.cloth.readings.get("white") == before.cloth.readings.get("white")
    # Every line that held no readings is there yet, its remark with it.
    for line in text.split(newline):
        if (
            "correction" not in line
            and "#" in line
            and '"#0' not in line
            and '"#ff0000' not in line
        ):
            core = line.rstrip(" }").rstrip(",")
            assert core in after or "cloth: {" in core, line
    assert after.startswith(HEAD.replace("\n", newline))
    assert after.endswith(TAIL.replace("\n", newline))
    assert ("\r\n" in after) == (newline == "\r\n")
    assert after.count("\n") == after.count(newline)
    # Reading again replaces, and the same readings change nothing.
    write_readings(tmp_path, again, "sky", OTHER)
    twice = path.read_bytes().decode()
    assert check_blank(twice, "patch").cloth.readings["sky"] == OTHER
    assert with_readings(twice, "sky", OTHER) == twice


def test_a_built_in_blank_becomes_the_shops_own(tmp_path: Path) -> None:
    blank = built_in_blanks()["can-wrap-linen"]
    colour = next(iter(blank.cloth.colours))
    path = write_readings(tmp_path, blank, colour, PAIRS)
    assert path == tmp_path / "blanks" / "can-wrap-linen.yaml"
    source = Source("blanks/can-wrap-linen.yaml")
    own = read_blank(path, source)
    assert not source.faults and own is not None
    assert own.cloth.readings == {colour: PAIRS} and not own.built_in
    assert own.plan() == blank.plan() and own.press == blank.press


def test_nothing_is_written_that_would_not_read_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = HEAD + CLOTHS["block"] + TAIL
    path = put(tmp_path, text)
    blank = check_blank(text, "patch")
    with pytest.raises(ShopError):
        write_readings(tmp_path, blank, "sand", PAIRS)  # no such colour
    with pytest.raises(ShopError):
        write_readings(tmp_path, blank, "sky", PAIRS[:2])  # proves nothing

    def full(*_: object, **__: object) -> bool:
        raise MachineError("the disk is full")

    monkeypatch.setattr(store, "write", full)
    with pytest.raises(MachineError):
        write_readings(tmp_path, blank, "sky", PAIRS)
    assert path.read_text("utf-8") == text


def read(folder: Path, text: str):
    path = folder / "read.csv"
    path.write_text(text, "utf-8")
    return read_readings(path, NUMBERS)


@pytest.mark.parametrize(
    "text",
    [
        "number,L,a,b\n3,41.5,-12,7.25\n",
        "No.;Name;L*;a*;b*\n\n3;blue;41,5;-12;7,25\n",
        "# read in June\nnumber,b,a,L\n3,7.25,-12,41.5,\n",
    ],
)
def test_lab_in_the_ways_it_is_written(text: str, tmp_path: Path) -> None:
    (one,) = read(tmp_path, text)
    assert (one.number, one.lab) == (3, (41.5, -12.0, 7.25))
    assert one.line == text.split("3")[0].count("\n") + 1


def test_hex_is_lab_of_srgb(tmp_path: Path) -> None:
    (one,) = read(tmp_path, "patch,hex\n1,#FF0000\n")
    # CIE Lab of sRGB red under D65, as colour-science 0.4.7 gives it.
    assert one.lab == pytest.approx((53.2371, 80.1059, 67.2015), abs=0.02)


BAD = [
    ("number,L,a,b\n1,50,0,0\n2,fifty,0,0\n", 3, "“fifty” is not a number"),
    ("number,L,a,b\n1,50,0\n", 2, "b is empty"),
    ("number,L,a,b\n1,120,0,0\n", 2, "between 0 and 105"),
    ("number,L,a,b\n1,50,0,200\n", 2, "between -140 and 140"),
    ("number,L,a,b\n1,nan,0,0\n", 2, "not a number"),
    ("number,L,a,b\n1,1e2,0,0\n", 2, "not a number"),
    ("number,L,a,b\n26,50,0,0\n", 2, "there is no swatch 26"),
    ("number,L,a,b\n0,50,0,0\n", 2, "there is no swatch 0"),
    ("number,L,a,b\nx,50,0,0\n", 2, "not a whole number"),
    ("number,L,a,b\n4,50,0,0\n\n4,50,0,1\n", 4, "stands in line 2 already"),
    ("number,hex\n1,red\n", 2, "not a colour"),
    ("number,hex\n1,#12345\n", 2, "not a colour"),
    ("number,hex,L,a,b\n1,#123456,5,0,0\n", 1, "both Lab and sRGB"),
    ("number,L,a\n1,5,0\n", 1, "does not name what is read"),
    ("1,50,0,0\n", 1, "does not name what is read"),
    ("number,L,a,b,L\n", 1, "two columns"),
    ("number,L,a,b\n", 1, "no reading"),
    ("", 1, "does not name"),
    ('number,hex\n1,"#123456\n', 2, "cannot be read"),
]


@pytest.mark.parametrize(("text", "line", "says"), BAD)
def test_bad_lines_are_told_by_number(text: str, line: int, says: str, tmp_path: Path) -> None:
    with pytest.raises(ShopFaults) as caught:
        read(tmp_path, text)
    told = caught.value.faults
    assert [f.place.line for f in told if f.place] == [line]
    assert says in told[0].sentence(), told[0].sentence()
    assert str(told[0].place) == f"read.csv:{line}"


def test_every_bad_line_is_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(ShopFaults) as caught:
        read(tmp_path, "number,L,a,b\n1,x,0,0\n2,50,0,0\n99,50,0,0\n")
    assert [f.place.line for f in caught.value.faults if f.place] == [2, 4]
