"""What a shop alone knows of a blank that came with the tool: its cost and its stock."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from proofgen.model import Stock
from proofgen.shop import built_in_blanks, write_count, write_readings
from proofgen.shop.blank_reader import BUILT_IN, blank_of, read_blank
from proofgen.shop.nodes import Source
from tests.shop.test_readings import PAIRS

TEXT = "cost: 1.10\nstock: {white: 24, counted: 2026-11-20}\n"
NAME = "coaster-round"
FIRST = built_in_blanks()[NAME]


def test_two_lines_are_enough_for_a_built_in_blank():
    blank = blank_of(TEXT, NAME, Source(f"blanks/{NAME}.yaml"))
    assert blank is not None and blank.built_in
    assert blank.cost == Decimal("1.10")
    assert blank.stock == Stock(pieces={"white": 24}, counted=date(2026, 11, 20))
    assert (blank.width_mm, blank.press, blank.cloth) == (FIRST.width_mm, FIRST.press, FIRST.cloth)


def test_a_slip_in_them_is_told():
    for text, says in (
        ("cost: 1.10\nsafe: 3 mm\n", "“safe” is not known"),
        ("stock: {whit: 3}\n", "which is not a colour"),
        ("stock: {white: 3, counted: 20 November}\n", "20 November"),
    ):
        source = Source(f"blanks/{NAME}.yaml")
        assert blank_of(text, NAME, source) is None
        assert says in source.faults[0].sentence()
    other = Source("blanks/own.yaml")
    assert blank_of(TEXT, "own", other) is None and "construction" in other.faults[0].problem


def test_they_stay_when_the_blank_becomes_the_shops_own(tmp_path: Path):
    path = tmp_path / "blanks" / f"{NAME}.yaml"
    path.parent.mkdir()
    path.write_text(TEXT, "utf-8")
    blank = read_blank(path, Source(f"blanks/{NAME}.yaml"))
    assert blank is not None
    write_readings(tmp_path, blank, "white", PAIRS)
    again = read_blank(path, Source(f"blanks/{NAME}.yaml"))
    assert again is not None and not again.built_in
    assert (again.cost, again.stock) == (blank.cost, blank.stock)
    assert again.cloth.readings["white"] == PAIRS


def test_a_count_of_one_cloth_says_nothing_of_another(tmp_path: Path) -> None:
    text = (BUILT_IN / "can-wrap-linen.yaml").read_text("utf-8")
    cloths = list(built_in_blanks()["can-wrap-linen"].cloth.colours)
    first, other = cloths[0], cloths[1]
    path = tmp_path / "blanks" / "own.yaml"
    path.parent.mkdir()
    path.write_text(f"{text}stock: {{{first}: 40, {other}: 12, counted: 2026-11-20}}\n", "utf-8")
    blank = read_blank(path, Source("blanks/own.yaml"))
    assert blank is not None
    now = datetime(2026, 11, 25, 21, 40, 5)
    write_count(tmp_path, blank, {first: 38}, now)
    again = read_blank(path, Source("blanks/own.yaml"))
    assert again is not None and again.stock.pieces == {first: 38, other: 12}
    assert again.stock.counted_at(first) == now
    assert again.stock.counted_at(other) == date(2026, 11, 20)
    assert path.read_text("utf-8").startswith(text)
