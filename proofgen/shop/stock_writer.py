"""How many blanks were counted, into blanks/NAME.yaml; every other letter is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import yaml

from proofgen import store
from proofgen.errors import ShopError
from proofgen.model import Blank
from proofgen.shop.blank_writer import change_blank, check_blank
from proofgen.shop.cloth import count_text
from proofgen.shop.nodes import read_text
from proofgen.shop.yaml_text import as_yaml, entry, flow_map, with_entry


def write_count(folder: Path, blank: Blank, counts: Mapping[str, int], now: datetime) -> Path:
    """Write counts by cloth with the moment, by the shop's clock (naive), into the blank's file;
    its path. Of a built-in blank the file holds what the shop alone knows. Errors: as
    `change_blank`."""

    def wanted(before: Blank) -> Blank:
        stock = before.stock
        pieces, own = {**stock.pieces, **counts}, {**stock.own, **dict.fromkeys(counts, now)}
        return replace(before, stock=replace(stock, pieces=pieces, own=own))

    def edited(text: str) -> str:
        for cloth, pieces in counts.items():
            text = _with(text, cloth, count_text(pieces, now))
        return text

    if not blank.built_in:
        return change_blank(folder, blank, edited, wanted)
    path = folder / "blanks" / f"{blank.id}.yaml"
    new = edited(read_text(path, f"blanks/{path.name}") if path.is_file() else "")
    if check_blank(new, blank.id) != wanted(blank):
        raise ShopError(
            "the count could not be put into this file as it is written",
            "write its stock: plainly, in one line, and try again",
            blank.place,
        )
    store.write(path, new, durable=True)
    return path


def _with(text: str, cloth: str, count: str) -> str:
    """The text with this count in its stock, which is made where there is none."""
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    if root is None:
        return f"{text}stock: {flow_map([(as_yaml(cloth), count)])}\n"
    there = entry(root, "stock")
    if there is None or not isinstance(there[1], yaml.MappingNode):
        return with_entry(text, root, "stock", there, flow_map([(as_yaml(cloth), count)]))
    return with_entry(text, there[1], as_yaml(cloth), entry(there[1], cloth), count)
