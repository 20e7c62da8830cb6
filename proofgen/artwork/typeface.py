"""A font opened for a run: which letters it has, and the ink its lines make.

Ink is measured on one large drawing (REFERENCE pixels to the type size) and scaled, so that its
place does not depend on the resolution it is later drawn at.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageFont, features

from proofgen.errors import MachineError
from proofgen.render.systems import line_for
from proofgen.store import Recent, file_digest

# Hinting rounds each advance to a whole pixel; at 512 that is 0.01 mm a letter in 9 mm type.
REFERENCE = 512
_LONG = 80  # letters; longer lines are measured on a smaller drawing to keep memory small
_MASKS = 8  # a line's mask has some megabytes


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


def need_shaping() -> None:
    """Refuse to draw words where joined scripts would come out in pieces.

    Errors: MachineError with the line to type.
    """
    if features.check("raqm"):
        return
    raise MachineError(
        "words cannot be drawn here: the part that joins letters and writes from right to left "
        "(Raqm with FriBidi) is not installed",
        line_for("fribidi"),
    )


def _draws_nothing(char: str) -> bool:
    # Spaces, joiners and direction marks, line breaks, variation selectors (FE00.., E0100..).
    if unicodedata.category(char) in ("Zs", "Zl", "Zp", "Cf", "Cc"):
        return True
    return 0xFE00 <= ord(char) <= 0xFE0F or 0xE0100 <= ord(char) <= 0xE01EF


class Typeface:
    """One font file. What is measured of its lines is kept while the run lasts: the names of a
    list share a design's other words, and each is drawn on several panels."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._inks: dict[str, LineInk | None] = {}
        self._masks: Recent[tuple[Image.Image, LineInk] | None] = Recent(_MASKS)

    @cached_property
    def sha256(self) -> str:
        return file_digest(self.file)

    @cached_property
    def letters(self) -> frozenset[int]:
        """The code points it can draw."""
        with TTFont(self.file, lazy=True) as opened:
            return frozenset(opened.getBestCmap() or ())

    def missing(self, text: str) -> str:
        """The characters of `text` it cannot draw, once each, in the order they come.

        A letter with its mark counts as present if the font has both apart: shaping joins them.
        """
        missing = []
        for char in unicodedata.normalize("NFC", text):
            if ord(char) in self.letters or _draws_nothing(char):
                continue
            parts = unicodedata.normalize("NFD", char)
            if len(parts) > 1 and all(ord(part) in self.letters for part in parts):
                continue
            missing.append(char)
        return "".join(dict.fromkeys(missing))

    def draws_a_box_for(self, missing: str) -> bool:
        """Whether ink stands where it lacks a letter: some fonts draw an empty box, some nothing.
        All that is missing is drawn alike, with the font's first glyph."""
        return bool(missing) and self.ink(missing[0]) is not None

    def sized(self, pixels: int) -> ImageFont.FreeTypeFont:
        """The font at so many pixels to the type size. Errors: as `need_shaping`."""
        need_shaping()
        return ImageFont.truetype(str(self.file), pixels, layout_engine=ImageFont.Layout.RAQM)

    def ink(self, text: str) -> LineInk | None:
        """The ink of one line in shares of the type size; None for a line without ink."""
        if text not in self._inks:
            self._inks[text] = self._measured(text)
        return self._inks[text]

    def _measured(self, text: str) -> LineInk | None:
        if not text.strip():
            return None
        pixels = _reference(text)
        drawn = self._drawn(text, pixels)
        if drawn is None:
            return None
        mask, (x, y) = drawn
        return LineInk(
            x / pixels, y / pixels, (x + mask.width) / pixels, (y + mask.height) / pixels
        )

    def mask(self, text: str, least: float) -> tuple[Image.Image, LineInk] | None:
        """A line's mask with at least `least` pixels to the type size, and where its ink lies."""
        pixels = _reference(text)
        while pixels < least:
            pixels *= 2
        return self._masks.remember((text, pixels), lambda: self._mask(text, pixels))

    def _mask(self, text: str, pixels: int) -> tuple[Image.Image, LineInk] | None:
        ink = self.ink(text)
        drawn = self._drawn(text, pixels) if ink else None
        return (drawn[0], ink) if drawn and ink else None

    def _drawn(self, text: str, pixels: int) -> tuple[Image.Image, tuple[int, int]] | None:
        """A line's mask cut to its ink, and where its corner lies from the baseline's start."""
        face = self.sized(pixels)
        left, top, right, bottom = face.getbbox(text, anchor="ls")
        edge = pixels // 4  # marks can reach past the box that is given
        origin = (edge - int(left), edge - int(top))
        size = (int(right - left) + 2 * edge, int(bottom - top) + 2 * edge)
        mask = Image.new("L", size, 0)
        ImageDraw.Draw(mask).text(origin, text, fill=255, font=face, anchor="ls")
        box = mask.getbbox()
        if box is None:
            return None
        return mask.crop(box), (box[0] - origin[0], box[1] - origin[1])


def _reference(text: str) -> int:
    return REFERENCE if len(text) <= _LONG else max(48, REFERENCE * _LONG // len(text))
