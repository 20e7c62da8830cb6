"""Words set in a box: how large a text can be, where its lines break, and the ink it makes."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache

from proofgen.artwork.typeface import LineInk, Typeface, need_shaping
from proofgen.geometry import Rect
from proofgen.model import TextRun

# Distance of two baselines as a share of the type size. Common practice, no source.
LINE_PITCH = 1.2
# Behind the hyphen of a name, two letters at least on each side; no date is parted.
_HYPHEN = re.compile(r"(?<=[^\W\d_]{2}[-\u2010])(?=[^\W\d_]{2})")
_ROUND = 0.01  # mm; sizes that had to shrink are rounded down to this
_SLACK = 0.02  # mm by which ink may pass its box: twice the rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A text set in a box: its lines, size and ink (mm, the frame of the box)."""

    runs: tuple[TextRun, ...]
    size_mm: float
    letter_mm: float
    ink: Rect | None
    fits: bool


def tidy(text: str) -> str:
    """Text as it is set: composed (Unicode NFC), one kind of line break, no blank ends."""
    text = unicodedata.normalize("NFC", text).replace("\r\n", "\n").replace("\r", "\n")
    return "\n".join(line.strip() for line in text.split("\n")).strip("\n")


def letter_share(lines: list[str], face: Typeface) -> float:
    """Height of a capital H as a share of the type size.

    For scripts without capitals it is the height of the tallest line's ink, without the marks above
    and below its letters: they do not make the letters larger.
    """
    cased = any(c.upper() != c.lower() for line in lines for c in line)
    capital = face.ink("H") if cased and ord("H") in face.letters else None
    if capital:
        return capital.bottom - capital.top
    bare = ("".join(c for c in line if unicodedata.category(c) != "Mn") for line in lines)
    inks = [ink for line in bare if (ink := face.ink(line))]
    return max((ink.bottom - ink.top for ink in inks), default=0.0)


def _block(lines: list[str], face: Typeface) -> LineInk | None:
    """Ink of all lines together, each line's left edge at 0, the first baseline at y = 0."""
    inks = [(i * LINE_PITCH, ink) for i, line in enumerate(lines) if (ink := face.ink(line))]
    if not inks:
        return None
    return LineInk(
        0.0,
        min(y + ink.top for y, ink in inks),
        max(ink.width for _, ink in inks),
        max(y + ink.bottom for y, ink in inks),
    )


def _largest(lines: list[str], face: Typeface, box: Rect) -> float:
    """The largest type size (mm) at which the lines stay inside the box."""
    block = _block(lines, face)
    if block is None:
        return float("inf")
    return min(box.width / block.width, box.height / (block.bottom - block.top))


def _pieces(line: str, at_hyphens: bool) -> list[str]:
    """What of a line may stand in a line of its own, each but the last of a word with the space or
    the hyphen behind it."""
    words = [f"{word} " for word in line.split()]
    if at_hyphens:
        words = [piece for word in words for piece in _HYPHEN.split(word)]
    return words


def _split(pieces: list[str], parts: int, face: Typeface) -> list[str]:
    """The pieces in `parts` lines, as even as can be: the widest is as narrow as possible."""
    width = face.sized(64).getlength
    space = width(" ")
    widths = [width(piece.rstrip()) for piece in pieces]
    behind = [space if piece.endswith(" ") else 0.0 for piece in pieces]

    def wide(start: int, end: int) -> float:
        return sum(widths[start:end]) + sum(behind[start : end - 1])

    @cache
    def best(start: int, left: int) -> tuple[float, int, tuple[int, ...]]:
        """The widest line, how many words are parted, and where the lines end."""
        if left == 1:
            return wide(start, len(pieces)), 0, (len(pieces),)
        evenest: tuple[float, int, tuple[int, ...]] = (float("inf"), 0, (len(pieces),))
        for end in range(start + 1, len(pieces) - left + 2):
            here = wide(start, end)
            rest, parted, ends = best(end, left - 1)
            parted += not behind[end - 1]
            if (max(here, rest), parted) < evenest[:2]:
                evenest = (max(here, rest), parted, (end, *ends))
        return evenest

    start, lines = 0, []
    for end in best(0, parts)[2]:
        lines.append("".join(pieces[start:end]).rstrip())
        start = end
    return lines


