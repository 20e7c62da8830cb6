"""A blank written to its file: the same when read again, and whole or not at all."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.errors import MachineError, Place, ShopFaults, UsageError
from proofgen.model import Blank, Closure, Cloth, PressSetting, Stock
from proofgen.shop import blank_text, built_in_blanks, check_blank, read_shop, write_blank
from tests.shop.conftest import MakeShop

ODD = Blank(
    id="odd",
    name='Aoife’s "long" wrap: no. 1 #2',
    construction="wrap",
    width_mm=241.3,
    height_mm=101.6,
    cloth=Cloth(finish="foam", colours={"off: white": "#fffdf7", "no": "#6fb7e9"}, polyester=0.985),
    bleed_mm=6.35,
    safe_mm=4.7625,
    thickness_mm=2.96875,
    vessel_mm=66.081,
    closure=Closure(width_mm=31.75, shortest_mm=9.525, on_top="left"),
    shrink=(0.0125, 0.004),
    press=PressSetting(
        heat_c=200, heat_f_written=392, time_s=52.5, pressure="light: two fingers", sides=2
    ),
    cost=Decimal("1.10"),
    stock=Stock(pieces={"no": 3}, counted=date(2026, 11, 20)),
    note="From the roll, 1/16 in short",
)


def bare(blank: Blank) -> Blank:
    """Without where it was read, and whether it came with the tool."""
    return replace(blank, place=Place(""), lines={}, built_in=False)


@pytest.mark.parametrize("name", sorted(built_in_blanks()))
def test_every_built_in_blank_reads_back(name: str) -> None:
    blank = built_in_blanks()[name]
    assert bare(check_blank(blank_text(blank), name)) == bare(blank)


def test_a_blank_with_everything_reads_back(make_shop: MakeShop) -> None:
    folder = make_shop()
    path = write_blank(folder, ODD, ("Measured on Monday.", "two\nlines"))
    assert path == folder / "blanks" / "odd.yaml"
    assert path.read_text("utf-8").startswith("# Measured on Monday.\n# two lines\nname: ")
    shop = read_shop(folder)
    assert shop.faults == ()
    assert bare(shop.blanks["odd"]) == ODD
    assert shop.blanks["odd"].plan() == ODD.plan()


lengths = st.floats(20, 300, allow_nan=False)


@settings(max_examples=60, deadline=None)
@given(
    lengths, lengths, st.integers(0, 20_000), st.text(min_size=1, max_size=80), st.floats(0.1, 9)
)
def test_any_measure_and_any_name_read_back(
    wide: float, high: float, parts: int, name: str, thick: float
) -> None:
    shrunk = parts / 100_000
    blank = Blank(
        id="b",
        name=name,
        construction="flat",
        width_mm=wide,
        height_mm=high,
        cloth=Cloth(finish="smooth", colours={"white": "#ffffff"}),
        bleed_mm=3,
        safe_mm=2,
        thickness_mm=thick,
        shrink=(shrunk, 0),
    )
    try:
        again = check_blank(blank_text(blank), "b")
    except ShopFaults as faults:
        # Names that no file may hold (control characters, only blanks) are told, not changed.
        assert all("name" in f.problem for f in faults.faults), faults
        return
    assert (again.width_mm, again.height_mm, again.thickness_mm) == (wide, high, thick)
    assert again.shrink == (shrunk, 0)


def test_nothing_is_written_of_a_blank_that_cannot_be(make_shop: MakeShop) -> None:
    folder = make_shop()
    before = sorted(p.name for p in (folder / "blanks").iterdir())
    with pytest.raises(ShopFaults, match="no room for words"):
        write_blank(folder, replace(ODD, safe_mm=60))
    with pytest.raises(UsageError, match="already"):
        write_blank(folder, replace(ODD, id="MY-wrap"))  # my-wrap.yaml, on many computers
    for name in ("../odd", "con", "a b", ""):
        with pytest.raises(UsageError, match="cannot be a blank"):
            write_blank(folder, replace(ODD, id=name))
    assert sorted(p.name for p in (folder / "blanks").iterdir()) == before


def test_a_full_disk_leaves_no_half_blank(
    make_shop: MakeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_shop()
    before = sorted(p.name for p in (folder / "blanks").iterdir())

    def full(_self: Path, _target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(MachineError, match="full"):
        write_blank(folder, ODD)
    assert sorted(p.name for p in (folder / "blanks").iterdir()) == before
