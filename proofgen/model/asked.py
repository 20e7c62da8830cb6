"""What a customer wants otherwise: one text of their order, as it was shown and as it is to be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from proofgen.say import pieces, quoted, visible

_MOST = 400  # letters of a text in one line; a slip brings no more


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedChange:
    """One text that the customer wants otherwise: what `slot` of the order's line says on
    `pieces`, as it was shown and as it is to be."""

    pieces: tuple[int, ...]
    slot: str
    line: int
    old: str
    new: str  # '' where it is marked as wrong, and not said what it should be

    @property
    def said(self) -> str:
        """'Name, piece 12: “Odalis” → “Odalys”', for the maker."""
        old, new = (quoted(text, _MOST) for text in (self.old, self.new))
        about = f"{visible(self.slot)}, {pieces(self.pieces)}: {old}"
        if not self.new:
            return f"{about} is wrong, and it does not say what it should be"
        return f"{about} → {new}"

    @classmethod
    def of(cls, asked: Mapping[str, Any]) -> AskedChange:
        """From a slip's or a record's fields."""
        return cls(**{**asked, "pieces": tuple(asked["pieces"])})
