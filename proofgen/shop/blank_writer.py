"""A measured blank as blanks/NAME.yaml: whole or not at all, and it reads back as it was."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from proofgen import store
from proofgen.errors import ShopError, ShopFaults, UsageError
from proofgen.model import FINISHES, Blank
from proofgen.say import joined, quoted
from proofgen.shop.blank_fields import FIELDS
from proofgen.shop.blank_reader import BUILT_IN, blank_of
from proofgen.shop.nodes import Source, read_text
from proofgen.shop.paths import is_id


def blank_text(blank: Blank, remarks: tuple[str, ...] = ()) -> str:
    """The YAML of a blank, lengths in mm; `remarks` stand at its top behind #.

    ShopError for a text that no file can hold.
    """
    head = [f"# {' '.join(remark.split())}" for remark in remarks]
    lines = [f"{key}: {text}" for key, field in FIELDS.items() if (text := field.written(blank))]
    return "\n".join([*head, *lines]) + "\n"


# What nobody knows of a measured blank, as remarks in its file. TO_TRY ends with its name.
TO_TRY = (
    "Heat and time are common practice, no source: look at the maker’s sheet, or make a trial: "
    "proofgen trial "
)
TO_LABEL = "To be written under cloth, from its label: polyester: 100 %"
TO_LOOK = (
    "finish: is not said, so no picture and no word tells customers how it feels; write under "
    f"cloth, if it is one of them: {joined(FINISHES, 'or')}"
)


def still_to_write(blank: Blank) -> list[str]:
    """The remarks that are true of the blank."""
    untried = blank.press is not None and blank.press.source == "practice"
    return [
        *[f"{TO_TRY}{blank.id}"] * untried,
        *[TO_LABEL] * (blank.cloth.polyester is None),
        *[TO_LOOK] * (not blank.cloth.finish),
    ]


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


def change_blank(
    folder: Path, blank: Blank, edit: Callable[[str], str], wanted: Callable[[Blank], Blank]
) -> Path:
    """Change the blank's file below the shop `folder`, every other letter kept; its path. A
    built-in blank is first copied as the shop's own.

    `wanted` makes of the blank that the file says the one it must say then: the new text is read
    back before the one write. Errors: ShopFaults or ShopError, nothing written, when it would not
    read as it should; MachineError when it cannot be written.
    """
    if blank.built_in:
        path, origin = folder / "blanks" / f"{blank.id}.yaml", BUILT_IN / f"{blank.id}.yaml"
    else:
        path = origin = folder / blank.place.file
    text = read_text(origin, f"blanks/{origin.name}")
    if origin != path and path.is_file():  # what the shop alone knows of a built-in one
        text = f"{text.rstrip()}\n{read_text(path, f'blanks/{path.name}')}"
    new = edit(text)
    try:
        before, again = check_blank(text, blank.id), check_blank(new, blank.id)
    except ShopFaults as faults:
        raise ShopFaults([ShopError(f.problem, f.cure, blank.place) for f in faults.faults]) from (
            faults
        )
    if again != wanted(before):
        raise ShopError(
            "the figures could not be put into this file as it is written",
            "write that part of it plainly, one word and its value a line, and try again",
            blank.place,
        )
    store.write(path, new, durable=True)
    return path


def free_for_blank(folder: Path, name: str | None) -> None:
    """UsageError for a name that no blank can have, or one has already; None is any name."""
    if name is None:
        return
    if not is_id(name):
        raise UsageError(
            f"{quoted(name)} cannot be a blank's name", "use letters a to z, digits and hyphens"
        )
    home = folder / "blanks"
    taken = {p.stem.casefold() for p in home.iterdir()} if home.is_dir() else set()
    if name.casefold() in taken:
        raise UsageError(
            f"there is a blank called “{name}” already",
            "choose another name, or change its file in blanks/",
        )


def write_blank(folder: Path, blank: Blank, remarks: tuple[str, ...] = ()) -> Path:
    """Write a new blank into the shop `folder`; its path. It is read back before it is written.

    Errors: UsageError when a blank of that name is there or the name cannot stand in a file name,
    ShopFaults when the measures leave nothing to press.
    """
    free_for_blank(folder, blank.id)
    home = folder / "blanks"
    text = blank_text(blank, remarks)
    again = check_blank(text, blank.id)
    if again != blank:
        raise ShopError(
            "the measures would not read back as they were given",
            "write the blank’s file yourself, as the guide shows it; and tell the makers of "
            "proofgen, whose fault it is",
        )
    path = home / f"{blank.id}.yaml"
    store.write(path, text, durable=True)
    return path
