"""The cloth of a blank in its file: finish, polyester, colours, what swatches read; its stock."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date, datetime

from proofgen.colour import judge_readings
from proofgen.model import FINISHES, Cloth, Stock
from proofgen.model.blank import Finish
from proofgen.say import quoted
from proofgen.shop.fields import Value
from proofgen.shop.getters import Record, named, or_meant
from proofgen.shop.nodes import MapNode
from proofgen.shop.values import COLOUR, DAY, MOMENT, share, whole
from proofgen.shop.yaml_text import as_yaml, flow_map

Readings = Mapping[str, tuple[tuple[str, str], ...]]
POLYESTER = share(least=0, most=1)
_PIECES = whole(least=0, most=1_000_000)


def _read_cloth(blank: Record, key: str, _: Cloth | None) -> Cloth:
    with blank.map(key, "the cloth", needed=True) as cloth:
        finish: Finish = cloth.choice("finish", FINISHES) if cloth.has("finish") else ""
        polyester = cloth.read("polyester", POLYESTER) if cloth.has("polyester") else None
        with cloth.map("colours", "the colours", needed=True) as shades:
            colours = {name: shades.read(name, COLOUR) for name in shades.names()}
        _judge_names(shades)
        if shades.there and not colours:
            cloth.fault("colours", "cloth.colours is empty", 'add one, like white: "#ffffff"')
        readings = _read_readings(cloth, colours)
    return Cloth(finish=finish, polyester=polyester, colours=colours, readings=readings)


def _judge_names(shades: Record) -> None:
    seen: dict[str, str] = {}
    for name in shades.names():
        if not name.strip() or len(name) > 40 or not name.isprintable():
            shades.fault(name, f"{quoted(name)} cannot be a colour's name", "give it a short name")
        elif name.casefold() in seen:
            shades.fault(
                name,
                f"{quoted(name)} and {quoted(seen[name.casefold()])} are the same",
                "keep one",
            )
        seen[name.casefold()] = name


def is_colour(record: Record, name: str, what: str, colours: Collection[str]) -> bool:
    """Whether the cloth has the colour that `what` names; a fault with its line if not."""
    if not colours or name in colours:
        return True
    record.fault(
        name,
        f"{what} names {quoted(name)}, which is not a colour of this cloth",
        or_meant(name, colours, f"Colours: {named(colours)}"),
    )
    return False


def _read_readings(cloth: Record, colours: Mapping[str, str]) -> Readings:
    """`correction`: for a colour of the cloth, each swatch's colour asked for and read."""
    readings = {}
    with cloth.map("correction", "the correction") as shades:
        for name in shades.names():
            with shades.map(name, "the swatches of a colour", needed=True) as swatches:
                pairs = tuple((asked, swatches.read(asked, COLOUR)) for asked in swatches.names())
            if is_colour(shades, name, "correction", colours) and swatches.there:
                _judge_readings(shades, name, pairs)
                readings[name] = pairs
    return readings


def _judge_readings(shades: Record, name: str, pairs: tuple[tuple[str, str], ...]) -> None:
    try:
        judge_readings(pairs)
    except ValueError as error:
        shades.fault(
            name,
            f"correction.{name}: {error}",
            'write each swatch as asked and read, like "#c80000": "#7a1f2a"',
        )


def _write_cloth(cloth: Cloth) -> str:
    entries = [("finish", str(cloth.finish))] if cloth.finish else []
    if cloth.polyester is not None:
        entries.append(("polyester", POLYESTER.write(cloth.polyester)))
    entries.append(("colours", _named(cloth.colours.items())))
    if cloth.readings:
        swatches = {name: _named(pairs) for name, pairs in cloth.readings.items()}
        entries.append(("correction", flow_map((as_yaml(n), s) for n, s in swatches.items())))
    return flow_map(entries)


def _named(colours: Collection[tuple[str, str]]) -> str:
    return flow_map((as_yaml(name), COLOUR.write(shade)) for name, shade in colours)


_COUNTED = "counted"  # the day of the count, beside the colours


def _read_stock(blank: Record, key: str, _: Stock | None) -> Stock:
    with blank.map(key, "the stock") as stock:
        day = stock.read(_COUNTED, DAY) if stock.has(_COUNTED) else None
        pieces, own = {}, {}
        for name in stock.names():
            if name == _COUNTED:
                continue
            if not isinstance(stock.value(name), MapNode):
                pieces[name] = stock.read(name, _PIECES)
                continue
            with stock.map(name, "the count") as cloth:
                pieces[name] = cloth.read("pieces", _PIECES)
                if cloth.has(_COUNTED):
                    own[name] = cloth.read(_COUNTED, MOMENT)
    return Stock(pieces=pieces, counted=day, own=own)


def count_text(pieces: int, when: date) -> str:
    """The count of one cloth as YAML, with its day or moment (a datetime)."""
    said = when.isoformat(" ") if isinstance(when, datetime) else when.isoformat()
    return flow_map([("pieces", str(pieces)), (_COUNTED, said)])


def _write_stock(stock: Stock) -> str:
    entries = [
        (as_yaml(name), count_text(count, stock.own[name]) if name in stock.own else str(count))
        for name, count in stock.pieces.items()
    ]
    day = [(_COUNTED, stock.counted.isoformat())] if stock.counted else []
    return flow_map([*entries, *day])


def judge_stock(blank: Record, stock: Stock, colours: Collection[str]) -> None:
    """Note pieces in stock of colours that the cloth does not have."""
    if stock.pieces:
        record = blank.map("stock", "the stock")
        for name in stock.pieces:
            is_colour(record, name, "stock", colours)


CLOTH = Value(_read_cloth, _write_cloth)
STOCK = Value(_read_stock, _write_stock)
