"""Which files a shop is read from, and how each stands."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from proofgen.store.standing import Stood, look, stood

# What is read of a shop folder; the rest of it is written by proofgen.
READ = ("shop.yaml", "blanks", "designs", "seasons", "orders", "words", "fonts", "theme")


def files_read(folder: Path) -> dict[str, Stood]:
    """How every file that a shop is read from stands, by its path from there. What cannot be looked
    at is left out."""
    found: dict[str, Stood] = {}
    for part in READ:
        top = folder / part
        if top.is_dir():
            files, folders = look(top)
            found |= {f"{part}/{name}": one for name, one in files.items()}
            found |= {f"{part}/{name}/": (0, 0, 0, 0) for name in folders}  # one may be empty
        else:
            with suppress(OSError):
                found[part] = stood(top.stat())
    return found
