"""How a line of a file is told."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LineTold:
    """What a line is for, a value as it may be written (YAML), and what counts where it is left
    out: as it would be written, or '' where nothing does. `of` are the kinds of blank or layer that
    have it, where not all do; a `needed` one must be there."""

    says: str
    like: str
    usual: str = ""
    needed: bool = False
    of: tuple[str, ...] = ()


def needed(says: str, like: str, *of: str) -> LineTold:
    """A line that must be there."""
    return LineTold(says, like, needed=True, of=of)
