"""A count of blanks, put into the blank's file with the moment at which it was made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from proofgen.desk.looks import chosen_blank
from proofgen.errors import UsageError
from proofgen.say import count, joined, quoted
from proofgen.shop import write_count
from proofgen.workshop import Workshop

_MOST = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """What a blank's file says now, and that in words."""

    file: Path
    says: tuple[str, ...]


def count_blanks(workshop: Workshop, name: str, typed: Sequence[str]) -> Counted:
    """Write `CLOTH=PIECES` of a blank as counted now: what was noted as used before is before, and
    no other cloth is counted by it.

    Errors: UsageError for an unknown blank or cloth, or no number; ShopFaults, ShopError where its
    file cannot be changed: nothing is written then.
    """
    blank = chosen_blank(workshop.shop.blanks, name, workshop.shop.faults)
    counts: dict[str, int] = {}
    for text in typed:
        cloth, _, number = (part.strip() for part in text.rpartition("="))
        if cloth not in blank.cloth.colours:
            raise UsageError(
                f"--count: {quoted(text)} names no cloth of {name}",
                f"write it like white=40; its cloths: {joined(blank.cloth.colours)}",
            )
        if not (number.isascii() and number.isdigit()) or int(number) > _MOST:
            raise UsageError(f"--count: {quoted(text)} has no number", f"write it like {cloth}=40")
        counts[cloth] = int(number)
    now = workshop.now.astimezone(ZoneInfo(workshop.shop.settings.zone)).replace(tzinfo=None)
    file = write_count(workshop.folder, blank, counts, now)
    says = [
        f"{blank.name}, {cloth}: {count(many)} counted on {now.date()} at {now.time()}. What is "
        "pressed from now on is taken off."
        for cloth, many in counts.items()
    ]
    return Counted(file=file, says=tuple(says))
