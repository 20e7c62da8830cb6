"""How wide words are in the sheets' type, so that they keep to their strips."""

from __future__ import annotations

import functools

from PIL import ImageFont

from proofgen.render.fonts import find_font

# The type the theme's press.css names "Press".
_FAMILY = {400: "Manrope", 700: "Manrope Bold"}
_MEASURED_AT = 100
# From the top of a line as high as its type to the baseline, as a share of the size: Manrope's
# ascent 1.066 and descent 0.3 of its em (its hhea table), centred on a line of 1.
BASELINE = 0.5 - (1.066 + 0.3) / 2 + 1.066
# Mean width of a letter as a share of its size, where the type is not installed. Ours, generous.
_WIDE = 0.6


@functools.cache
def _font(weight: int) -> ImageFont.FreeTypeFont | None:
    file = find_font(_FAMILY[weight])
    if file is None:
        return None
    # Basic layout: no shaping library is needed to measure, and none can change the answer.
    return ImageFont.truetype(str(file), _MEASURED_AT, layout_engine=ImageFont.Layout.BASIC)


def width(text: str, size_mm: float, weight: int = 400) -> float:
    """Width of a line of text in mm, in type of `size_mm`."""
    return _ems(text, weight) * size_mm


@functools.lru_cache(maxsize=8192)  # sheets are tried in many ways, with the same words
def _ems(text: str, weight: int) -> float:
    font = _font(weight)
    return font.getlength(text) / _MEASURED_AT if font else len(text) * _WIDE


def wrap(text: str, size_mm: float, room_mm: float, weight: int = 400) -> list[str]:
    """Words set as lines no wider than `room_mm` (a single word may be)."""
    lines: list[str] = []
    for word in text.split():
        if lines and width(f"{lines[-1]} {word}", size_mm, weight) <= room_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def shorten(text: str, size_mm: float, room_mm: float) -> str:
    """The text, cut with an ellipsis to what fits `room_mm`; '' when nothing does."""
    if width(text, size_mm) <= room_mm:
        return text
    for end in range(len(text) - 1, 0, -1):
        cut = text[:end].rstrip() + "…"
        if width(cut, size_mm) <= room_mm:
            return cut
    return ""
