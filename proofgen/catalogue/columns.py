"""How wide the columns of prices are on paper, where nothing can be scrolled."""

from __future__ import annotations

from collections.abc import Callable

from proofgen.catalogue.content import Entry
from proofgen.render import Theme
from proofgen.say.tongue import to_say

_MORE = to_say("%(many)s+")  # as the head of a column has it
# Beside the letters of a price: the least gap before it, as the styles of paper set it.
_GAP_MM = 2.5
# How wide a letter is, about, for each point of its size; points, commas and spaces take half.
_LETTER_MM, _NARROW = 0.22, frozenset(".,  \u00a0\u200f\u066b\u066c")
_NAME_MM = 20.0  # what a piece's name needs beside the prices, for its longer words


def _wide(said: str) -> float:
    return sum(0.5 if letter in _NARROW else 1.0 for letter in said)


def prices_mm(entry: Entry, theme: Theme, pt: float) -> float:
    """How wide a design's columns of prices are in letters of so many points, about."""
    wide = 0.0
    for many in entry.steps:
        said = [theme.tongue(_MORE) % {"many": many} if many > 1 else "1"]
        prices = [offer.price_of(many) for offer in entry.offers]
        said += [theme.money(price) for price in prices if price is not None]
        wide += max(map(_wide, said)) * pt * _LETTER_MM + _GAP_MM
    return wide


def crowding(theme: Theme, room_mm: float, pt: float) -> Callable[..., bool]:
    """Whether a design's columns of prices leave no room for the pieces' names and the `other_mm`
    that stand beside them: then they are set as a list, for none may run into its neighbour."""

    def crowded(entry: Entry, other_mm: float = 0.0) -> bool:
        return prices_mm(entry, theme, pt) + other_mm + _NAME_MM > room_mm

    return crowded
