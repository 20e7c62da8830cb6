"""A new shop: a small commented shop.yaml, a first design, a first house text, empty folders."""

from __future__ import annotations

from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.say import quoted
from proofgen.shop.getters import root
from proofgen.shop.nodes import Source, parse
from proofgen.shop.settings_reader import read_settings
from proofgen.shop.yaml_text import as_yaml

FOLDERS = ("blanks", "designs", "orders", "seasons", "words")

_SHOP = """\
# Your shop. Every line can be changed; what stands behind a # is a remark.
name: {name}
contact: {contact}            # customers' answers come here
{telephone}                # where customers can read out a code
{keep}                     # a customer's photos after hand-over; the proof says so
language: {language}                 # pages, dates and money follow it
zone: {zone}                    # your time zone, like Europe/Dublin
currency: {currency}
# site: https://example.org        # where you will upload the folder site/; letters link to it
theme: {theme}                      # the look of all pages
paper: [A4]                        # or A3, Letter, or {{name: roll, width: 610 mm}}
printer: {{ppi: 300, margin: 5 mm, scale: {{x: 100 %, y: 100 %}}}}
#   margin: the edge your printer cannot reach
#   scale: what the printed 100 mm ruler measures, across and down: 99.5 mm is 99.5 %
platen: {{width: 380 mm, height: 380 mm}}   # the hot plate of your press
cover: 10 mm                       # paper beyond the blank, each side
limits: {{good_ppi: 200, floor_ppi: 120, letter_height: 3 mm}}   # common practice, no source
#   ppi: pixels for each printed inch; a photo under good_ppi is warned of, under floor_ppi stopped
#   more of them, with what they mean: the README, under “Limits of your own”
days: {{answer: 5, lead: 10}}        # days to answer a proof; days from answer to parcel
spares: 5 %                        # blanks that may spoil; the ticket adds them
# rates: {{minute: 0.40, sheet: {{A4: 0.18}}}}   # your own costs; of a roll: for a metre
"""

_NO_TELEPHONE = '# telephone: "+353 20 913 0148"'
_NO_KEEP = "# keep: 90 days"

_ABOUT = """\
# About us

We press photos and names onto cloth, one piece at a time. You see a proof of yours before
anything is pressed.
"""

FIRST_DESIGN = """\
---
# A first design to try and to change. For the next one, copy this folder under a new name: that
# name is what you type in an order. What stands behind a # is a remark.
title: Photo and name

# What it is sold on and for how much, or for how much from a quantity up. `proofgen blanks` lists
# the blanks; one that you measured yourself goes here too.
offered:
  can-wrap-linen: {1: 12.00, 6: 10.50}
  coaster-round: 8.00

# Its faces: round (all the way round a can), front, back. Each has layers, the lowest first:
#   colour: "#dfe9dc"                               a plain ground; with at:, a plate
#   photo: {slot: photo, at: fill}                  a photo of the customer
#   words: {slot: name, at: …, size: 9 mm}          words of the customer
#   art: {file: frame.png, at: …}                   a picture of yours, in this folder
#   pattern: {file: dots.png, repeat: 30 mm, at: fill}
# at: fill is the whole face; otherwise left, top, width and height, in % of the face or in mm.
# size: of the type; a capital letter is about two thirds of it. Words take a font: as well.
faces:
  front:
    - colour: "#dfe9dc"
    - photo: {slot: photo, at: fill}
    - colour: {colour: "#fdf6e6", at: [22 %, 66 %, 56 %, 16 %]}
    - words: {slot: name, at: [25 %, 66 %, 50 %, 16 %], size: 7 mm, colour: "#1d2f4f"}

# What you and your customers call these places.
labels: {photo: the photo, name: the name}

# What the catalogue shows in them. Put a picture into this folder and add
#   photos: {photo: sample.jpg}
sample:
  words: {name: "Your name"}
---
A photo of yours, with a name on a plate.
"""


def start(
    folder: Path,
    name: str,
    contact: str,
    theme: str = "quay",
    *,
    telephone: str = "",
    keep: str = "",
    language: str = "en",
    zone: str = "UTC",
    currency: str = "EUR",
) -> list[Path]:
    """Make a new shop in `folder`, which must be empty or not there; the files written.

    Errors: UsageError when the folder holds something, or a setting is refused.
    """
    folder = free_for_shop(folder)
    values = {"name": name, "contact": contact, "theme": theme}
    values |= {"language": language, "zone": zone, "currency": currency}
    lines = {
        "telephone": f"telephone: {as_yaml(telephone)}" if telephone else _NO_TELEPHONE,
        "keep": f"keep: {keep}" if keep else _NO_KEEP,
    }
    text = _SHOP.format_map({key: as_yaml(value) for key, value in values.items()} | lines)
    _judge(text)
    files = {
        "shop.yaml": text,
        "words/about.md": _ABOUT,
        "designs/first-design/design.md": FIRST_DESIGN,
    }
    with store.appearing(folder, durable=True) as side:
        for part in FOLDERS:
            store.make_folder(side / part)
        for file, content in files.items():
            store.write(side / file, content, durable=True)
    return [folder / file for file in files]


def free_for_shop(folder: Path) -> Path:
    """The folder by its full path. UsageError when it holds something or is no folder."""
    given, folder = folder, folder.absolute()
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise UsageError(f"{quoted(folder.name)} is not a folder", "name a new folder")
    if (folder / "shop.yaml").exists():
        raise UsageError(
            f"the folder {quoted(folder.name)} is a shop already",
            f"go on in it: proofgen --shop {given} orders; or name a new folder",
        )
    if folder.is_dir() and any(folder.iterdir()):
        raise UsageError(
            f"the folder {quoted(folder.name)} is not empty", "name a new folder for the shop"
        )
    return folder


def _judge(text: str) -> None:
    """Refuse settings that could not be read again."""
    source = Source("shop.yaml")
    read_settings(root(parse(text, source), source, "shop.yaml"))
    if source.faults:
        first = source.faults[0]
        raise UsageError(first.problem, first.cure)
