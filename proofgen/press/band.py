"""The band: what is read at arm's length at the press, the same on sheet and ticket."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from proofgen.press.lettering import BASELINE, width, wrap
from proofgen.press.pieces import Setting
from proofgen.say import number
from proofgen.units import PT_PER_MM

Way = Literal["up", "right", "left"]  # where the blanks' top edge lies


class Sizes(NamedTuple):
    """Type of the band in pt: heat, time and pressure; the cloth; everything else."""

    figures: float
    cloth: float
    rest: float


# What a person at arm's length must still read, and two metres away may want to. Ours, checked
# against a picture scaled to that distance; the first that fits beside the pieces is taken.
LEGIBLE = Sizes(24, 16, 14)
LADDER = (
    Sizes(40, 30, 20),
    Sizes(34, 26, 18),
    Sizes(28, 22, 15),
    LEGIBLE,
    Sizes(17, 12, 10),
    Sizes(11, 8, 7),
)
# Of the arrow: its length in mm, at least, beside type that is read at arm's length, and as a share
# of any type; its breadth as a share of its length.
ARROW_MM = 9.0
_ARROW_LONG, _ARROW_WIDE = 1.5, 0.62
_LEADING = 1.16  # line to line, as a share of the type
_BETWEEN = 0.75  # between two things on a line, as a share of the type
# More orders or cloths than this on one sheet are told by the pieces' own edges. Ours.
_MOST = 4


@dataclass(frozen=True, slots=True)
class Letters:
    """A line of type, `size` mm high, from x along the baseline y."""

    x: float
    y: float
    size: float
    weight: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A drawing in mm from its own top left: letters, lines and filled shapes (their points)."""

    width: float
    height: float
    letters: tuple[Letters, ...] = ()
    lines: tuple[tuple[float, float, float, float], ...] = ()
    shapes: tuple[str, ...] = ()
    backwards_r: float = 0.0  # scale of the R that must read backwards; 0: none


@dataclass(frozen=True, slots=True, kw_only=True)
class BandFacts:
    """What a band says. `cloths` are cloths with their blanks, `orders` each with what it is one
    of; `tops` say where the blanks' top edge lies on the page, and of which pieces, if not all."""

    setting: Setting
    cloths: Sequence[tuple[str, str]]
    orders: Sequence[str]
    tops: Sequence[tuple[str, Way]] = field(default=())


class _Chunk(NamedTuple):
    text: str
    size: float  # mm
    way: Way | None = None  # with an arrow before the text


def _chunks(facts: BandFacts, sizes: Sizes, turned: bool) -> list[list[_Chunk]]:
    """What stands together, line groups first to last."""
    big, cloth, rest = (size / PT_PER_MM for size in sizes)
    setting = facts.setting
    figures = [*setting.heat, f"{number(setting.time_s)} s", f"{setting.pressure} pressure"]
    below = []
    blanks: dict[str, list[str]] = {}
    for named, blank in facts.cloths[:_MOST]:
        blanks.setdefault(named, []).append(blank)
    for named, which in blanks.items():
        below += [_Chunk(named, cloth), *(_Chunk(blank, rest) for blank in which)]
    below += [_Chunk(order, rest) for order in facts.orders[:_MOST]]
    if max(len(facts.cloths), len(facts.orders)) > _MOST:
        below.append(_Chunk("and more: see each piece", rest))
    for pieces, way in facts.tops:
        seen: Way = way if not turned else {"up": "left", "right": "up"}[way]  # type: ignore
        below.append(_Chunk(f"TOP {pieces}".strip(), rest, seen))
    return [[_Chunk(text, big) for text in figures], below]


def set_band(facts: BandFacts, sizes: Sizes, room: float, *, turned: bool = False) -> Block | None:
    """The band in lines no wider than `room` (mm); None where a word is wider. `turned`: it will be
    turned clockwise by a quarter, so its arrows are set the other way round."""
    letters: list[Letters] = []
    shapes: list[str] = []
    top = widest = 0.0
    for group in _chunks(facts, sizes, turned):
        for line in _lines(group, room):
            high = max(_height(chunk) for chunk in line)
            base = top + high * (_LEADING - 1) / 2 + max(BASELINE * c.size for c in line)
            x = 0.0
            for chunk in line:
                if chunk.way:
                    long = _arrow_mm(chunk.size)
                    shapes.append(_arrow(chunk.way, x, base - BASELINE * chunk.size, long))
                    x += long + chunk.size * 0.3
                letters.append(Letters(x, base, chunk.size, 700, chunk.text))
                x += width(chunk.text, chunk.size, 700) + _BETWEEN * chunk.size
                widest = max(widest, x - _BETWEEN * chunk.size)
            top += high * _LEADING
    if widest > room + 1e-6:
        return None
    return Block(width=widest, height=top, letters=tuple(letters), shapes=tuple(shapes))


def _arrow_mm(size: float) -> float:
    least = ARROW_MM if size * PT_PER_MM >= LEGIBLE.rest - 1e-6 else 0.0
    return max(least, _ARROW_LONG * size)


def _height(chunk: _Chunk) -> float:
    return max(chunk.size, _arrow_mm(chunk.size) if chunk.way else 0.0)


def _wide(chunk: _Chunk) -> float:
    arrow = _arrow_mm(chunk.size) + chunk.size * 0.3 if chunk.way else 0.0
    return arrow + width(chunk.text, chunk.size, 700)


def _lines(group: Sequence[_Chunk], room: float) -> list[list[_Chunk]]:
    """Chunks side by side while they fit; one that is wider than the room is parted by words."""
    lines: list[list[_Chunk]] = []
    used = math.inf
    for chunk in group:
        parts = [chunk]
        if not chunk.way and _wide(chunk) > room:
            parts = [chunk._replace(text=t) for t in wrap(chunk.text, chunk.size, room, 700)]
        for part in parts:
            if used + _wide(part) > room or (lines and part is not parts[0]):
                lines.append([])
                used = 0.0
            lines[-1].append(part)
            used += _wide(part) + _BETWEEN * part.size
    return lines


def _arrow(way: Way, x: float, top: float, long: float) -> str:
    """An arrow in a square of `long` mm."""
    half, head = _ARROW_WIDE / 2, 0.5
    up = [(0.5, 0), (0.5 + half, head), (0.62, head), (0.62, 1), (0.38, 1), (0.38, head)]
    up.append((0.5 - half, head))
    turn = {
        "up": lambda a, b: (a, b),
        "right": lambda a, b: (1 - b, a),
        "left": lambda a, b: (b, a),
    }
    points = (turn[way](*point) for point in up)
    return " ".join(f"{x + a * long:.3f},{top + b * long:.3f}" for a, b in points)
