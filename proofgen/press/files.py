"""What the files for the press are called, and whose pieces they may hold."""

from __future__ import annotations

import re
from collections.abc import Sequence

_SHARED = "shared"
_FILE = re.compile(r"(.+)-(?:sheet-\d+|ticket)\.\w+")


def sheet_file(orders: Sequence[str], number: int) -> str:
    """'fenn-wedding-sheet-02.pdf', or 'shared-sheet-02.pdf' for one that holds several orders."""
    return f"{orders[0] if len(orders) == 1 else _SHARED}-sheet-{number:02d}.pdf"


def ticket_file(order: str) -> str:
    """'fenn-wedding-ticket.pdf'."""
    return f"{order}-ticket.pdf"


def is_for_press(file: str) -> bool:
    """Whether the name is one of ours."""
    return _FILE.fullmatch(file) is not None


def is_of(file: str, order: str) -> bool:
    """Whether a file for the press is an order's own."""
    match = _FILE.fullmatch(file)
    return match is not None and match[1] == order


def may_hold(file: str, order: str) -> bool:
    """Whether a file for the press may hold pieces of an order: its own, or a shared sheet."""
    match = _FILE.fullmatch(file)
    return match is not None and match[1] in (order, _SHARED)
