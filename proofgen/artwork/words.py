"""Words: which letters a font has, how large a text can be, and the ink it makes.

Everything is measured on one large drawing (REFERENCE pixels to the type size) and scaled, so that
the place of the ink does not depend on the resolution it is later drawn at.
"""

from __future__ import annotations

import sys
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont, features

from proofgen.errors import MachineError
from proofgen.geometry import Rect
from proofgen.model import TextRun

# Hinting rounds each advance to a whole pixel; at 512 that is 0.01 mm a letter in 9 mm type.
REFERENCE = 512
_LONG = 80  # letters; longer lines are measured on a smaller drawing to keep memory small
# Distance of two baselines as a share of the type size. Common practice, no source.
LINE_PITCH = 1.2
_ROUND = 0.01  # mm; sizes that had to shrink are rounded down to this
_SLACK = 0.02  # mm by which ink may pass its box: twice the rounding


@dataclass(frozen=True, slots=True)
class LineInk:
    """Where a line's ink lies in shares of the type size; its baseline starts at (0, 0), y down."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A text set in a box: its lines, size and ink (mm, the frame of the box)."""

    runs: tuple[TextRun, ...]
    size_mm: float
    letter_mm: float
    ink: Rect | None
    fits: bool


def need_shaping() -> None:
    """Refuse to draw words where joined scripts would come out in pieces.

    Errors: MachineError with the line to type.
    """
    if features.check("raqm"):
        return
    cure = {
        "linux": "type: sudo apt install libfribidi0",
        "darwin": "type: brew install fribidi",
        "win32": "put fribidi.dll (for example from MSYS2) in a folder that is on PATH, "
        "then start again",
    }.get(sys.platform, "install the FriBidi library with your system's package manager")
    raise MachineError(
        "words cannot be drawn here: the part that joins letters and writes from right to left "
        "(Raqm with FriBidi) is not installed",
        cure,
    )


def tidy(text: str) -> str:
    """Text as it is set: composed (Unicode NFC), one kind of line break, no blank ends."""
    text = unicodedata.normalize("NFC", text).replace("\r\n", "\n").replace("\r", "\n")
    return "\n".join(line.strip() for line in text.split("\n")).strip("\n")


@lru_cache(maxsize=64)
def _letters_of(font: Path) -> frozenset[int]:
    with TTFont(font, lazy=True) as opened:
        return frozenset(opened.getBestCmap() or ())


def _draws_nothing(char: str) -> bool:
    # Spaces, joiners and direction marks, line breaks, variation selectors (FE00.., E0100..).
    if unicodedata.category(char) in ("Zs", "Zl", "Zp", "Cf", "Cc"):
        return True
    return 0xFE00 <= ord(char) <= 0xFE0F or 0xE0100 <= ord(char) <= 0xE01EF


def missing_letters(text: str, font: Path) -> str:
    """The characters of `text` the font cannot draw, once each, in the order they come.

    A letter with its mark counts as present if the font has both apart: shaping joins them.
    """
    known = _letters_of(font)
    missing = []
    for char in unicodedata.normalize("NFC", text):
        if ord(char) in known or _draws_nothing(char):
            continue
        parts = unicodedata.normalize("NFD", char)
        if len(parts) > 1 and all(ord(part) in known for part in parts):
            continue
        missing.append(char)
    return "".join(dict.fromkeys(missing))


@lru_cache(maxsize=32)
def _font(font: Path, pixels: int) -> ImageFont.FreeTypeFont:
    need_shaping()
    return ImageFont.truetype(str(font), pixels, layout_engine=ImageFont.Layout.RAQM)


