"""File names written in the shop's files: they stay inside their folder, or are refused."""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Sequence
from pathlib import Path

from proofgen.say import near_names
from proofgen.say.safe import is_device

_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,79}")


def is_id(name: str) -> bool:
    """Whether a folder's or file's name can stand in links and file names everywhere."""
    return bool(_ID.fullmatch(name)) and not is_device(name)


def plain_parts(text: str) -> list[str]:
    """The folders and the file that a name parts into at `/`; on no system do they lead anywhere
    but down. ValueError says in plain words why it is refused."""
    if not text:
        raise ValueError("no file is named")
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
    return parts


def _has_no_link(folder: Path, parts: Sequence[str]) -> bool:
    """Whether every part is there and none is a link, so that the way leads nowhere else; to follow
    the whole way costs ten look-ups. Windows has links of another kind, so it is followed there."""
    if sys.platform == "win32":
        return False
    way = os.fspath(folder)
    try:
        for part in parts:
            way = f"{way}/{part}"
            if stat.S_ISLNK(os.lstat(way).st_mode):
                return False
    except (OSError, ValueError):
        return False
    return True


def inside(folder: Path, text: str) -> Path:
    """The path `text` names below `folder`, whether or not it is there.

    ValueError says in plain words why it is refused: it would leave the folder, now or on another
    machine, directly or by a symbolic link.
    """
    if len(text) > 200:
        raise ValueError("the file's name is longer than 200 letters")
    parts = plain_parts(text)
    path = folder.joinpath(*parts)
    if _has_no_link(folder, parts):
        return path
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
    names: list[str] = []
    for path in folder.rglob("*"):
        if path.is_file():
            names.append(path.relative_to(folder).as_posix())
        if len(names) >= 500:
            break
    return next(iter(near_names(text, names)), None)
