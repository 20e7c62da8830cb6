"""Whether anything that the catalogue is made of changed, told without reading a file."""

from __future__ import annotations

from pathlib import Path

from proofgen.shop.stands import READ
from proofgen.store.standing import look

_OF_ORDERS = "orders"  # proofs are made when they are asked for, and never by saving a file


def standing(folder: Path) -> object:
    """How a shop's files stand, but for its orders; equal while none of them changed."""
    parts = sorted(part for part in READ if part != _OF_ORDERS)
    files = {part: look(folder / part)[0] for part in parts}
    shop = folder / "shop.yaml"
    about = shop.stat() if shop.is_file() else None
    return files, about and (about.st_mtime_ns, about.st_size, about.st_ino)