def _reference(text: str) -> int:
    return REFERENCE if len(text) <= _LONG else max(48, REFERENCE * _LONG // len(text))


def _drawn(text: str, font: Path, pixels: int) -> tuple[Image.Image, tuple[int, int]] | None:
    """A line's mask cut to its ink, and where its corner lies from the start of the baseline."""
    face = _font(font, pixels)
    left, top, right, bottom = face.getbbox(text, anchor="ls")
    edge = pixels // 4  # marks can reach past the box that is told
    origin = (edge - int(left), edge - int(top))
    size = (int(right - left) + 2 * edge, int(bottom - top) + 2 * edge)
    mask = Image.new("L", size, 0)
    ImageDraw.Draw(mask).text(origin, text, fill=255, font=face, anchor="ls")
    box = mask.getbbox()
    if box is None:
        return None
    return mask.crop(box), (box[0] - origin[0], box[1] - origin[1])


@lru_cache(maxsize=4096)
def line_ink(text: str, font: Path) -> LineInk | None:
    """The ink of one line in shares of the type size; None for a line without ink."""
    if not text.strip():
        return None
    pixels = _reference(text)
    drawn = _drawn(text, font, pixels)
    if drawn is None:
        return None
    mask, (x, y) = drawn
    return LineInk(x / pixels, y / pixels, (x + mask.width) / pixels, (y + mask.height) / pixels)


@lru_cache(maxsize=8)
def line_mask(text: str, font: Path, least: float) -> tuple[Image.Image, LineInk] | None:
    """A line's mask with at least `least` pixels to the type size, and where its ink lies."""
    ink = line_ink(text, font)
    if ink is None:
        return None
    pixels = _reference(text)
    while pixels < least:
        pixels *= 2
    drawn = _drawn(text, font, pixels)
    return (drawn[0], ink) if drawn else None


def letter_share(lines: list[str], font: Path) -> float:
    """Height of a capital H as a share of the type size.

    For scripts without capitals it is the height of the tallest line's ink, without the marks above
    and below its letters: they do not make the letters larger.
    """
    cased = any(c.upper() != c.lower() for line in lines for c in line)
    capital = line_ink("H", font) if cased and ord("H") in _letters_of(font) else None
    if capital:
        return capital.bottom - capital.top
    bare = ("".join(c for c in line if unicodedata.category(c) != "Mn") for line in lines)
    inks = [ink for line in bare if (ink := line_ink(line, font))]
    return max((ink.bottom - ink.top for ink in inks), default=0.0)


def _block(lines: list[str], font: Path) -> LineInk | None:
    """Ink of all lines together, each line's left edge at 0, the first baseline at y = 0."""
    inks = [(i * LINE_PITCH, ink) for i, line in enumerate(lines) if (ink := line_ink(line, font))]
    if not inks:
        return None
    return LineInk(
        0.0,
        min(y + ink.top for y, ink in inks),
        max(ink.width for _, ink in inks),
        max(y + ink.bottom for y, ink in inks),
    )


def _largest(lines: list[str], font: Path, box: Rect) -> float:
    """The largest type size (mm) at which the lines stay inside the box."""
    block = _block(lines, font)
    if block is None:
        return float("inf")
    return min(box.width / block.width, box.height / (block.bottom - block.top))


def _split(line: str, parts: int, font: Path) -> list[str]:
    """The line's words in `parts` lines, as even as can be: the widest is as narrow as possible."""
    words = line.split()
    face = _font(font, 64)
    space = face.getlength(" ")
    widths = [face.getlength(word) for word in words]

    @cache
    def best(start: int, left: int) -> tuple[float, tuple[int, ...]]:
        if left == 1:
            return sum(widths[start:]) + space * (len(words) - start - 1), (len(words),)
        found: tuple[float, tuple[int, ...]] = (float("inf"), (len(words),))
        for end in range(start + 1, len(words) - left + 2):
            here = sum(widths[start:end]) + space * (end - start - 1)
            rest, ends = best(end, left - 1)
            if max(here, rest) < found[0]:
                found = (max(here, rest), (end, *ends))
        return found

    start, lines = 0, []
    for end in best(0, parts)[1]:
        lines.append(" ".join(words[start:end]))
        start = end
    return lines


def _breakings(lines: list[str], font: Path, most: int = 12) -> list[list[str]]:
    """The text in one, two, three … lines more than it was written in."""
    counts = [1] * len(lines)
    found = []
    current = [[line] for line in lines]
    while sum(counts) < most:
        # Break whichever written line is widest now and still has a space to break at.
        open_ones = [i for i, line in enumerate(lines) if len(line.split()) > counts[i]]
        if not open_ones:
            break

        def widest(i: int) -> float:
            return max(_font(font, 64).getlength(part) for part in current[i])

        chosen = max(open_ones, key=widest)
        counts[chosen] += 1
        current[chosen] = _split(lines[chosen], counts[chosen], font)
        found.append([part for parts in current for part in parts])
    return found


def _rounded(size: float) -> float:
    return round(size // _ROUND * _ROUND, 6)


def _fit(
    lines: list[str], font: Path, box: Rect, asked: float, least_letter: float
) -> tuple[list[str], float]:
    """Lines and size: smaller first, down to the least letter height; only then more lines."""
    share = letter_share(lines, font)
    least = min(asked, least_letter / share) if share > 0 else asked
    room = _largest(lines, font, box)
    if room >= asked - 1e-9:
        return lines, asked
    if room >= least:
        return lines, max(least, _rounded(room))
    candidates = [lines, *_breakings(lines, font)]
    rooms = [_largest(candidate, font, box) for candidate in candidates]
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
    text: str, font: Path, box: Rect, *, asked_mm: float, align: str, least_letter_mm: float
) -> Setting:
    """Set a tidy text in a box (mm). Size gives way first, then lines break at spaces; letters are
    never squashed. `fits` is False when ink still passes the box at the least letter height.

    Errors: MachineError where words cannot be shaped.
    """
    need_shaping()
    lines = text.split("\n")
    written, size = _fit(lines, font, box, asked_mm or box.height, least_letter_mm)
    block = _block(written, font)
    share = letter_share(written, font)
    if block is None:
        return Setting(runs=(), size_mm=size, letter_mm=0.0, ink=None, fits=True)
    first = _baseline(block, len(written), size, share, box)
    runs, inks = [], []
    for i, line in enumerate(written):
        ink = line_ink(line, font)
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
