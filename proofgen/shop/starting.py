"""A new shop: a small commented shop.yaml, a first design, a first house text, empty folders."""

from __future__ import annotations

from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.say import quoted
from proofgen.shop.first_texts import FIRST, first_texts
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
{site}       # where you will upload the folder site/; letters link to it
theme: {theme}                      # the look of all pages
paper: [A4]                        # or A3, Letter, or {{name: roll, width: 610 mm}}
printer: {{ppi: 300, margin: 5 mm, scale: {{x: 100 %, y: 100 %}}}}
#   margin: the edge your printer cannot reach
#   scale: what the printed 100 mm ruler measures, across and down: 99.5 mm is 99.5 %
platen: {{width: 380 mm, height: 380 mm}}   # the hot plate of your press
cover: 10 mm                       # paper beyond the blank, each side
limits: {{good_ppi: 200, floor_ppi: 120, letter_height: 3 mm}}   # common practice, no source
#   ppi: pixels for each printed inch; a photo under good_ppi is warned of, under floor_ppi stopped
#   more of them, with what they mean: proofgen guide, “Limits of your own”
days: {{answer: 5, lead: 10}}        # days to answer a proof; days from answer to parcel
spares: 5 %                        # blanks that may spoil; the ticket adds them
# rates: {{minute: 0.40, sheet: {{A4: 0.18}}}}   # your own costs; of a roll: for a metre
"""

_NO_TELEPHONE = '# telephone: "+353 20 913 0148"'
_NO_KEEP = "# keep: 90 days"
_NO_SITE = "# site: https://example.org"


def start(
    folder: Path,
    name: str,
    contact: str,
    theme: str = "quay",
    *,
    telephone: str = "",
    keep: str = "",
    site: str = "",
    language: str = "en",
    zone: str = "UTC",
    currency: str = "EUR",
    sample: Path | None = None,
) -> list[Path]:
    """Make a new shop in `folder`, which must be empty or not there; the files written. The
    catalogue shows `sample`, a photo, in the first design.

    Errors: UsageError when the folder holds something, or a setting is refused.
    """
    folder = free_for_shop(folder)
    values = {"name": name, "contact": contact, "theme": theme}
    values |= {"language": language, "zone": zone, "currency": currency}
    lines = {
        "telephone": f"telephone: {as_yaml(telephone)}" if telephone else _NO_TELEPHONE,
        "keep": f"keep: {keep}" if keep else _NO_KEEP,
        "site": f"site: {as_yaml(site)}" if site else _NO_SITE,
    }
    text = _SHOP.format_map({key: as_yaml(value) for key, value in values.items()} | lines)
    _judge(text)
    shown = f"sample{sample.suffix.lower()}" if sample else ""
    files: dict[str, str | bytes] = {"shop.yaml": text, **first_texts(language, shown)}
    if sample:
        files[f"{FIRST}/{shown}"] = sample.read_bytes()
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
