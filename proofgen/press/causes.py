"""What spoils a piece at the press, in kinds that can be counted: ours, from the trade's own words
(common practice, no source). A kind names nobody, so it stays when a customer is forgotten."""

from __future__ import annotations

import re

OTHER = "other"
# The kind, and the beginnings of words that tell it.
KINDS = {
    "moved": ("ghost", "shift", "slip", "moved", "double", "blur"),
    "pale": ("pale", "faint", "weak", "light", "cold", "washed"),
    "scorched": ("scorch", "burn", "yellow", "brown", "hot", "singe"),
    "creased": ("creas", "wrinkl", "fold"),
    "marked": ("lint", "dust", "speck", "stain", "spot", "smudg", "hair", "dirt", "mark"),
    "misplaced": ("crooked", "askew", "skew", "misplac", "wrong side", "upside", "off centre"),
    "print": ("band", "nozzle", "strip", "smear", "streak", "printer", "paper", "print"),
    "blank": ("blank", "hole", "seam", "torn", "fault", "cloth"),
}


def cause_of(text: str) -> str:
    """The first kind of the table that a maker's words tell; what a thing did stands in it before
    what thing it was."""
    words = text.casefold()
    told = (k for k, starts in KINDS.items() if any(re.search(rf"\b{s}", words) for s in starts))
    return next(told, OTHER)
