"""Copies that a program which keeps folders alike on several machines leaves beside a file that was
changed on two of them. Which of the two holds, only the maker knows."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from proofgen.errors import Place, ShopError
from proofgen.say import quoted

# "order 2", "order (1)", "order (conflicted copy of Tuesday)", "order.sync-conflict-20261130",
# "order-DESKTOP-7F3K": as such programs name them, from memory.
_COPY = re.compile(
    r"(?P<of>.+?)"
    r"(?: \d{1,2}| ?\(\d{1,2}\)| ?\([^()]*(?:conflict|copy)[^()]*\)| - Copy(?: \(\d{1,2}\))?"
    r"|[._ -](?:sync-)?conflict\b.*|-(?:DESKTOP|LAPTOP|PC|IMAC|MACBOOK)\b[\w-]*)",
    re.IGNORECASE,
)


def copy_of(path: Path) -> Path | None:
    """The file or folder beside it that it is a copy of; None where it is none."""
    stem, ending = (path.name, "") if path.is_dir() else (path.stem, path.suffix)
    found = _COPY.fullmatch(stem)
    if not found:
        return None
    origin = path.with_name(found["of"] + ending)
    return origin if origin.exists() else None


def without_copies(paths: Iterable[Path], folder: Path, faults: list[ShopError]) -> Iterator[Path]:
    """Those that are no such copies; each that is one is told, and read by nobody."""
    for path in paths:
        origin = copy_of(path)
        if origin is None:
            yield path
            continue
        shown = origin.relative_to(folder).as_posix()
        faults.append(
            ShopError(
                f"this looks like a second copy of {quoted(shown)}, left when it was changed on "
                "two machines; it is not read",
                f"compare the two, put what is right into {shown}, and move this one out of the "
                "shop’s folder",
                Place(path.relative_to(folder).as_posix()),
            )
        )
