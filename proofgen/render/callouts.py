"""Words beside a drawing and the lines that lead to them, placed so that none lie on each other."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import permutations, product

from proofgen.geometry import Rect, around

LINE = 1.22  # distance of two lines of one label, in type sizes
_WIDE = 0.54  # mean width of a letter in type sizes; generous, since the page's face is unknown
_GAP = 0.7  # between a label and its leader's end or its neighbour, in type sizes
_FEW = 4  # so many labels on one side are tried in every order
_SIDE_LETTERS = 20  # a label at the side is broken after about so many letters


@dataclass(frozen=True, slots=True)
class Callout:
    """A label and the point (mm) it speaks of; `side`: top, bottom or right of the drawing.

    The rest is worked out: lines of text, where they start and how, and where the leader ends.
    """

    text: str
    x: float
    y: float
    side: str
    lines: tuple[str, ...] = ()
    text_x: float = 0.0
    text_y: float = 0.0
    anchor: str = "start"
    stop: tuple[float, float] = (0.0, 0.0)
    bend: tuple[float, float] | None = None

    def width(self, size: float) -> float:
        return max(len(line) for line in self.lines or (self.text,)) * _WIDE * size

    def box(self, size: float) -> Rect:
        """What the words take, placed in type of `size` mm."""
        wide, high = self.width(size), size * (1.4 + (len(self.lines) - 1) * LINE)
        start = self.text_x - (wide if self.anchor == "end" else 0.0)
        return Rect(start, self.text_y - size, wide, high)


@dataclass(frozen=True, slots=True)
class _Taken:
    """A label that has its place: its row (0 is nearest the drawing), extent and leader."""

    row: int
    start: float
    end: float
    leader: float


def _free(row: int, start: float, end: float, leader: float, taken: list[_Taken]) -> bool:
    """Whether a label lies clear of the others and no leader passes through a label."""
    for other in taken:
        if other.row == row and start < other.end and other.start < end:
            return False
        if other.row < row and other.start < leader < other.end:
            return False
        if other.row > row and start < other.leader < end:
            return False
    return True


def _stacked(order: Sequence[Callout], begins: Sequence[bool], size: float) -> list[_Taken] | None:
    """Each label in the nearest row where it is clear, in that order; None if one has no place.
    `begins` tells of each whether it begins at its leader or ends there."""
    taken: list[_Taken] = []
    gap = _GAP * size
    for callout, starts in zip(order, begins, strict=True):
        wide = callout.width(size)
        start = callout.x if starts else callout.x - wide
        for row in range(len(taken) + 1):
            if _free(row, start - gap, start + wide + gap, callout.x, taken):
                taken.append(_Taken(row, start, start + wide, callout.x))
                break
        else:
            return None
    return taken


def _best_rows(
    callouts: Sequence[Callout], whole: Rect, size: float
) -> list[tuple[Callout, _Taken, bool]]:
    """The stacking that reaches least beyond the drawing, then has the fewest rows.

    One always exists: from right to left, each label beginning at its leader.
    """
    from_right = sorted(callouts, key=lambda c: -c.x)
    few = len(callouts) <= _FEW
    orders = list(permutations(from_right)) if few else [tuple(from_right)]
    ways = list(product((True, False), repeat=len(callouts))) if few else [(True,) * len(callouts)]
    best: tuple[tuple[float, int], list[tuple[Callout, _Taken, bool]]] | None = None
    for order, begins in product(orders, ways):
        taken = _stacked(order, begins, size)
        if taken is None:
            continue
        beyond = sum(max(whole.x - t.start, 0) + max(t.end - whole.right, 0) for t in taken)
        cost = (round(beyond, 3), sum(t.row for t in taken))
        if best is None or cost < best[0]:
            best = (cost, list(zip(order, taken, begins, strict=True)))
            if cost == (0, 0):
                break
    assert best is not None
    return best[1]


def _rows(callouts: Sequence[Callout], whole: Rect, size: float, *, below: bool) -> list[Callout]:
    """Labels above or below the drawing, with straight leaders."""
    placed = []
    for callout, taken, begins in _best_rows(callouts, whole, size) if callouts else []:
        off = size * (0.9 + 1.5 * taken.row)
        if below:
            stop, text_y = whole.bottom + off, whole.bottom + off + 0.92 * size
        else:
            stop, text_y = whole.y - off, whole.y - off - 0.3 * size
        placed.append(
            replace(
                callout,
                lines=(callout.text,),
                text_x=callout.x,
                text_y=text_y,
                anchor="start" if begins else "end",
                stop=(callout.x, stop),
            )
        )
    return placed


def _column(callouts: Sequence[Callout], whole: Rect, size: float) -> list[Callout]:
    """Labels at the right, top to bottom in the order of their points, pushed apart."""
    start = whole.right + 2.6 * size
    broken = [
        replace(callout, lines=tuple(textwrap.wrap(callout.text, _SIDE_LETTERS)) or ("",))
        for callout in sorted(callouts, key=lambda c: c.y)
    ]
    heights = [len(callout.lines) * LINE * size + 0.45 * size for callout in broken]
    tops = [c.y - height / 2 for c, height in zip(broken, heights, strict=True)]
    # Down the column each label makes room for the one above; then up, to stay beside the drawing.
    for i in range(1, len(tops)):
        tops[i] = max(tops[i], tops[i - 1] + heights[i - 1])
    low = whole.bottom + 1.5 * size
    for i in reversed(range(len(tops))):
        tops[i] = min(tops[i], low - heights[i])
        low = tops[i]
    placed = []
    for callout, top in zip(broken, tops, strict=True):
        first = top + 0.22 * size + 0.86 * size
        level = first - 0.3 * size
        placed.append(
            replace(
                callout,
                text_x=start,
                text_y=first,
                stop=(start - 0.4 * size, level),
                bend=(start - 1.2 * size, level),
            )
        )
    return placed


def placed_callouts(
    callouts: Sequence[Callout], whole: Rect, size: float
) -> tuple[list[Callout], Rect]:
    """The labels placed round a drawing `whole` (mm) in type of `size` mm; and what to show."""
    above = _rows([c for c in callouts if c.side == "top"], whole, size, below=False)
    below = _rows([c for c in callouts if c.side == "bottom"], whole, size, below=True)
    beside = _column([c for c in callouts if c.side == "right"], whole, size)
    everything = [*above, *below, *beside]
    return everything, around([whole.inset(-0.4 * size), *(c.box(size) for c in everything)])
