"""A small shop of our own invention, quick to build, and the command run inside this process."""

from __future__ import annotations

import contextlib
import io
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from proofgen import cli
from proofgen.say.shell import for_shell
from tests.slips import code_on, facts_on

TODAY = "2026-11-25"

SHOP = f"""\
name: Puffin Yard
contact: hello@puffinyard.example
language: en
zone: Europe/Dublin
currency: EUR
site: https://puffinyard.example
paper: [A4]
printer: {{ppi: 72, margin: 5 mm}}
days: {{answer: 5, lead: 10}}
today: {TODAY}
"""

DESIGNS = {
    # colour and words
    "tag": """\
---
title: Plain tag
occasions: [gift]
offered: {coaster-round: {1: 5.00, 10: 4.00}, pouch-flat: 9.00}
faces:
  front:
    - colour: "#f3d9a4"
    - words: {slot: name, at: [15 %, 35 %, 70 %, 30 %], font: Caladea, size: 9 mm, colour: "#123"}
sample:
  words: {name: "Puffin"}
---
A tag.
""",
    # one photo
    "snap": """\
---
title: Snapshot
occasions: [gift]
offered: {coaster-round: 6.00}
faces:
  front:
    - photo: {slot: photo, at: fill}
sample:
  words: {}
---
A photo, edge to edge.
""",
    # a name for each guest, and two more places for words
    "place": """\
---
title: Place cup
occasions: [wedding]
offered: {coaster-round: 4.50}
faces:
  front:
    - colour: "#dfe9dc"
    - words: {slot: guest, at: [15 %, 25 %, 70 %, 18 %], font: Caladea, size: 9 mm, colour: "#123"}
    - words: {slot: couple, at: [15 %, 45 %, 70 %, 14 %], font: Caladea, size: 7 mm, colour: "#123"}
    - words: {slot: day, at: [15 %, 62 %, 70 %, 12 %], font: Caladea, size: 5 mm, colour: "#123"}
---
One for everybody at the table.
""",
}

SEASON = """\
---
title: Winter
sentence: Small things for cold days.
designs: [tag]
---
Come in.
"""


@dataclass(frozen=True)
class Ran:
    """What a run of the command said."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        return json.loads(self.out)

    def ended(self, code: int) -> Ran:
        """This run, proved to have ended with `code` and without a fault of our own."""
        told = f"exit {self.code}, wanted {code}\n{self.out}\n{self.err}"
        assert self.code == code, told
        assert "Traceback" not in self.out + self.err, told
        assert "a fault in proofgen" not in self.err, told
        return self


class _Pipe(io.TextIOWrapper):
    """Standard input that is no terminal."""

    def __init__(self, text: str) -> None:
        super().__init__(io.BytesIO(text.encode()), encoding="utf-8")


class _Aside(io.StringIO):
    """Standard error that is a terminal where standard input is one."""

    def isatty(self) -> bool:
        return sys.stdin.isatty()


def run(shop: Path, *arguments: object, typed: str = "") -> Ran:
    """`proofgen --shop SHOP ARGUMENTS` in this process; stdin holds `typed`."""
    out, err = io.StringIO(), _Aside()
    before = sys.stdin
    sys.stdin = _Pipe(typed)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            try:
                code = cli.main(["--shop", str(shop), *map(str, arguments)])
            except SystemExit as stopped:  # argparse
                code = int(stopped.code or 0)
    finally:
        sys.stdin = before
    for lies in (shop / "site" / "p").glob("*/index.html"):
        _look_at(shop, lies)
    told = [stream.getvalue().replace(_way(shop), "proofgen ") for stream in (out, err)]
    return Ran(code, *told)


def _way(shop: Path) -> str:
    """How a command to copy leads to this shop; left out here, so that a test reads like the work
    in the shop's folder."""
    return f"proofgen --shop {for_shell(str(shop))} "