def _breakings(
    lines: list[str], face: Typeface, at_hyphens: bool = False, most: int = 12
) -> list[list[str]]:
    """The text in one, two, three … lines more than it was written in."""
    counts = [1] * len(lines)
    pieces = [_pieces(line, at_hyphens) for line in lines]
    breakings = []
    current = [[line] for line in lines]
    width = face.sized(64).getlength
    while sum(counts) < most:
        # Break whichever written line is widest now and still has a place to break at.
        open_ones = [i for i, parts in enumerate(pieces) if len(parts) > counts[i]]
        if not open_ones:
            break

        def widest(i: int) -> float:
            return max(width(part) for part in current[i])

        chosen = max(open_ones, key=widest)
        counts[chosen] += 1
        current[chosen] = _split(pieces[chosen], counts[chosen], face)
        breakings.append([part for parts in current for part in parts])
    return breakings


def _rounded(size: float) -> float:
    return round(size // _ROUND * _ROUND, 6)


def _fit(
    lines: list[str], face: Typeface, box: Rect, asked: float, least_letter: float
) -> tuple[list[str], float]:
    """Lines and size: smaller first, down to the least letter height; only then more lines, first
    those that spaces make, and behind hyphens only what would have to be smaller still."""
    share = letter_share(lines, face)
    least = min(asked, least_letter / share) if share > 0 else asked
    room = _largest(lines, face, box)
    if room >= asked - 1e-9:
        return lines, asked
    if room >= least:
        return lines, max(least, _rounded(room))
    candidates = [lines, *_breakings(lines, face)]
    rooms = [_largest(candidate, face, box) for candidate in candidates]
    if max(rooms) < least:
        parted = _breakings(lines, face, at_hyphens=True)
        candidates += parted
        rooms += [_largest(candidate, face, box) for candidate in parted]
    best = max(range(len(rooms)), key=lambda i: (round(rooms[i], 6), -i))
    if rooms[best] >= asked:
        return candidates[best], asked
    return candidates[best], max(least, _rounded(rooms[best]))


def _baseline(block: LineInk, count: int, size: float, capital: float, box: Rect) -> float:
    """First baseline: the block from first capital to last baseline in the middle of the box,
    moved only as far as ink above or below needs to stay inside."""
    last = (count - 1) * LINE_PITCH * size
    first = box.centre_y + (capital * size - last) / 2
    top, bottom = first + block.top * size, first + block.bottom * size
    if bottom - top > box.height:
        return first + box.centre_y - (top + bottom) / 2
    return first + max(box.y - top, 0.0) - max(bottom - box.bottom, 0.0)


def set_words(
    text: str, face: Typeface, box: Rect, *, asked_mm: float, align: str, least_letter_mm: float
) -> Setting:
    """Set a tidy text in a box (mm). Size gives way first, then lines break at spaces, then behind
    the hyphens of names; letters are never squashed. `fits` is False when ink still passes the box
    at the least letter height.

    Errors: MachineError where words cannot be shaped.
    """
    need_shaping()
    lines = text.split("\n")
    written, size = _fit(lines, face, box, asked_mm or box.height, least_letter_mm)
    block = _block(written, face)
    share = letter_share(written, face)
    if block is None:
        return Setting(runs=(), size_mm=size, letter_mm=0.0, ink=None, fits=True)
    first = _baseline(block, len(written), size, share, box)
    runs, inks = [], []
    for i, line in enumerate(written):
        ink = face.ink(line)
        if ink is None:
            continue
        spare = box.width - ink.width * size
        left = box.x + spare * {"left": 0.0, "centre": 0.5, "right": 1.0}[align]
        y = first + i * LINE_PITCH * size
        runs.append(TextRun(text=line, x_mm=left - ink.left * size, baseline_mm=y, size_mm=size))
        inks.append((left, y + ink.top * size, left + ink.width * size, y + ink.bottom * size))
    x, top = min(i[0] for i in inks), min(i[1] for i in inks)
    around = Rect(x, top, max(i[2] for i in inks) - x, max(i[3] for i in inks) - top)
    return Setting(
        runs=tuple(runs),
        size_mm=size,
        letter_mm=share * size,
        ink=around,
        fits=box.holds(around, _SLACK),
    )
