"""How every file below a folder stands: what tells that nothing changed without reading any."""

from __future__ import annotations

import os
import sys
from collections.abc import Container
from contextlib import suppress
from pathlib import Path
from typing import TypeAlias

Stood: TypeAlias = tuple[int, int, int, int]  # mtime and ctime (ns), size (bytes), file's number

UNSEEN: Stood = (0, 0, 0, 0)  # a link that leads nowhere; such a file is never taken for known
_Above: TypeAlias = frozenset[tuple[int, int]]  # device and number of each folder that it lies in


def stood(about: os.stat_result) -> Stood:
    return (about.st_mtime_ns, about.st_ctime_ns, about.st_size, about.st_ino)


def look(
    folder: Path, leave: str = "", shut: Container[str] = ()
) -> tuple[dict[str, Stood], dict[str, Stood]]:
    """Files and folders below `folder` (itself: ''), by their path from there with '/'; links are
    followed. `leave` is a folder that is left out, those of `shut` are told but not gone into. What
    cannot be looked at stands as `UNSEEN` among the files."""
    files: dict[str, Stood] = {}
    folders: dict[str, Stood] = {}
    top, left = os.fspath(folder), list[tuple[str, _Above]]()
    with suppress(OSError):
        about = os.stat(top)
        folders[""] = stood(about)
        left.append(("", frozenset([(about.st_dev, about.st_ino)])))
    while left:
        below, above = left.pop()
        before = f"{below}/" if below else ""
        for entry in _entries(os.path.join(top, below) if below else top):
            name = before + entry.name
            try:
                is_folder, about = entry.is_dir(), _about(entry)
            except OSError:
                files[name] = UNSEEN
                continue
            if not is_folder:
                files[name] = stood(about)
            elif name != leave:
                number = (about.st_dev, about.st_ino)
                if entry.is_symlink() and number in above:
                    continue  # a link to a folder that it lies in
                folders[name] = stood(about)
                if name not in shut:
                    left.append((name, above | {number}))
    return files, folders


if sys.platform == "win32":

    def _about(entry: os.DirEntry[str]) -> os.stat_result:
        """How it stands, links followed; what Windows lists of a folder has no numbers."""
        return os.stat(entry.path)

else:
    _about = os.DirEntry.stat


def _entries(folder: str) -> list[os.DirEntry[str]]:
    with suppress(OSError), os.scandir(folder) as found:
        return [*found]
    return []
