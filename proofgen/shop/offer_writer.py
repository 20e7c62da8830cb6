"""Puts a blank and its price under offered: in a design's file, every other letter kept."""

from __future__ import annotations

from dataclasses import dataclass

import yaml

from proofgen import store
from proofgen.errors import ShopError
from proofgen.model import Design
from proofgen.shop.money import parse_priced
from proofgen.shop.nodes import Source, read_text, split_front
from proofgen.shop.yaml_text import entry, with_entry

_BOM = b"\xef\xbb\xbf"


def price_text(text: str, currency: str) -> str:
    """A price as a design writes it, like 14.50. ValueError for what is none in this currency."""
    return f"{parse_priced(text, currency):.2f}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A design is sold on a blank (its short name) from now on; `price` of one piece as text."""

    design: Design
    blank: str
    price: str

    @property
    def line(self) -> str:
        """What stands in the file then."""
        return f"{self.blank}: {self.price}"

    def text(self) -> str:
        """The design's file with this offer. ShopError where it would not read back as it was but
        for the offer."""
        text = read_text(self.design.folder / "design.md", self.design.place.file)
        front, _ = split_front(text, Source(self.design.place.file))
        start = text.index("\n") + 1  # behind the first ---
        try:
            root = yaml.compose(front, Loader=yaml.SafeLoader)
            there = entry(root, "offered")
            assert root and there
            edited = with_entry(
                front, there[1], self.blank, entry(there[1], self.blank), self.price
            )
            meant = yaml.load(front, Loader=yaml.BaseLoader)  # texts alone, no objects
            meant["offered"] = {**(meant["offered"] or {}), self.blank: self.price}
            same = yaml.load(edited, Loader=yaml.BaseLoader) == meant
        except (yaml.YAMLError, AssertionError, TypeError):
            same = False
        if not same:
            raise ShopError(
                "the price could not be put into this file as it is written",
                f"write it there by hand, under offered:  {self.line}",
                self.design.place,
            )
        return text[:start] + edited + text[start + len(front) :]

    def write(self) -> None:
        """Put it into the file, whole or not at all. Errors: as `text`; MachineError."""
        file = self.design.folder / "design.md"
        bom = _BOM if file.read_bytes().startswith(_BOM) else b""
        store.write(file, bom + self.text().encode(), durable=True)
