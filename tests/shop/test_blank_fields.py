"""The table of a blank's fields: whole, and one for the reader, the writer and the questions."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date, datetime
from decimal import Decimal

import pytest

from proofgen.geometry import CONSTRUCTIONS, SHAPES, Hole
from proofgen.model import Blank, Closure, Cloth, PressSetting, Stock
from proofgen.shop.blank_fields import FIELDS, KINDS, kind_of
from proofgen.shop.blank_reader import TURN
from proofgen.shop.blank_writer import blank_text, check_blank
from proofgen.shop.fields import Choice, Map
from proofgen.units import Across

# Where and as what it was read: in no file.
NOT_IN_A_FILE = {"sized", "id", "built_in", "place", "lines"}
# Read before the rest: which other keys there are hangs on them.
FIRST = {"construction", "shape", "length", "width", "diameter", "height"}
READINGS = (
    ("#ff0000", "#903040"),
    ("#00ff00", "#309050"),
    ("#0000ff", "#303080"),
    ("#000000", "#181820"),
    ("#808080", "#607080"),
)


def test_each_field_of_a_blank_is_declared() -> None:
    assert {f.name for f in fields(Blank)} - NOT_IN_A_FILE == {f.attr for f in FIELDS.values()}


def test_the_reader_takes_each_field_once() -> None:
    assert len(TURN) == len(set(TURN))
    assert set(TURN) | FIRST == set(FIELDS) and not set(TURN) & FIRST


def test_each_kind_has_its_measures() -> None:
    assert {kind_of(c, s) for c in CONSTRUCTIONS for s in SHAPES} == set(KINDS)
    for kind in KINDS:
        across = [key for key in ("length", "width", "diameter") if kind in FIELDS[key].of]
        assert len(across) == 1, kind
        asked = {name for f in FIELDS.values() for name, e in f.measured() if kind in e.asks}
        assert {"bleed", "safe", *across} <= asked, kind


def test_what_must_be_there_can_be_told_by_a_tape() -> None:
    """A blank that was measured lacks nothing."""
    chosen = {"name", "construction", "shape", "cloth"}
    for field in FIELDS.values():
        entries = field.value.entries if isinstance(field.value, Map) else (field,)
        for kind in field.of if not field.optional else ():
            untold = [e.key for e in entries if kind not in e.asks and e.usual is None]
            assert field.key in chosen or untold == [], (field.key, kind)


def test_no_two_measures_have_one_name() -> None:
    names = [name for f in FIELDS.values() for name, e in f.measured()]
    assert len(names) == len(set(names))
    assert [n for f in FIELDS.values() for n, e in f.measured() if isinstance(e.value, Choice)] == [
        "on_top",
        "strip",
    ]


WRAP = Blank(
    id="b",
    name="Wrap",
    construction="wrap",
    width_mm=240,
    height_mm=100,
    cloth=Cloth(finish="foam", colours={"white": "#ffffff"}),
    bleed_mm=6,
    safe_mm=5,
    thickness_mm=3,
    vessel_mm=66.1,
    closure=Closure(width_mm=30, shortest_mm=10, on_top="right"),
)
FLAT = replace(
    WRAP, construction="flat", shape="rounded", vessel_mm=None, closure=None, thickness_mm=0
)
CHANGES = [
    (WRAP, {"name": "Another: #2"}),
    (WRAP, {"width_mm": 241.25}),
    (WRAP, {"vessel_mm": Across(70.028, 220.0)}),
    (WRAP, {"height_mm": 99.5}),
    (WRAP, {"cloth": Cloth(finish="smooth", colours={"white": "#ffffff"})}),
    (WRAP, {"cloth": replace(WRAP.cloth, polyester=0.875)}),
    (WRAP, {"cloth": replace(WRAP.cloth, colours={"white": "#ffffff", "a: b": "#6fb7e9"})}),
    (WRAP, {"cloth": replace(WRAP.cloth, readings={"white": READINGS})}),
    (WRAP, {"bleed_mm": 0.0}),
    (WRAP, {"safe_mm": 0.0}),
    (WRAP, {"thickness_mm": 2.96875}),
    (WRAP, {"vessel_mm": 53.0}),
    (WRAP, {"closure": Closure(width_mm=25, shortest_mm=10, on_top="right")}),
    (WRAP, {"closure": Closure(width_mm=30, shortest_mm=9, on_top="right")}),
    (WRAP, {"closure": Closure(width_mm=30, shortest_mm=10, on_top="left")}),
    (WRAP, {"shrink": (0.0, 0.004)}),
    (WRAP, {"holes": (Hole(x=20, y=8.5, diameter=5), Hole(x=40, y=8, diameter=4.25))}),
    (WRAP, {"press": PressSetting(heat_c=196, time_s=55)}),
    (WRAP, {"press": PressSetting(heat_c=196, heat_f_written=385, time_s=55)}),
    (WRAP, {"press": PressSetting(heat_c=196, time_s=55, pressure="light: a hand", sides=2)}),
    (WRAP, {"press": PressSetting(heat_c=196, time_s=55, preheat_s=4.5, source="trial")}),
    (WRAP, {"press": PressSetting(heat_c=196, time_s=55, tried=date(2026, 11, 29))}),
    (WRAP, {"cost": Decimal("0.00")}),
    (WRAP, {"stock": Stock(pieces={"white": 0})}),
    (WRAP, {"stock": Stock(pieces={"white": 4}, counted=date(2026, 11, 20))}),
    (WRAP, {"stock": Stock(pieces={"white": 4}, own={"white": datetime(2026, 11, 20, 21, 40)})}),
    (WRAP, {"note": "“ours”"}),
    (WRAP, {"called": "A sleeve: ours"}),
    (WRAP, {f"{key}_mm": 1.5 for key in ("seam", "fold", "hem", "base", "gap")}),
    (WRAP, {"construction": "sewn", "closure": None, "gap_mm": 0.0}),
    (WRAP, {"construction": "fold", "closure": None, "vessel_mm": None, "seam_mm": 0.0}),
    (FLAT, {"corner_mm": 8.0}),
    (FLAT, {"corner_mm": 0.0, "width_mm": 90.0}),
    (FLAT, {"shape": "rectangle"}),
    (FLAT, {"shape": "round", "height_mm": FLAT.width_mm}),
]


@pytest.mark.parametrize(("blank", "change"), CHANGES)
def test_each_field_reads_back_as_it_was_written(blank: Blank, change: dict[str, object]) -> None:
    """A rounded blank with a corner of 0 mm did not: its corner was left out."""
    changed = replace(blank, **change)  # type: ignore[arg-type]
    text = blank_text(changed)
    assert text != blank_text(blank)
    again = check_blank(text, "b")
    assert replace(again, place=changed.place, lines={}) == changed


def test_the_changes_touch_each_field() -> None:
    assert {key for _, change in CHANGES for key in change} == {f.attr for f in FIELDS.values()}
