"""Every line that a file may have is told in the guide, as the readers really take it."""

from __future__ import annotations

import copy
import dataclasses
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from proofgen.shop import getters, read_shop
from proofgen.shop.told import FILES, LineTold, meaning_of

BOX = "[10 %, 70 %, 80 %, 20 %]"
WORDS = {"slot": "name", "at": BOX, "size": "9 mm"}
# A layer of each kind in its least form.
LAYERS: dict[str, Any] = {
    "plain": {"colour": '"#dfe9dc"'},
    "colour": {"colour": {"colour": '"#dfe9dc"'}},
    "photo": {"photo": {"slot": "photo"}},
    "art": {"art": {"file": "art.png", "at": "fill"}},
    "pattern": {"pattern": {"file": "art.png", "repeat": "20 mm"}},
    "words": {"words": WORDS},
    "text": {"words": {"text": "hi", "at": BOX, "size": "9 mm"}},
}
CLOTH = {"finish": "smooth", "colours": {"white": '"#ffffff"'}}
BLANK: dict[str, Any] = {"name": "mine", "bleed": "3 mm", "safe": "3 mm", "cloth": CLOTH}
BLANK["press"] = {"heat": "200 C", "time": "60 s"}
CLOSED = {"width": "30 mm", "shortest": "10 mm", "on_top": "left"}
# A blank of each kind in its least form.
KINDS: dict[str, dict[str, Any]] = {
    "wrap": {
        "construction": "wrap",
        "vessel": {"diameter": "66 mm"},
        "length": "236 mm",
        "height": "100 mm",
        "thickness": "2 mm",
        "closure": CLOSED,
    },
    "fold": {"construction": "fold", "width": "121 mm", "height": "200 mm"},
    "sewn": {"construction": "sewn", "width": "110 mm", "height": "100 mm"},
    "rectangle": {"construction": "flat", "width": "110 mm", "height": "100 mm"},
    "rounded": {
        "construction": "flat",
        "shape": "rounded",
        "width": "110 mm",
        "height": "100 mm",
        "corner": "5 mm",
    },
    "round": {"construction": "flat", "shape": "round", "diameter": "95 mm"},
}
KINDS["flat"] = KINDS["rounded"]
BASE: dict[str, dict[str, Any]] = {
    "shop.yaml": {"name": "Ours", "contact": "us@example.org"},
    "orders/ORDER/order.yaml": {
        "customer": {"name": "Odalys"},
        "lines": [
            {
                "design": "sample",
                "blank": "can-wrap-linen",
                "cloth": "sky",
                "quantity": "2",
                "photos": {"photo": {"file": "photos/pier.png"}},
            }
        ],
    },
    "designs/NAME/design.md": {
        "title": "Ours",
        "offered": {"can-wrap-linen": "8.00"},
        "faces": {"front": [LAYERS["photo"], LAYERS["words"]]},
    },
    "seasons/NAME.md": {"title": "Ours", "designs": "[sample]"},
}
# What the maker's own keys are called here, by what stands before them.
OWN = {
    "offered": "can-wrap-linen",
    "offered.*": "6",
    "labels": "name",
    "sample.photos": "photo",
    "sample.words": "name",
    "lines.photos": "photo",
    "lines.words": "name",
    "cloth.colours": "blue",
    "stock": "white",
    "rates.sheet": "A4",
    "due": "Christmas",
    "cloth.correction": "white",
}
# An entry of what is listed, in its least form.
LISTED = {
    "paper": {"name": "roll", "width": "600 mm"},
    "holes": {"x": "40 mm", "y": "20 mm", "diameter": "5 mm"},
}
SWATCHES = dict.fromkeys(('"#ff0000"', '"#00ff00"', '"#0000ff"', '"#000000"'), '"#445566"')


def lines() -> Iterator[Any]:
    for file in FILES:
        if not file.name.endswith(".csv"):
            for key, told in file.lines.items():
                yield pytest.param(file.name, key, told, id=f"{file.name}:{key}")


def flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(flow, value)) + "]"
    return str(value)


def text_of(tree: dict[str, Any]) -> str:
    return "".join(f"{key}: {flow(value)}\n" for key, value in tree.items())


def bases(name: str, key: str, told: LineTold) -> Iterator[dict[str, Any]]:
    """Small files that may have the line."""
    if name == "blanks/NAME.yaml":
        for kind in told.of or KINDS:
            if key == "construction" and kind != "wrap":
                continue  # another has other measures
            counted = {"stock": {"white": {"pieces": "9"}}} if key.startswith("stock.*.") else {}
            yield copy.deepcopy({**BLANK, **KINDS[kind], **counted})
        return
    tree = copy.deepcopy(BASE[name])
    if key.startswith("faces."):
        face = key.split(".")[1]
        for kind in told.of:
            layers = [LAYERS[kind], *BASE[name]["faces"]["front"]]
            yield {**tree, "faces": copy.deepcopy({face: layers})}
        return
    yield tree


