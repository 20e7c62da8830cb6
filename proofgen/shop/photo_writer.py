"""Puts a photo into a slot of an order that is there: a copy of the file, and its line in
order.yaml, every other letter kept."""

from __future__ import annotations

from pathlib import Path

import yaml

from proofgen import store
from proofgen.errors import Place, ShopError
from proofgen.model import Order, PhotoUse
from proofgen.say import file_name
from proofgen.shop.focus_writer import PhotoAt
from proofgen.shop.nodes import read_text
from proofgen.shop.order_writer import free_name, photo_entry
from proofgen.shop.yaml_text import as_yaml, entry, with_entry

_BOM = b"\xef\xbb\xbf"


def write_photo(order: Order, at: PhotoAt, use: PhotoUse) -> str:
    """Copy the photo into the order's folder and name it, with its crop, in order.yaml; its path
    there. What stood in the slot before stays in the folder.

    The file is written whole or not at all, and only when it reads back as meant. Errors: ShopError
    where it does not; MachineError.
    """
    content = use.file.read_bytes()
    name = _name(order.folder / "photos", use.file, content)
    file = order.folder / "order.yaml"
    text = read_text(file, file.name)
    meant = yaml.load(text, Loader=yaml.BaseLoader)  # texts alone, no objects
    written = photo_entry(f"photos/{name}", use)
    made = _with_photo(text, at, written)
    slots = meant["lines"][at.line - 1]
    slots["photos"] = {**(slots.get("photos") or {}), at.slot: "x"}
    _check(made, meant, at, written, order.place)
    store.write(order.folder / "photos" / name, content, durable=True)
    bom = _BOM if file.read_bytes().startswith(_BOM) else b""
    store.write(file, bom + made.encode(), durable=True)
    return f"photos/{name}"


def _name(folder: Path, photo: Path, content: bytes) -> str:
    """A name that nobody has, or that of a file there with the very same bytes."""
    there = sorted(folder.iterdir()) if folder.is_dir() else []
    for one in there:
        if one.is_file() and one.stat().st_size == len(content) and one.read_bytes() == content:
            return one.name
    stem = free_name(file_name(photo.stem, "photo"), (one.stem for one in there))
    return stem + photo.suffix.lower()


def _with_photo(text: str, at: PhotoAt, written: str) -> str:
    lines = entry(yaml.compose(text, Loader=yaml.SafeLoader), "lines")
    if not lines or not isinstance(lines[1], yaml.SequenceNode) or len(lines[1].value) < at.line:
        raise ShopError(f"order.yaml has no line {at.line}", "write it by hand")
    line = lines[1].value[at.line - 1]
    photos = entry(line, "photos")
    if photos is None or not isinstance(photos[1], yaml.MappingNode):
        whole = f"{{{as_yaml(at.slot)}: {written}}}"
        return with_entry(text, line, "photos", photos, whole)
    return with_entry(text, photos[1], as_yaml(at.slot), entry(photos[1], at.slot), written)


def _check(text: str, meant: object, at: PhotoAt, written: str, place: Place) -> None:
    """ShopError where the text does not read as it was but for the photo."""
    try:
        made = yaml.load(text, Loader=yaml.BaseLoader)
        slots = made["lines"][at.line - 1]["photos"]
        same = slots[at.slot] == yaml.load(written, Loader=yaml.BaseLoader)
        slots[at.slot] = "x"
        same = same and made == meant
    except (yaml.YAMLError, KeyError, TypeError):
        same = False
    if not same:
        raise ShopError(
            "the photo could not be put into this file as it is written",
            "write it there by hand",
            Place(place.file),
        )
