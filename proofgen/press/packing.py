"""Paper pieces onto papers, so that a trimmer's straight cuts, edge to edge, free every piece."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import rectpack
from rectpack import guillotine

from proofgen.geometry import Rect, Size

if TYPE_CHECKING:
    from rectpack import SortOrder, Way

_MICRONS = 1000  # the packer works in whole µm, so that no float decides whether edges meet
_SLACK = 1e-6
# More different pieces than this are packed size by size first; the packer is slow on crowds.
_CROWD = 60


@dataclass(frozen=True, slots=True)
class Spot:
    """Item `index` with its top left at x, y (mm in the area), turned by 90° or not."""

    index: int
    x: float
    y: float
    turned: bool


# Guillotine packing in four ways (which free area is taken, which way the rest of it is parted).
# Free areas are never joined again: so every cut stays edge to edge.
_WAYS = tuple(
    partial(way, merge=False)
    for way in (
        guillotine.GuillotineBssfSas,
        guillotine.GuillotineBssfSlas,
        guillotine.GuillotineBlsfLlas,
        guillotine.GuillotineBssfMaxas,
    )
)


def step_and_repeat(area: Size, item: Size) -> tuple[int, int]:
    """Columns and rows of a grid of equal items in an area, edge to edge; mm."""
    return (
        math.floor(area.width / item.width + _SLACK),
        math.floor(area.height / item.height + _SLACK),
    )


def fits_upright(area: Size, item: Size) -> bool:
    """Whether an item fits an area as it lies."""
    return item.width <= area.width + _SLACK and item.height <= area.height + _SLACK


def fits(area: Size, item: Size) -> bool:
    """Whether an item fits an area, upright or turned."""
    return fits_upright(area, item) or fits_upright(area, item.turned)


def fill(area: Size, items: Sequence[Size]) -> list[list[Spot]]:
    """Lay all items into as few equal areas as we can; mm. Every item must fit one area.

    Equal items form a pattern that is repeated, in the order given, row by row, so that numbers
    run as in the list. ValueError when an item does not fit.
    """
    for item in items:
        if not fits(area, item):
            raise ValueError(f"{item.width:.1f} × {item.height:.1f} mm does not fit")
    by_size: dict[Size, list[int]] = {}
    for index, item in enumerate(items):
        by_size.setdefault(item, []).append(index)
    full: list[list[Spot]] = []
    rest: list[int] = []
    for size, indexes in by_size.items():
        pattern = _pattern(area, size, len(indexes))
        whole = len(indexes) if len(by_size) == 1 else len(indexes) // len(pattern) * len(pattern)
        for start in range(0, whole, len(pattern)):
            chosen = indexes[start : min(start + len(pattern), whole)]
            full.append([replace(s, index=i) for i, s in zip(chosen, pattern, strict=False)])
        rest += indexes[whole:]
    sheets = full + _mixed(area, items, rest)
    if len(by_size) > 1 and len(items) <= _CROWD:
        together = _mixed(area, items, list(range(len(items))))
        if len(together) < len(sheets):
            sheets = together
    return [_renumber(sheet, items) for sheet in sheets]


def fill_roll(width: float, longest: float, items: Sequence[Size]) -> list[list[Spot]]:
    """Lay items on the shortest length of a roll that we find to hold all, at most `longest` mm."""
    least = max(
        sum(i.width * i.height for i in items) / width,
        max(
            min(way.height for way in (i, i.turned) if way.width <= width + _SLACK)
            for i in items
            if fits(Size(width, longest), i)
        ),
    )
    length = least
    while length < longest:
        area = Size(width, length)
        if all(fits(area, i) for i in items):
            sheets = fill(area, items)
            if len(sheets) == 1:
                return sheets
        length *= 1.03
    return fill(Size(width, longest), items)


def _pattern(area: Size, size: Size, wanted: int) -> list[Spot]:
    """The best way we find to lay equal items in one area, in reading order."""
    patterns = [_grid(area, size, turned) for turned in (False, True)]
    most = max(len(pattern) for pattern in patterns)
    by_area = math.floor(area.width * area.height / (size.width * size.height) + _SLACK)
    if most < min(wanted, by_area) and by_area <= _CROWD:
        patterns += [
            max(_packed(area, [size] * by_area, way, rectpack.SORT_NONE), key=len) for way in _WAYS
        ]
    best = max(patterns, key=lambda spots: min(len(spots), wanted))  # the first of equals: a grid
    return sorted(best, key=lambda s: (round(s.y, 3), round(s.x, 3)))


def _grid(area: Size, size: Size, turned: bool) -> list[Spot]:
    item = size.turned if turned else size
    columns, rows = step_and_repeat(area, item)
    return [
        Spot(row * columns + column, column * item.width, row * item.height, turned)
        for row in range(rows)
        for column in range(columns)
    ]


def _mixed(area: Size, items: Sequence[Size], indexes: list[int]) -> list[list[Spot]]:
    if not indexes:
        return []
    sizes = [items[i] for i in indexes]
    ways = [
        _packed(area, sizes, way, order)
        for way in _WAYS
        for order in (rectpack.SORT_AREA, rectpack.SORT_LSIDE)
    ]
    best = min(ways, key=lambda sheets: (len(sheets), _turns(sheets)))
    return [[replace(s, index=indexes[s.index]) for s in sheet] for sheet in best]


def _turns(sheets: list[list[Spot]]) -> int:
    return sum(spot.turned for sheet in sheets for spot in sheet)


def _packed(area: Size, sizes: Sequence[Size], way: Way, order: SortOrder) -> list[list[Spot]]:
    """One run of the packer in whole µm: items rounded up, the area down."""
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=rectpack.PackingBin.BFF,
        pack_algo=way,
        sort_algo=order,
        rotation=True,
    )
    whole = [
        (math.ceil(s.width * _MICRONS - _SLACK), math.ceil(s.height * _MICRONS - _SLACK))
        for s in sizes
    ]
    for index, (wide, high) in enumerate(whole):
        packer.add_rect(wide, high, rid=index)
    packer.add_bin(
        math.floor(area.width * _MICRONS + 1),
        math.floor(area.height * _MICRONS + 1),
        count=len(sizes),
    )
    packer.pack()
    sheets: dict[int, list[Spot]] = {}
    for number, x, y, wide, _, index in packer.rect_list():
        spot = Spot(index, x / _MICRONS, y / _MICRONS, wide != whole[index][0])
        sheets.setdefault(number, []).append(spot)
    return [sheets[number] for number in sorted(sheets)]


def _renumber(sheet: list[Spot], items: Sequence[Size]) -> list[Spot]:
    """Hand out equal items again so that their numbers run in reading order on the sheet."""
    reading = sorted(sheet, key=lambda s: (round(s.y, 1), round(s.x, 1)))
    waiting: dict[Size, list[int]] = {}
    for index in sorted(spot.index for spot in sheet):
        waiting.setdefault(items[index], []).append(index)
    return [replace(s, index=waiting[items[s.index]].pop(0)) for s in reading]


def cuts(
    area: Rect, pieces: Sequence[Rect], beside: Sequence[Rect] = ()
) -> Iterator[tuple[float, float, float, float]]:
    """The straight cuts (x1, y1, x2, y2), each right across the paper it meets, that free all
    pieces from `area`, in the order to cut. None runs through what lies `beside` them, which need
    not be freed. ValueError when the pieces cannot be cut apart so.
    """
    every = [*pieces, *beside]
    for upright in (False, True):
        for at in _edges(area, pieces, upright):
            halves = _halves(area, at, upright)
            sides = [[r for r in every if half.holds(r, 2e-3)] for half in halves]
            if len(sides[0]) + len(sides[1]) != len(every):
                continue
            yield (at, area.y, at, area.bottom) if upright else (area.x, at, area.right, at)
            for half, inside in zip(halves, sides, strict=True):
                freed = [r for r in inside if r in pieces]
                if freed:
                    yield from cuts(half, freed, [r for r in inside if r not in pieces])
            return
    if len(every) > 1:
        raise ValueError("these pieces cannot be cut apart edge to edge")


def _edges(area: Rect, pieces: Sequence[Rect], upright: bool) -> list[float]:
    """Where a cut could go: at an edge of a piece that is not the area's own edge."""
    pairs = [((p.x, p.right) if upright else (p.y, p.bottom)) for p in pieces]
    low, high = (area.x, area.right) if upright else (area.y, area.bottom)
    edges = sorted({round(edge, 3) for pair in pairs for edge in pair})
    return [edge for edge in edges if low + 5e-3 < edge < high - 5e-3]


def _halves(area: Rect, at: float, upright: bool) -> tuple[Rect, Rect]:
    if upright:
        return (
            Rect(area.x, area.y, at - area.x, area.height),
            Rect(at, area.y, area.right - at, area.height),
        )
    return (
        Rect(area.x, area.y, area.width, at - area.y),
        Rect(area.x, at, area.width, area.bottom - at),
    )