_SEEN: dict[tuple[Path, str], dict[str, str]] = {}
_ON_PAGE: dict[str, dict[str, str]] = {}  # by the page's folder, which a copied shop has too
_LOOKED: dict[Path, int] = {}


def _look_at(shop: Path, lies: Path) -> None:
    """The customer opens the page while it shows a form, and notes the codes."""
    changed = lies.stat().st_mtime_ns
    if _LOOKED.get(lies) == changed:
        return
    _LOOKED[lies] = changed
    if 'id="proof-facts"' in lies.read_text("utf-8"):
        order = str(facts_on(lies)["order"])
        codes = {answer: code_on(lies, answer) for answer in ("ok", "change")}
        _SEEN[shop, order] = _ON_PAGE[lies.parent.name] = codes


def code_seen(shop: Path, answer: str, order: str = "fenn") -> str:
    """The code of an answer, as its customer noted it from the page."""
    for lies in sorted(shop.glob("site/p/*/index.html")):
        _look_at(shop, lies)
        if (shop, order) not in _SEEN and lies.parent.name in _ON_PAGE:
            _SEEN[shop, order] = _ON_PAGE[lies.parent.name]
    return _SEEN[shop, order][answer]


def paint(path: Path, side: int = 1000, lot: int = 3, **save: Any) -> Path:
    """A square picture of blocks and grain, sharp enough for a coaster; `lot` varies it."""
    random = np.random.default_rng(lot)
    blocks = random.integers(40, 215, (side // 20, side // 20, 3), np.uint8)
    pixels = np.kron(blocks, np.ones((20, 20, 1), np.uint8))
    grain = random.integers(-14, 15, pixels.shape[:2], np.int16)[..., None]
    image = Image.fromarray(np.clip(pixels + grain, 0, 255).astype(np.uint8))
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path, **save)
    return path


def order_text(
    words: str = "Odalys & Bram", *, customer: str = "Odalys Fenn", design: str = "tag"
) -> str:
    """order.yaml of one line of two pieces."""
    given = json.dumps(words, ensure_ascii=False)
    own = (
        "photos: {photo: {file: photos/pier.jpg}}"
        if design == "snap"
        else f"words: {{name: {given}}}"
    )
    return f"""\
customer: {{name: {customer}, email: someone@fenn.example}}
due: 2026-12-20
lines:
  - design: {design}
    blank: coaster-round
    cloth: white
    quantity: 2
    {own}
"""


def write(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def make_shop(folder: Path, *orders: str, season: bool = False, demo: bool = True) -> Path:
    """A shop folder with the designs above and plain orders of these names.

    `demo`: with keys and links that are the same each time, so that pages are, too.
    """
    write(folder / "shop.yaml", SHOP + "demo: true\n" * demo)
    for name, text in DESIGNS.items():
        write(folder / "designs" / name / "design.md", text.replace("sample:\n  words: {}\n", ""))
    if season:
        write(folder / "seasons" / "winter.md", SEASON)
    for name in orders:
        write(folder / "orders" / name / "order.yaml", order_text())
    return folder


def reword(shop: Path, order: str, words: str) -> None:
    """Give an order other words."""
    write(shop / "orders" / order / "order.yaml", order_text(words))


def state(shop: Path, order: str) -> dict[str, Any]:
    """One order of `orders --json`."""
    listed = run(shop, "orders", "--json").document["orders"]
    return next(o for o in listed if o["order"] == order)


def id_of(shop: Path, order: str) -> str:
    """What an order is called once it was forgotten; asked before that."""
    from proofgen.signoff import Records

    return Records(shop / "records").names.id_of(order)


def page(shop: Path, order: str) -> str:
    """The HTML of an order's private page."""
    from proofgen.signoff import Records

    token = Records(shop / "records").token(order)
    return (shop / "site" / "p" / str(token) / "index.html").read_text("utf-8")


def files(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {
        p.relative_to(folder).as_posix(): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file()
    }
