"""A small invented shop, and a way to read it with some of its files changed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen.errors import Place
from proofgen.model import Shop
from proofgen.shop import read_shop

SHOP = """\
name: Tern Row Press Room
contact: hello@ternrow.example
language: en
zone: Europe/Dublin
currency: EUR
site: https://ternrow.example/
paper: [A4, A3]
printer: {ppi: 300, margin: 5 mm, scale: {x: 100 %, y: 99.5 %}}
platen: {width: 380 mm, height: 15 in}
cover: 10 mm
limits: {good_ppi: 200, floor_ppi: 120, letter_height: 3 mm}
days: {answer: 5, lead: 10}
spares: 5 %
rates: {minute: 0.40, sheet: {A4: 0.18, A3: 0.36}}
"""

WRAP = """\
name: Standard can wrap, linen-look
construction: wrap
vessel: {diameter: 66.1 mm}
length: 240 mm
height: 100 mm
thickness: 3 mm
closure: {width: 30 mm, shortest: 10 mm, on_top: right}
seam: 6 mm
fold: 4 mm
hem: 0 mm
base: 0 mm
gap: 4 mm
shape: rectangle
bleed: 6 mm
safe: 5 mm
shrink: {x: 1 %, y: 0.5 %}
cloth: {finish: linen-look, polyester: 100 %, colours: {white: "#ffffff", sky: "#6fb7e9"}}
press: {heat: 400 F, time: 60 s, pressure: medium, sides: 1, preheat: 10 s, from: practice}
cost: 1.10
stock: {white: 24}
"""

DESIGN = """\
---
title: Harbour photo
occasions: [anniversary, gift]
offered: {my-wrap: 14.50, can-fold: {1: 12.00, 10: 10.50}}
faces:
  round:
    - colour: "#fff"
    - photo: {slot: photo, at: fill}
    - words: {slot: name, at: [10 %, 70 %, 80 %, 20 %], font: Caladea, size: 9 mm, colour: "#123"}
    - words: {slot: date, at: [10 mm, 1 in, 80 %, 20 %], size: 5 mm, align: left}
---
A *quiet* harbour.
"""

ORDER = """\
customer: {name: Odalys Fenn, email: odalys@example.org, language: en}
due: 2026-12-12
lines:
  - design: harbour
    blank: my-wrap
    cloth: white
    quantity: 3
    photos: {photo: {file: photos/pier.jpg, focus: [0.5, 0.4], zoom: 1.2}}
    words: {name: "Odalys & Bram", date: "Saturday 12 June 2027"}
"""

SEASON = """\
---
title: Winter
sentence: For cold hands.
designs: [harbour]
---
Hello.
"""

FILES: dict[str, str | bytes] = {
    "shop.yaml": SHOP,
    "blanks/my-wrap.yaml": WRAP,
    "designs/harbour/design.md": DESIGN,
    "orders/fenn/order.yaml": ORDER,
    "orders/fenn/photos/pier.jpg": b"not looked into here",
    "seasons/winter.md": SEASON,
    "words/about.md": "# About\n",
}

Files = dict[str, str | bytes | None]
MakeShop = Callable[..., Path]


@pytest.fixture
def make_shop(tmp_path: Path) -> MakeShop:
    """Write the shop with some files replaced (None: left out, a folder/ whole); the folder."""

    def make(changes: Files | None = None) -> Path:
        folder = tmp_path / "shop"
        files: Files = {**FILES, **(changes or {})}
        gone = tuple(name for name, content in files.items() if content is None)
        for name, content in files.items():
            if content is None or name.startswith(gone):
                continue
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content.encode() if isinstance(content, str) else content)
        return folder

    return make


@pytest.fixture
def shop(make_shop: MakeShop) -> Shop:
    return read_shop(make_shop())


def told(shop: Shop) -> list[tuple[str, int | None, str]]:
    """The faults as (file, line, problem)."""
    found = []
    for fault in shop.faults:
        assert isinstance(fault.place, Place)
        assert fault.cure, fault.problem
        found.append((fault.place.file, fault.place.line, fault.problem))
    return found


def the_fault(shop: Shop, file: str, line: int | None, *words: str) -> None:
    """There is exactly one fault, at that line, and problem or cure hold the words."""
    assert [t[:2] for t in told(shop)] == [(file, line)], told(shop)
    said = f"{shop.faults[0].problem} | {shop.faults[0].cure}"
    for word in words:
        assert word in said, said