def put(tree: dict[str, Any], key: str, value: str) -> dict[str, Any]:
    """The file with one line of it said otherwise."""
    *way, last = key.split(".")
    here: Any = tree
    for at, part in enumerate(way):
        named = OWN[".".join(way[:at])] if part == "*" else part
        if key == "cloth.correction.*.*":
            named = part if part != "*" else "white"
        if not isinstance(here.get(named), dict | list):
            here[named] = [dict(LISTED[named])] if named in LISTED else {}
        here = here[named]
        if isinstance(here, list):
            here = here[0]
    if key == "cloth.correction.*.*":
        here.update({**SWATCHES, '"#c8c8c8"': value})
    else:
        here[OWN[".".join(way)] if last == "*" else last] = value
    return tree


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A shop with one order, one design, one season, one blank."""
    for name, tree in {**BASE, "blanks/NAME.yaml": {**BLANK, **KINDS["round"]}}.items():
        write(tmp_path, name, tree)
    for picture in ("orders/ORDER/photos/pier.png", "designs/sample/art.png"):
        (tmp_path / picture).parent.mkdir(parents=True, exist_ok=True)
        Image.new("RGB", (40, 30), "#335577").save(tmp_path / picture)
    (tmp_path / "orders/ORDER/guests.csv").write_text("name,table\nAda,3\nIda,4\n", "utf-8")
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9v9z"/></svg>'
    (tmp_path / "name.svg").write_text(svg, "utf-8")
    (tmp_path / "printer.icc").write_bytes(made_profile())
    (tmp_path / "seasons/winter.md").write_text("---\ntitle: W\ndesigns: [sample]\n---\n", "utf-8")
    return tmp_path


def made_profile() -> bytes:
    from tests.colour.made_profile import made_profile as profile

    return profile()


def write(folder: Path, name: str, tree: dict[str, Any]) -> None:
    path = folder / name.replace("designs/NAME", "designs/sample").replace("NAME", "mine")
    path.parent.mkdir(parents=True, exist_ok=True)
    text = text_of(tree)
    path.write_text(f"---\n{text}---\nWords.\n" if path.suffix == ".md" else text, "utf-8")


@pytest.mark.parametrize(("name", "key", "told"), list(lines()))
def test_the_line_is_read_as_it_is_told(folder: Path, name: str, key: str, told: LineTold) -> None:
    assert told.says and (told.like or key == "lines")
    for tree in bases(name, key, told):
        if not told.like:
            continue
        with_it = put(copy.deepcopy(tree), key, told.like)
        write(folder, name, with_it)
        shop = read_shop(folder)
        assert [fault.sentence() for fault in shop.faults] == [], text_of(with_it)
        if told.usual and name == "shop.yaml":
            write(folder, name, put(copy.deepcopy(tree), key, told.usual))
            said = dataclasses.replace(read_shop(folder).settings, lines={})
            write(folder, name, tree)
            assert said == dataclasses.replace(read_shop(folder).settings, lines={}), told.usual


@pytest.mark.parametrize(
    ("limit", "span"),
    [
        ("good_ppi", "at least 20, at most 1200"),
        ("plain", "at least 0 %, at most 100 %"),
        ("letter_height", "more than 0 mm, at most 50 mm"),
        ("most_heat", "at least 100 C, at most 260 C"),
        ("least_time", "at least 0 s, at most 3600 s"),
    ],
)
def test_a_limit_says_which_values_it_takes(limit: str, span: str) -> None:
    (told,) = (f.lines[f"limits.{limit}"] for f in FILES if f.name == "shop.yaml")
    assert told.says.endswith(f"; {span}")


def asked(folder: Path, patch: pytest.MonkeyPatch) -> set[tuple[str, str]]:
    """Every key that the readers ask for, with the file's kind, while all of it is read."""
    seen: set[tuple[str, str]] = set()
    has = getters.Record.has

    def noted(record: getters.Record, key: str) -> bool:
        for file in FILES:
            if Path(record.source.file).match(file.pattern):
                seen.add((file.name, f"{record.path}{key}"))
        return has(record, key)

    patch.setattr(getters.Record, "has", noted)
    for name, key, told in (one.values for one in lines()):
        for tree in bases(name, key, told):
            write(folder, name, put(copy.deepcopy(tree), key, told.like) if told.like else tree)
            read_shop(folder)
    return seen


def test_every_line_that_is_read_is_told_and_no_other(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = asked(folder, monkeypatch)
    parts = {
        (file.name, ".".join(key.split(".")[:deep]))
        for file in FILES
        for key in file.lines
        for deep in range(1, key.count(".") + 1)
    }

    def is_part(name: str, key: str) -> bool:
        return any(
            len(p.split(".")) == len(key.split("."))
            and all(a in ("*", b) for a, b in zip(p.split("."), key.split("."), strict=True))
            for n, p in parts
            if n == name
        )

    files = {file.name: file.pattern.replace("*", "x") for file in FILES}
    untold = [
        (name, key)
        for name, key in sorted(known)
        if not meaning_of(files[name], key) and not is_part(name, key)
    ]
    assert not untold


def test_a_slip_is_told_what_was_meant_and_what_it_is_for(folder: Path) -> None:
    write(folder, "shop.yaml", {**BASE["shop.yaml"], "spare": "4 %"})
    (fault,) = read_shop(folder).faults
    assert "did you mean “spares”? (share of blanks that may spoil" in fault.cure
