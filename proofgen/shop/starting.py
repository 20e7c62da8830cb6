"""A new shop: a small commented shop.yaml, empty folders and a first house text."""

from __future__ import annotations

from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.shop.getters import root
from proofgen.shop.nodes import Source, parse, show
from proofgen.shop.read_settings import read_settings
from proofgen.shop.writing import appearing, quoted

FOLDERS = ("blanks", "designs", "orders", "seasons", "words")

_SHOP = """\
# Your shop. Every line can be changed; what stands behind a # is a remark.
name: {name}
contact: {contact}            # customers' answers come here
language: {language}                 # pages, dates and money follow it
zone: {zone}                    # your time zone, like Europe/Dublin
currency: {currency}
# site: https://example.org        # where you will upload the folder site/
theme: {theme}
paper: [A4]                        # or A3, Letter, or {{name: roll, width: 610 mm}}
printer: {{ppi: 300, margin: 5 mm, scale: {{x: 100 %, y: 100 %}}}}
#   scale: what the printed 100 mm ruler measures, across and down
platen: {{width: 380 mm, height: 380 mm}}
cover: 10 mm                       # paper beyond the blank, each side
limits: {{good_ppi: 200, floor_ppi: 120, letter_height: 3 mm}}   # common practice, no source
days: {{answer: 5, lead: 10}}        # days to answer a proof; days from answer to parcel
spares: 5 %
# rates: {{minute: 0.40, sheet: {{A4: 0.18}}}}
"""

_ABOUT = """\
# {name}

We press photos and names onto cloth, one piece at a time. You see a proof of yours before
anything is pressed.

Write to us: {contact}
"""


def start(
    folder: Path,
    name: str,
    contact: str,
    theme: str = "quay",
    *,
    language: str = "en",
    zone: str = "UTC",
    currency: str = "EUR",
) -> list[Path]:
    """Make a new shop in `folder`, which must be empty or not there; the files written.

    Errors: UsageError when the folder holds something, or a setting is refused.
    """
    folder = folder.absolute()
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise UsageError(f"{show(folder.name)} is not a folder", "name a new folder")
    if folder.is_dir() and any(folder.iterdir()):
        raise UsageError(
            f"the folder {show(folder.name)} is not empty", "name a new folder for the shop"
        )
    values = {"name": name, "contact": contact, "theme": theme}
    values |= {"language": language, "zone": zone, "currency": currency}
    text = _SHOP.format_map({key: quoted(value) for key, value in values.items()})
    _judge(text)
    files = {"shop.yaml": text, "words/about.md": _ABOUT.format(name=name, contact=contact)}
    with appearing(folder) as side:
        for part in FOLDERS:
            (side / part).mkdir()
        for file, content in files.items():
            store.write(side / file, content, durable=True)
    return [folder / file for file in files]


def _judge(text: str) -> None:
    """Refuse settings that could not be read again."""
    source = Source("shop.yaml")
    read_settings(root(parse(text, source), source, "shop.yaml"))
    if source.faults:
        first = source.faults[0]
        raise UsageError(first.problem, first.cure)
