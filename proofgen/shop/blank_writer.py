"""A measured blank as blanks/NAME.yaml: whole or not at all, and it reads back as it was."""

from __future__ import annotations

from pathlib import Path

from proofgen import store
from proofgen.errors import ShopError, ShopFaults, UsageError
from proofgen.model import Blank
from proofgen.say import quoted
from proofgen.shop.blank_fields import FIELDS
from proofgen.shop.blank_reader import blank_of
from proofgen.shop.nodes import Source
from proofgen.shop.paths import is_id


def blank_text(blank: Blank, remarks: tuple[str, ...] = ()) -> str:
    """The YAML of a blank, lengths in mm; `remarks` stand at its top behind #.

    ShopError for a text that no file can hold.
    """
    head = [f"# {' '.join(remark.split())}" for remark in remarks]
    lines = [f"{key}: {text}" for key, field in FIELDS.items() if (text := field.written(blank))]
    return "\n".join([*head, *lines]) + "\n"


def check_blank(text: str, name: str) -> Blank:
    """The blank a text says. ShopFaults with every fault; their lines are those of the text."""
    source = Source(f"blanks/{name}.yaml")
    blank: Blank | None = None
    try:
        blank = blank_of(text, name, source)
    except ShopError as error:
        source.faults.append(error)
    if blank is None or source.faults:
        raise ShopFaults(source.faults)
    return blank


def write_blank(folder: Path, blank: Blank, remarks: tuple[str, ...] = ()) -> Path:
    """Write a new blank into the shop `folder`; its path. It is read back before it is written.

    Errors: UsageError when a blank of that name is there or the name cannot stand in a file name,
    ShopFaults when the measures leave nothing to press.
    """
    if not is_id(blank.id):
        raise UsageError(
            f"{quoted(blank.id)} cannot be a blank's name", "use letters a to z, digits and hyphens"
        )
    home = folder / "blanks"
    taken = {p.stem.casefold() for p in home.iterdir()} if home.is_dir() else set()
    if blank.id.casefold() in taken:
        raise UsageError(
            f"there is a blank called “{blank.id}” already",
            "choose another name, or change its file in blanks/",
        )
    text = blank_text(blank, remarks)
    again = check_blank(text, blank.id)
    if again != blank:
        raise ShopError("the measures would not read back as they were given", "report this")
    path = home / f"{blank.id}.yaml"
    store.write(path, text, durable=True)
    return path
