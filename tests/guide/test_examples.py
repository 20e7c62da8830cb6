"""Every example of a file in the guide is read by the readers without a fault."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from PIL import Image

from proofgen.guide.reference import reference
from proofgen.render import Theme
from proofgen.shop import read_shop, start
from tests.guide.reading import CHAPTERS, HOUSE, fences

_FIRST = re.compile(r"# (\S+)\n")
ORDER = """\
customer: {name: Odalys Fenn}
lines:
  - {design: first-design, blank: coaster-round, cloth: white, quantity: 2,
     photos: {photo: photos/pier.jpg}, words: {name: A}}
"""
BLANK = """\
name: Mine
construction: flat
shape: round
diameter: 90 mm
bleed: 3 mm
safe: 3 mm
cloth: {finish: smooth, colours: {white: "#ffffff"}}
"""


def examples() -> list[tuple[str, str, str]]:
    """Where it stands, the file it is of, its text."""
    found = []
    pages = [(path.name, fences(path)) for path in CHAPTERS]
    made = [
        (one.name, re.findall(r"(?ms)^```(\w+)\n(.*?)^```$", one.text)) for one in reference((), ())
    ]
    for where, blocks in [*pages, *made]:
        for kind, text in blocks:
            if kind in ("yaml", "csv"):
                head = _FIRST.match(text)
                assert head, f"{where}: an example does not say of which file it is"
                found.append((where, head[1], text[head.end() :]))
    return found


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    start(folder, "Ours", "us@example.org")
    for design in (HOUSE / "content" / "designs").iterdir():
        shutil.copytree(design, folder / "designs" / design.name)
    shutil.copytree(HOUSE / "content" / "blanks", folder / "blanks", dirs_exist_ok=True)
    photos = folder / "orders" / "fenn" / "photos"
    photos.mkdir(parents=True)
    for name in ("pier.jpg", "hill.png"):
        Image.new("RGB", (60, 40), "#336699").save(photos / name)
    (photos.parent / "order.yaml").write_text(ORDER, "utf-8")
    (photos.parent / "guests.csv").write_text("guest\nAda\nIda\n", "utf-8")
    return folder


def test_there_are_examples_of_every_kind() -> None:
    assert len({file for _, file, _ in examples()}) >= 6


def with_rest(usual: str, text: str) -> str:
    """An example that shows some lines, as a whole file: its lines go over the usual ones."""
    said = set(re.findall(r"(?m)^(\w+):", text))
    kept = [part for part in re.split(r"(?m)^(?=\w)", usual) if part.split(":")[0] not in said]
    return "".join(kept) + text


@pytest.mark.parametrize(("where", "file", "text"), examples(), ids=lambda one: str(one)[:30])
def test_the_example_is_read(shop: Path, where: str, file: str, text: str) -> None:
    if file == "shop.yaml":
        path = shop / file
        path.write_text(with_rest(path.read_text("utf-8"), text), "utf-8")
    elif file.startswith("orders/"):
        (shop / "orders/fenn/order.yaml").write_text(with_rest(ORDER, text), "utf-8")
    elif file == "guests.csv":
        listed = ORDER.replace("quantity: 2,", "list: guests.csv,").replace(
            "first-design", "two-on-a-hill"
        )
        listed = listed.replace("words: {name: A}", 'words: {couple: "A & B", day: May}')
        listed = listed.replace("coaster-round", "can-wrap-linen")
        (shop / "orders/fenn/order.yaml").write_text(listed, "utf-8")
        (shop / "orders/fenn/guests.csv").write_text(text, "utf-8")
    elif file.startswith("blanks/"):
        (shop / "blanks/mine.yaml").write_text(with_rest(BLANK, text), "utf-8")
    elif file.startswith("designs/"):
        (shop / "designs/mine").mkdir()
        (shop / "designs/mine/design.md").write_text(f"---\n{text}---\nWords.\n", "utf-8")
    elif file.startswith("seasons/"):
        (shop / "seasons/mine.md").write_text(f"---\n{text}---\nWords.\n", "utf-8")
    else:
        assert file == "theme/theme.yaml", f"{where}: what file is {file}?"
        (shop / "theme").mkdir()
        (shop / file).write_text(text, "utf-8")
        Theme("quay", own=shop / "theme").check()
    faults = [fault.sentence() for fault in read_shop(shop).faults]
    assert faults == [], f"{where}: {text}"
