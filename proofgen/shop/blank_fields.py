"""The fields of blanks/NAME.yaml, each declared once, in the order of the file: the reader, the
writer and the questions of `measure` go through this table."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from operator import attrgetter
from typing import Any, get_args

from proofgen.geometry import CONSTRUCTIONS, ENDS, SHAPES, Construction, Hole, Shape
from proofgen.model import HEAT_SOURCES, Blank, Closure, PressSetting, Stock
from proofgen.model.blank import HeatSource, Hold, PaperEdge, Peel, StripSide
from proofgen.shop.cloth import CLOTH, STOCK
from proofgen.shop.fields import AnyEntry, Entry, Map, T, Value, choice, mapped, text
from proofgen.shop.getters import Record, as_record
from proofgen.shop.money import money
from proofgen.shop.values import (
    DAY,
    Kind,
    Unit,
    exact,
    length,
    seconds,
    share,
    temperature,
    whole,
)
from proofgen.shop.yaml_text import flow_map
from proofgen.units import ROUND, Across, Temperature, parse_across

# What kind of blank it is, as far as its measures go: the construction, or a flat one's shape.
KINDS: tuple[str, ...] = (*(c for c in CONSTRUCTIONS if c != "flat"), *SHAPES)
_STRAIGHT = ("rectangle", "rounded")

# mm. Beyond these a unit was mistaken: a 40 m can, a 3 m sleeve.
_MOST_SIDE = 2000.0
_MOST_VESSEL = 400.0
_MOST_THICK = 50.0
# °C. Disperse dye begins to move at about 150 °C and polyester melts at 250 to 260 °C (Miles,
# Textile Printing, from memory); anything outside is a slip of the pen.
_HEATS = (100.0, 260.0)

# How often a blank goes under the press is its maker's to say, but a back that no design has needs
# no second time: who writes it wants two printed faces, and would hear of them only at `check`.
ONE_FACE = "a flat blank has one face, and nothing is printed on its back"
TWO_FACES = "to print front and back, measure two blanks, one for each"

MOST_CALLED = 60  # letters of what customers call a blank
_SIDE = length(above=0, most=_MOST_SIDE)
_STRIP = length(least=0, most=_MOST_SIDE)
_HOLE = length(above=0, most=100)
_CAN = (
    "How wide is the can? Write it like 66.1 mm, “round 207.6 mm” for a tape laid round it, or "
    "what a usual one holds, like 0.33 l."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Field(Entry[T]):
    """A field of `Blank`. Kinds in `of` must have it, unless it is `optional`, and have it written
    always; `alone`: no other kind has it. With `known` a tape may tell it of other kinds too."""

    attr: str
    of: Collection[str] = ()
    optional: bool = False
    alone: bool = False
    known: bool = False

    def read_for(self, record: Record, kind: str) -> T | None:
        """What the file says, or what is usual; a fault where it must be there and is not."""
        if kind in self.of and not self.optional:
            return self.read(record, None)
        return self.read(record, self.usual) if record.has(self.key) else self.usual

    def is_silent(self, kind: str, value: T | None) -> bool:
        """Whether a blank of that kind needs no line for the value."""
        return value is None or (kind not in self.of and (self.alone or value == self.usual))

    def written(self, blank: Blank) -> str | None:
        """Its YAML; None where nothing need be said."""
        value = getattr(blank, self.attr)
        kind = kind_of(blank.construction, blank.shape)
        return None if self.is_silent(kind, value) else self.value.write(value)

    def may_stay_open(self, kind: str) -> bool:
        """Whether a blank of that kind is whole without it."""
        return kind not in self.of

    def measured(self) -> Iterator[tuple[str, AnyEntry]]:
        """What of it `measure` asks for, by the name it has there."""
        for entry in self.value.entries if isinstance(self.value, Map) else (self,):
            if entry.asks:
                yield entry.option or entry.key, entry


def has_sides(construction: Construction, sides: object) -> bool:
    """Whether so many sides of a blank can be pressed."""
    return construction != "flat" or sides == 1


def kind_of(construction: Construction, shape: Shape) -> str:
    """One of KINDS."""
    return shape if construction == "flat" else construction


def _press(
    heat: Temperature,
    time: float,
    pressure: str,
    sides: int,
    preheat: float,
    source: HeatSource,
    tried: str,
    peel: Peel,
    edge: PaperEdge,
    hold: Hold,
) -> PressSetting:
    return PressSetting(
        heat_c=heat.celsius,
        heat_f_written=heat.fahrenheit,
        time_s=time,
        pressure=pressure,
        sides=sides,
        preheat_s=preheat,
        source=source,
        tried=date.fromisoformat(tried) if tried else None,
        peel=peel,
        edge=edge,
        hold=hold,
    )


def _press_parts(press: PressSetting) -> tuple[object, ...]:
    heat = Temperature(press.heat_c, press.heat_f_written)
    figures = heat, press.time_s, press.pressure, press.sides, press.preheat_s, press.source
    tried = press.tried.isoformat() if press.tried else ""
    return *figures, tried, press.peel, press.edge, press.hold


def _read_day(record: Record, key: str, _: str | None) -> str:
    return record.read(key, DAY).isoformat() if record.has(key) else ""


def _said(key: str, options: object, option: str = "", **asks: str) -> Entry[str]:
    """One of the options of a Literal, or nothing said, which is its first."""
    return Entry(key=key, value=choice(get_args(options)[1:]), usual="", option=option, asks=asks)


def _can_wide() -> Kind[float]:
    """How wide a can is; by a tape laid round it, what the tape showed is written."""
    kind = Unit(parse_across, 1.0, " mm")(least=10, most=_MOST_VESSEL)

    def write(across: float) -> str:
        if isinstance(across, Across):
            return f"{ROUND} {exact(across.round_mm)} mm"
        return kind.write(across)

    return replace(kind, write=write)


_VESSEL = mapped(
    "the can",
    lambda diameter: diameter,
    lambda diameter: (diameter,),
    Entry(
        key="diameter",
        value=_can_wide(),
        option="vessel",
        asks={"wrap": _CAN},
    ),
)
_CLOSURE = mapped(
    "the closure",
    lambda width, shortest, on_top, on: Closure(
        width_mm=width, shortest_mm=shortest, on_top=on_top, on=on
    ),
    attrgetter("width_mm", "shortest_mm", "on_top", "on"),
    Entry(
        key="width",
        value=_SIDE,
        option="closure",
        asks={"wrap": "How wide is the hook-and-loop strip, measured across it?"},
    ),
    # The least overlap, bleed and safe that Enter stands for: common practice, no source.
    Entry(
        key="shortest",
        value=_STRIP,
        asks={
            "wrap": "How much must the ends overlap to hold? Under a strip, how much of each end?"
        },
        enter="10 mm",
    ),
    Entry(
        key="on_top",
        value=choice(ENDS),
        asks={
            "wrap": "Which end lies on top when it is closed, seen print side up? neither: they "
            "meet, and a strip lies over both"
        },
        enter="right",
    ),
    _said(
        "on",
        StripSide,
        option="strip",
        wrap="Seen print side up, on which side is the hook-and-loop? back: of the end on top "
        "alone; front: of the end under it, too",
    ),
)
SHRINK: Map[tuple[float, float]] = mapped(
    "the shrink",
    lambda x, y: (x, y),
    tuple,
    Entry(key="x", value=share(least=0, most=0.2), usual=0.0),
    Entry(key="y", value=share(least=0, most=0.2), usual=0.0),
)
PRESS: Map[PressSetting] = mapped(
    "the press setting",
    _press,
    _press_parts,
    Entry(key="heat", value=temperature(least=_HEATS[0], most=_HEATS[1])),
    Entry(key="time", value=seconds(above=0, most=600)),
    Entry(key="pressure", value=text(40), usual="medium"),
    Entry(key="sides", value=whole(least=1, most=2), usual=1),
    Entry(key="preheat", value=seconds(least=0, most=600), usual=0.0),
    Entry(key="from", value=choice(HEAT_SOURCES), usual="practice"),
    Entry(key="tried", value=Value(_read_day, str), usual=""),
    _said("peel", Peel),
    _said("edge", PaperEdge),
    _said("hold", Hold),
)


# What is told of a hole, in the turn in which `measure` takes it.
HOLE: Mapping[str, Kind[float]] = {"x": _STRIP, "y": _STRIP, "diameter": _HOLE}


def _read_holes(blank: Record, key: str, _: tuple[Hole, ...] | None) -> tuple[Hole, ...]:
    holes = []
    for node in blank.items(key):
        with as_record(node, blank, key, "a hole") as hole:
            holes.append(Hole(**{name: hole.read(name, kind) for name, kind in HOLE.items()}))
    return tuple(holes)


def _write_holes(holes: tuple[Hole, ...]) -> str:
    maps = (
        flow_map([(name, kind.write(getattr(hole, name))) for name, kind in HOLE.items()])
        for hole in holes
    )
    return f"[{', '.join(maps)}]"


HOLES: Value[tuple[Hole, ...]] = Value(_read_holes, _write_holes)


def _side(key: str, asks: Mapping[str, str]) -> Field[float]:
    """A side, under the name that these kinds of blank alone give it."""
    attr = "height_mm" if key == "height" else "width_mm"
    return Field(key=key, attr=attr, value=_SIDE, of=tuple(asks), alone=True, asks=asks)


def _strip(
    key: str, kind: str, asks: str, enter: str = "", *, needed: bool = False
) -> Field[float]:
    """A length of one kind of blank, 0 where it is not written."""
    return Field(
        key=key,
        attr=f"{key}_mm",
        value=_STRIP,
        of=(kind,),
        optional=not needed,
        usual=0.0,
        asks={kind: asks},
        enter=enter,
    )


def _edge(key: str, most: float, asks: str, enter: str) -> Field[float]:
    """A width along every edge; 0 will do."""
    value = length(least=0, most=most)
    every = dict.fromkeys(KINDS, asks)
    return Field(key=key, attr=f"{key}_mm", value=value, of=KINDS, asks=every, enter=enter)


_COST: Value[Decimal] = Value(
    lambda record, key, usual: record.read(key, money(record.source.currency), usual), str
)

_ALL: tuple[Field[Any], ...] = (
    Field(key="name", attr="name", value=text(80), of=KINDS),
    Field(key="called", attr="called", value=text(MOST_CALLED), usual=""),
    Field(key="construction", attr="construction", value=choice(CONSTRUCTIONS), of=KINDS),
    Field(key="vessel", attr="vessel_mm", value=_VESSEL, of=("wrap",), known=True),
    Field(
        key="shape", attr="shape", value=choice(SHAPES), of=SHAPES, optional=True, usual="rectangle"
    ),
    _side("length", {"wrap": "How long is the cloth, lying flat, from end to end?"}),
    _side(
        "width",
        {
            "fold": "How wide is the flat cloth, across the opening?",
            "sewn": "How wide is one face, lying flat, from seam to seam?",
            **dict.fromkeys(_STRAIGHT, "How wide is it?"),
        },
    ),
    _side("diameter", {"round": "How wide is it across the middle?"}),
    _side(
        "height",
        {
            "wrap": "How high is the cloth?",
            "fold": "How high is the whole flat cloth, front and back together?",
            "sewn": "How high is one face?",
            **dict.fromkeys(_STRAIGHT, "How high is it?"),
        },
    ),
    _strip("corner", "rounded", "What is the radius of a corner?", needed=True),
    Field(
        key="thickness",
        attr="thickness_mm",
        value=length(above=0, most=_MOST_THICK),
        of=("wrap",),
        known=True,
        usual=0.0,
        asks=dict.fromkeys(
            ("wrap", "sewn"), "How thick is the cloth? Fold it to four layers, take a quarter."
        ),
    ),
    Field(key="closure", attr="closure", value=_CLOSURE, of=("wrap",)),
    _strip("seam", "fold", "How much cloth goes into the seam at each side?"),
    _strip(
        "fold", "fold", "How wide is the strip round the bottom, between front and back?", "0 mm"
    ),
    _strip("hem", "fold", "How much is turned over at each opening?", "0 mm"),
    _strip("base", "fold", "How much of each face lies under the can?", "0 mm"),
    _strip("gap", "sewn", "How far from the seam does the press stop, each side?"),
    _edge("bleed", 50, "How far may ink run past the edge?", "6 mm"),
    _edge("safe", 200, "How far from the edge do words stay?", "5 mm"),
    Field(key="holes", attr="holes", value=HOLES, usual=()),
    Field(key="shrink", attr="shrink", value=SHRINK, usual=(0.0, 0.0)),
    Field(key="cloth", attr="cloth", value=CLOTH, of=KINDS),
    Field(key="press", attr="press", value=PRESS),
    Field(key="cost", attr="cost", value=_COST),
    Field(key="stock", attr="stock", value=STOCK, usual=Stock()),
    Field(key="note", attr="note", value=text(400), usual=""),
)
FIELDS = {field.key: field for field in _ALL}
