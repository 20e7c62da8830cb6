"""What the files for the press are called, and whose pieces they may hold."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from proofgen.press.pieces import Setting
from proofgen.say.lists import spans

SHARED = "shared"  # stands for the order where a file holds pieces of several
# The last but one is what sheets were called when each was a file.
_FILE = re.compile(
    r"(.+)-(?:sheets-[^-]+-[^-]+C-[^-]+s-[^-]+|again-[^-]+-[^-]+-[^-]+C-[^-]+s-[^-]+"
    r"|picture-[^-]+|ticket|contact|packing|sheet-\d+)\.\w+"
)
_NAMED = 8  # runs of numbers that a file's name holds
_ODD = re.compile(r"[^\w.]+")


def _plain(text: str) -> str:
    return _ODD.sub("_", text).strip("_.") or "own"


def sheets_file(orders: Sequence[str], paper: str, setting: Setting) -> str:
    """'fenn-wedding-sheets-A3-204C-60s-medium.pdf', or 'shared-sheets-…' for several orders."""
    whose = orders[0] if len(orders) == 1 else SHARED
    return f"{whose}-sheets-{_plain(paper)}-{_batch(setting)}.pdf"


def again_file(order: str, pieces: Collection[int], paper: str, setting: Setting) -> str:
    """'fenn-wedding-again-12_37-A3-204C-60s-medium.pdf': papers of these pieces once more."""
    numbers = [str(first) if first == last else f"{first}to{last}" for first, last in spans(pieces)]
    some = "_".join(numbers[:_NAMED] + ["more"] * (len(numbers) > _NAMED))
    return f"{order}-again-{some}-{_plain(paper)}-{_batch(setting)}.pdf"


def _batch(setting: Setting) -> str:
    return f"{setting.heat_c:.0f}C-{setting.time_s:g}s-{_plain(setting.pressure)}"


def picture_file(order: str, raster: str) -> str:
    """'fenn-wedding-picture-line1_a_round.png': one mirrored picture for the printer."""
    return f"{order}-picture-{_plain(raster.rpartition('.')[0].replace('-', '_'))}.png"


def ticket_file(order: str) -> str:
    """'fenn-wedding-ticket.pdf'."""
    return f"{order}-ticket.pdf"


def contact_file(order: str) -> str:
    """'fenn-wedding-contact.pdf': every piece small, with its number and words."""
    return f"{order}-contact.pdf"


def packing_file(order: str) -> str:
    """'fenn-wedding-packing.pdf': what goes into the parcel, and on it."""
    return f"{order}-packing.pdf"


def is_for_parcel(file: str) -> bool:
    """Whether it is what goes into an order's parcel."""
    return file.endswith("-packing.pdf") and is_for_press(file)


def is_for_press(file: str) -> bool:
    """Whether the name is one of ours."""
    return _FILE.fullmatch(file) is not None


def owner_of(file: str) -> str:
    """Whose file for the press it is, an order's or SHARED; '' for what is none of ours."""
    match = _FILE.fullmatch(file)
    return match[1] if match else ""


def is_of(file: str, order: str) -> bool:
    """Whether a file for the press is an order's own."""
    return owner_of(file) == order


def may_hold(file: str, order: str) -> bool:
    """Whether a file for the press may hold pieces of an order: its own, or shared sheets."""
    return owner_of(file) in (order, SHARED)
