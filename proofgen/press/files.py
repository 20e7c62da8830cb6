"""What the files for the press are called, and whose pieces they may hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

from proofgen.press.pieces import Setting

_SHARED = "shared"
# The last but one is what sheets were called when each was a file.
_FILE = re.compile(
    r"(.+)-(?:sheets-[^-]+-[^-]+C-[^-]+s-[^-]+|picture-[^-]+|ticket|contact|sheet-\d+)\.\w+"
)
_ODD = re.compile(r"[^\w.]+")


def _plain(text: str) -> str:
    return _ODD.sub("_", text).strip("_.") or "own"


def sheets_file(orders: Sequence[str], paper: str, setting: Setting) -> str:
    """'fenn-wedding-sheets-A3-204C-60s-medium.pdf', or 'shared-sheets-…' for several orders."""
    whose = orders[0] if len(orders) == 1 else _SHARED
    batch = f"{setting.heat_c:.0f}C-{setting.time_s:g}s-{_plain(setting.pressure)}"
    return f"{whose}-sheets-{_plain(paper)}-{batch}.pdf"


def picture_file(order: str, raster: str) -> str:
    """'fenn-wedding-picture-line1_a_round.png': one mirrored picture for the printer."""
    return f"{order}-picture-{_plain(raster.rpartition('.')[0].replace('-', '_'))}.png"


def ticket_file(order: str) -> str:
    """'fenn-wedding-ticket.pdf'."""
    return f"{order}-ticket.pdf"


def contact_file(order: str) -> str:
    """'fenn-wedding-contact.pdf': every piece small, with its number and words."""
    return f"{order}-contact.pdf"


def is_for_press(file: str) -> bool:
    """Whether the name is one of ours."""
    return _FILE.fullmatch(file) is not None


def is_of(file: str, order: str) -> bool:
    """Whether a file for the press is an order's own."""
    match = _FILE.fullmatch(file)
    return match is not None and match[1] == order


def may_hold(file: str, order: str) -> bool:
    """Whether a file for the press may hold pieces of an order: its own, or shared sheets."""
    match = _FILE.fullmatch(file)
    return match is not None and match[1] in (order, _SHARED)
