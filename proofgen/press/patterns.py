"""What one paper can hold: every number of pieces, size by size, that straight cuts can free."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from proofgen.geometry import Size
from proofgen.press.packing import Spot, step_and_repeat

_MICRONS = 1000  # whole µm, so that no float decides whether edges meet
_SLACK = 1e-6
# More counts than this are not all worked out; the packer of packing.py does it then. Ours.
MOST_COUNTS = 140

Counts = tuple[int, ...]  # of each size


@dataclass(frozen=True, slots=True)
class Box:
    """An arrangement that straight cuts part into its two halves, down to single pieces: its sides
    in µm, and either the two halves (side by side, or one above the other) or one piece."""

    wide: int
    high: int
    halves: tuple[Box, Box] | None = None
    beside: bool = False
    size: int = 0
    turned: bool = False

    def spots(self, x: int = 0, y: int = 0) -> Iterator[tuple[int, Spot]]:
        """The size and the place of each piece; `index` is not told."""
        if self.halves is None:
            yield self.size, Spot(-1, x / _MICRONS, y / _MICRONS, self.turned)
            return
        first, second = self.halves
        yield from first.spots(x, y)
        step = (first.wide, 0) if self.beside else (0, first.high)
        yield from second.spots(x + step[0], y + step[1])


def _micron_up(mm: float) -> int:
    return math.ceil(mm * _MICRONS - _SLACK)


def _micron_down(mm: float) -> int:
    return math.floor(mm * _MICRONS + 1)


def counts_within(
    areas: Sequence[Size], sizes: Sequence[Size], most: Counts
) -> list[Counts] | None:
    """Every count of pieces, at most so many, whose bare area one of the areas holds; fewest
    pieces first. None where there are more than can be worked out."""
    largest = max(area.width * area.height for area in areas) + _SLACK
    found: list[Counts] = []

    def grow(begun: Counts, left: float) -> bool:
        at = len(begun)
        if at == len(sizes):
            found.append(begun)
            return len(found) <= MOST_COUNTS
        each = sizes[at].width * sizes[at].height
        fitting = min(most[at], int(left / each + _SLACK))
        return all(grow((*begun, n), left - n * each) for n in range(fitting + 1))

    return sorted(found, key=sum)[1:] if grow((), largest) else None


def boxes(
    areas: Sequence[Size], sizes: Sequence[Size], counts: Sequence[Counts]
) -> dict[Counts, list[Box]]:
    """For each of the counts (all below each of them must be there, too) the arrangements that fit
    one of the areas (mm), none of them larger both ways than another. A count that fits none is
    left out.

    Every guillotine pattern is two smaller ones side by side or one above the other (Wang 1983,
    Operations Research 31(3):573-586, from memory), so that none is missed.
    """
    limits = [(_micron_down(a.width), _micron_down(a.height)) for a in areas]
    made: dict[Counts, list[Box]] = {}
    for count in counts:
        found: list[Box] = []
        if sum(count) == 1:
            kind = count.index(1)
            wide, high = _micron_up(sizes[kind].width), _micron_up(sizes[kind].height)
            found = [Box(wide, high, size=kind), Box(high, wide, size=kind, turned=True)]
        else:
            for part in itertools.product(*(range(n + 1) for n in count)):
                rest = tuple(n - p for n, p in zip(count, part, strict=True))
                if part <= rest and part in made and rest in made:
                    found += _joined(made[part], made[rest], limits)
        kept = _smallest(box for box in found if _fits(box.wide, box.high, limits))
        if kept:
            made[count] = kept
    return made


def _fits(wide: int, high: int, limits: Sequence[tuple[int, int]]) -> bool:
    return any(wide <= w and high <= h for w, h in limits)


def _joined(
    some: Sequence[Box], others: Sequence[Box], limits: Sequence[tuple[int, int]]
) -> list[Box]:
    """Any two side by side, and one above the other, as far as they fit."""
    found = []
    for a, b in itertools.product(some, others):
        wide, high = a.wide + b.wide, max(a.high, b.high)
        if _fits(wide, high, limits):
            found.append(Box(wide, high, (a, b), beside=True))
        wide, high = max(a.wide, b.wide), a.high + b.high
        if _fits(wide, high, limits):
            found.append(Box(wide, high, (a, b)))
    return found


def _smallest(found: Iterator[Box]) -> list[Box]:
    """Those that no other is smaller than both ways; of equals the first."""
    kept: list[Box] = []
    lowest = math.inf
    for box in sorted(found, key=lambda b: (b.wide, b.high)):
        if box.high < lowest:
            kept.append(box)
            lowest = box.high
    return kept


def layouts(
    area: Size, sizes: Sequence[Size], count: Counts, found: Sequence[Box]
) -> Iterator[list[tuple[int, Spot]]]:
    """Ways to lay so many pieces in an area (mm), the plainest first: grids, which are exact and
    read row by row; then any arrangement that fits. Each piece as its size's index and its spot."""
    kinds = [kind for kind, n in enumerate(count) if n]
    if len(kinds) == 1:
        (kind,) = kinds
        for turned in (False, True):
            yield from _grids(area, sizes[kind], kind, count[kind], turned)
    wide, high = _micron_down(area.width), _micron_down(area.height)
    for box in found:
        if box.wide <= wide and box.high <= high:
            yield sorted(box.spots(), key=lambda one: (round(one[1].y, 1), round(one[1].x, 1)))


def _grids(
    area: Size, size: Size, kind: int, count: int, turned: bool
) -> Iterator[list[tuple[int, Spot]]]:
    item = size.turned if turned else size
    columns, rows = step_and_repeat(area, item)
    if columns * rows < count:
        return
    # As few columns as the rows allow, too: it leaves a broader strip beside them.
    for across in dict.fromkeys((columns, math.ceil(count / rows))):
        yield [
            (kind, Spot(-1, n % across * item.width, n // across * item.height, turned))
            for n in range(count)
        ]


Cost = tuple[int, ...]


def cheapest(
    most: Counts, patterns: Sequence[Counts], cost: Callable[[Counts], Cost]
) -> list[Counts]:
    """The patterns, as often as they are needed, that hold just `most` pieces at the least cost.

    Costs are added term by term and compared in that order. Every sum of patterns is looked at:
    the first size that is left decides which patterns can be next, in any order of the sheets.
    """
    none = tuple(0 for _ in most)

    @cache
    def best(left: Counts) -> tuple[Cost, Counts]:
        first = next(i for i, n in enumerate(left) if n)
        found: tuple[Cost, Counts] | None = None
        for pattern in patterns:
            if not pattern[first] or any(p > n for p, n in zip(pattern, left, strict=True)):
                continue
            total = cost(pattern)
            rest = tuple(n - p for n, p in zip(left, pattern, strict=True))
            if rest != none:
                total = tuple(a + b for a, b in zip(total, best(rest)[0], strict=True))
            if found is None or total < found[0]:
                found = (total, pattern)
        assert found is not None  # one piece of each size fits a paper
        return found

    # From small to large, so that no chain of calls grows long.
    for left in itertools.product(*(range(n + 1) for n in most)):
        if left != none:
            best(left)
    chosen, left = [], most
    while left != none:
        pattern = best(left)[1]
        chosen.append(pattern)
        left = tuple(n - p for n, p in zip(left, pattern, strict=True))
    return chosen
