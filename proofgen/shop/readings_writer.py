"""Readings of swatches into blanks/NAME.yaml: one entry set, every other letter left as it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import yaml

from proofgen import store
from proofgen.errors import ShopError, ShopFaults
from proofgen.model import Blank
from proofgen.shop.blank_reader import BUILT_IN
from proofgen.shop.blank_writer import check_blank
from proofgen.shop.nodes import read_text
from proofgen.shop.yaml_text import Entry, as_yaml, entry, flow_map

_IN_A_LINE = 3
Pairs = Sequence[tuple[str, str]]


def write_readings(folder: Path, blank: Blank, colour: str, pairs: Pairs) -> Path:
    """Set `cloth: correction: COLOUR:` in the blank's file below the shop `folder`; its path.

    `pairs` are '#rrggbb', asked and read. A built-in blank is first copied as the shop's own. The
    new text is read back before the one write. Errors: ShopFaults or ShopError, nothing written,
    when it would not read as it should; MachineError when it cannot be written.
    """
    if blank.built_in:
        path, origin = folder / "blanks" / f"{blank.id}.yaml", BUILT_IN / f"{blank.id}.yaml"
    else:
        path = origin = folder / blank.place.file
    text = read_text(origin, f"blanks/{origin.name}")
    new = with_readings(text, colour, pairs)
    try:
        before, again = check_blank(text, blank.id), check_blank(new, blank.id)
    except ShopFaults as faults:
        raise ShopFaults([ShopError(f.problem, f.cure, blank.place) for f in faults.faults]) from (
            faults
        )
    readings = {**before.cloth.readings, colour: tuple(pairs)}
    if again != replace(before, cloth=replace(before.cloth, readings=readings)):
        raise ShopError(
            "the readings could not be put into this file as it is written",
            "write cloth: as a plain map, one key a line, and try again",
            blank.place,
        )
    store.write(path, new, durable=True)
    return path


def with_readings(text: str, colour: str, pairs: Pairs) -> str:
    """The blank's YAML with the readings of a colour set."""
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    cloth = entry(root, "cloth")
    if cloth is None:
        raise ShopError("this file has no cloth:", "write its cloth first")
    correction = entry(cloth[1], "correction")
    if correction is None or not isinstance(correction[1], yaml.MappingNode):
        value = _flow({colour: pairs}, _column(cloth[1]))
        return _set(text, cloth[1], "correction", correction, value)
    swatches = entry(correction[1], colour)
    value = _pairs(pairs, _column(correction[1]))
    return _set(text, correction[1], as_yaml(colour), swatches, value)


def _column(node: yaml.Node) -> int:
    """How far in continued lines of a value in this map must stand."""
    if isinstance(node, yaml.MappingNode) and not node.flow_style and node.value:
        return int(node.value[0][0].start_mark.column) + 2
    return int(node.start_mark.column) + 2


def _flow(colours: dict[str, Pairs], column: int) -> str:
    return flow_map((as_yaml(name), _pairs(pairs, column)) for name, pairs in colours.items())


def _pairs(pairs: Pairs, column: int) -> str:
    items = [f"{as_yaml(asked)}: {as_yaml(read)}" for asked, read in pairs]
    lines = [", ".join(items[i : i + _IN_A_LINE]) for i in range(0, len(items), _IN_A_LINE)]
    edge = "\n" + " " * column
    return "{" + edge + ("," + edge).join(lines) + "}"


def _end(node: yaml.Node) -> int:
    """Where the last letter of a node stands; a block's own end mark lies at what follows it."""
    while isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    return int(node.end_mark.index)


def _set(text: str, node: yaml.Node, key: str, there: Entry | None, value: str) -> str:
    """The text with `key: value` in the map `node`, in place of the entry that is there."""
    newline = "\r\n" if "\r\n" in text else "\n"
    value = value.replace("\n", newline)
    if there is not None:
        start, end = there[0].end_mark.index, _end(there[1])
        return f"{text[:start]}: {value}{text[max(end, start) :]}"
    if not isinstance(node, yaml.MappingNode) or not node.value:
        return f"{text[: node.start_mark.index]}{{{key}: {value}}}{text[node.end_mark.index :]}"
    end = _end(node.value[-1][1])
    if node.flow_style:
        return f"{text[:end]}, {key}: {value}{text[end:]}"
    rest = text.find("\n", end)
    end = len(text) if rest < 0 else rest + 1  # a remark behind the last value stays with it
    gap = "" if text[:end].endswith("\n") else newline
    indent = " " * node.value[0][0].start_mark.column
    return f"{text[:end]}{gap}{indent}{key}: {value}{newline}{text[end:]}"
