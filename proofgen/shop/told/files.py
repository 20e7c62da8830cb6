"""The maker's files, each with its lines."""

from __future__ import annotations

import fnmatch
from collections.abc import Mapping
from dataclasses import dataclass

from proofgen.shop.told.blanks import BLANK
from proofgen.shop.told.designs import DESIGN, SEASON
from proofgen.shop.told.line import LineTold
from proofgen.shop.told.orders import GUESTS, ORDER
from proofgen.shop.told.settings import SETTINGS


@dataclass(frozen=True, slots=True)
class FileTold:
    """A kind of file of the shop's folder: its name (capital words are yours), the pattern its path
    has, what it holds, and its lines by the keys that lead to them, parted by dots; `*` is a key of
    the maker's own."""

    name: str
    pattern: str
    says: str
    lines: Mapping[str, LineTold]


FILES = (
    FileTold("shop.yaml", "shop.yaml", "who you are, what you print and press with", SETTINGS),
    FileTold("orders/ORDER/order.yaml", "orders/*/order.yaml", "what one customer wants", ORDER),
    FileTold("orders/ORDER/guests.csv", "orders/*/*.csv", "a list of names for an order", GUESTS),
    FileTold(
        "designs/NAME/design.md",
        "designs/*/design.md",
        "artwork with slots, between two lines of `---`; below them what the catalogue says of it",
        DESIGN,
    ),
    FileTold("blanks/NAME.yaml", "blanks/*.yaml", "a blank as a tape shows it", BLANK),
    FileTold(
        "seasons/NAME.md",
        "seasons/*.md",
        "one issue of the catalogue, between two lines of `---`; below them its introduction",
        SEASON,
    ),
)


def _matches(told: str, keys: list[str]) -> bool:
    parts = told.split(".")
    return len(parts) == len(keys) and all(
        part in ("*", key) for part, key in zip(parts, keys, strict=True)
    )


def meaning_of(file: str, key: str) -> str:
    """What a line of a file is for; '' where nothing is known of it. `file` is its path below the
    shop's folder, `key` the keys that lead to it, parted by dots."""
    for one in FILES:
        if fnmatch.fnmatchcase(file, one.pattern):
            keys = key.split(".")
            found = one.lines.get(key) or next(
                (line for told, line in one.lines.items() if _matches(told, keys)), None
            )
            return found.says if found else ""
    return ""
