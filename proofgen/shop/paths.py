"""File names written in the shop's files: they stay inside their folder, or are refused."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from pathlib import Path

# Names that Windows keeps for devices, with any ending (learn.microsoft.com, "Naming Files,
# Paths, and Namespaces").
_DEVICES = frozenset(
    ["con", "prn", "aux", "nul", "conin$", "conout$"]
    + [f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"]
)
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,79}")


def is_device(name: str) -> bool:
    """Whether Windows would take the name for a device."""
    return name.split(".")[0].strip().casefold() in _DEVICES


def is_id(name: str) -> bool:
    """Whether a folder's or file's name can stand in links and file names everywhere."""
    return bool(_ID.fullmatch(name)) and not is_device(name)


def suggest(name: str, known: Iterable[str]) -> str | None:
    """The known name that was probably meant."""
    if len(name) > 80:
        return None
    by_fold = {k.casefold(): k for k in known}
    close = get_close_matches(name.casefold(), by_fold, n=1, cutoff=0.6)
    return by_fold[close[0]] if close else None


def inside(folder: Path, text: str) -> Path:
    """The path `text` names below `folder`, whether or not it is there.

    ValueError says in plain words why it is refused: it would leave the folder, now or on another
    machine, directly or by a symbolic link.
    """
    if not text:
        raise ValueError("no file is named")
    if len(text) > 200:
        raise ValueError("the file's name is longer than 200 letters")
    if not text.isprintable():
        raise ValueError("the file's name holds a letter that cannot be seen")
    if "\\" in text:
        raise ValueError("the file's name holds a backslash; folders are parted with /")
    if ":" in text:
        raise ValueError("the file's name holds a colon")
    parts = text.split("/")
    if text.startswith(("/", "~")) or ".." in parts:
        raise ValueError("the file lies outside this folder")
    if any(part in ("", ".") or part != part.rstrip(" .") for part in parts):
        raise ValueError("the file's name has an empty part, or one that ends in a dot or space")
    if any(is_device(part) for part in parts):
        raise ValueError("Windows keeps this file name for itself")
    path = folder.joinpath(*parts)
    try:
        real, home = path.resolve(), folder.resolve()
    except (OSError, RuntimeError):
        raise ValueError("the file is a link that leads nowhere") from None
    if not real.is_relative_to(home):
        raise ValueError("the file is a link that leads out of this folder")
    return path


def near(folder: Path, text: str) -> str | None:
    """A file below `folder` whose name is close to the one that is missing."""
    if not folder.is_dir():
        return None
    names = []
    for path in folder.rglob("*"):
        if path.is_file():
            names.append(path.relative_to(folder).as_posix())
        if len(names) >= 500:
            break
    return suggest(text, names)
