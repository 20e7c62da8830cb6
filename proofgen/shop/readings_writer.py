"""Readings of swatches into blanks/NAME.yaml: one entry set, every other letter left as it was."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import yaml

from proofgen.errors import ShopError
from proofgen.model import Blank
from proofgen.shop.blank_writer import change_blank
from proofgen.shop.yaml_text import as_yaml, entry, flow_map, with_entry

_IN_A_LINE = 3
Pairs = Sequence[tuple[str, str]]


def write_readings(folder: Path, blank: Blank, colour: str, pairs: Pairs) -> Path:
    """Set `cloth: correction: COLOUR:` in the blank's file below the shop `folder`; its path.

    `pairs` are '#rrggbb', asked and read. Errors: as `change_blank`.
    """

    def wanted(before: Blank) -> Blank:
        readings = {**before.cloth.readings, colour: tuple(pairs)}
        return replace(before, cloth=replace(before.cloth, readings=readings))

    return change_blank(folder, blank, lambda text: with_readings(text, colour, pairs), wanted)


def with_readings(text: str, colour: str, pairs: Pairs) -> str:
    """The blank's YAML with the readings of a colour set."""
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    cloth = entry(root, "cloth")
    if cloth is None:
        raise ShopError(
            "this file has no cloth:",
            'write its colours first: cloth: {colours: {white: "#ffffff"}}',
        )
    correction = entry(cloth[1], "correction")
    if correction is None or not isinstance(correction[1], yaml.MappingNode):
        value = _flow({colour: pairs}, _column(cloth[1]))
        return with_entry(text, cloth[1], "correction", correction, value)
    swatches = entry(correction[1], colour)
    value = _pairs(pairs, _column(correction[1]))
    return with_entry(text, correction[1], as_yaml(colour), swatches, value)


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
