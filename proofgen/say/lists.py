"""Lists in a sentence: 'a, b and c', runs of numbers, pieces, and sentences side by side."""

from __future__ import annotations

from collections.abc import Iterable


def joined(parts: Iterable[str], last: str = "and") -> str:
    """'a, b and c'."""
    some = list(parts)
    return f" {last} ".join([", ".join(some[:-1]), some[-1]] if len(some) > 1 else some)


def spans(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """First and last of every run of neighbours: [(1, 4), (7, 7)]."""
    ends: list[tuple[int, int]] = []
    for n in sorted(set(numbers)):
        if ends and n == ends[-1][1] + 1:
            ends[-1] = (ends[-1][0], n)
        else:
            ends.append((n, n))
    return ends


def runs(numbers: Iterable[int]) -> str:
    """Numbers with neighbours joined; two neighbours stay two.

    >>> runs([1, 2, 3, 4, 7]), runs([1, 2])
    ('1 to 4 and 7', '1 and 2')
    """
    parts: list[str] = []
    for first, last in spans(numbers):
        if last - first > 1:
            parts.append(f"{first} to {last}")
        else:
            parts += [str(n) for n in range(first, last + 1)]
    return joined(parts)


def pieces(numbers: Iterable[int], *, capital: bool = False) -> str:
    """'piece 3' or 'pieces 1 to 4 and 7'; with `capital` as a sentence or a label begins."""
    some = set(numbers)
    one, more = ("Piece", "Pieces") if capital else ("piece", "pieces")
    return f"{one if len(some) == 1 else more} {runs(some)}"


def capital(text: str) -> str:
    """A text as a sentence or a label begins."""
    return text[:1].upper() + text[1:]


def sentences(*whole: str) -> str:
    """Whole sentences side by side; empty ones are left out."""
    return " ".join(text for text in whole if text)
