"""What makes a column of a list one of names."""

from __future__ import annotations

# Of a column's entries: table numbers and sizes repeat, names do not. Common practice, no source.
_SHARE = 0.5


def are_names(different: int, entries: int) -> bool:
    """Whether so many different texts on so many pieces are names, each a piece's own.

    >>> are_names(99, 100), are_names(2, 100), are_names(1, 1)
    (True, False, False)
    """
    return different > 1 and different >= _SHARE * entries
