"""A colour in plain words, as a customer would say it: 'dark blue', 'pale orange', 'cream'."""

from __future__ import annotations

import math

from proofgen.colour.spaces import hex_to_rgb8, lab_of

# Hue angles of CIE Lab at which one name gives way to the next; drawn by eye around the pure
# colours of sRGB (red 40, yellow 103, green 136, cyan 196, blue 306, magenta 328). No source.
_HUES = (
    (18, "pink"),
    (52, "red"),
    (80, "orange"),
    (112, "yellow"),
    (170, "green"),
    (225, "teal"),
    (309, "blue"),
    (333, "purple"),
    (360, "pink"),
)
_GREY = 7.0  # chroma below which nobody names a hue
_SOFT, _STRONG = 26.0, 60.0  # chroma of what is still greyish, and of what is never pale


def plain_name(colour: str) -> str:
    """The everyday name of '#rrggbb': an English noun, perhaps with dark, pale or greyish before
    it. ValueError for a bad colour."""
    lab = lab_of(hex_to_rgb8(colour))
    light, a, b = (float(v) for v in lab)
    chroma, hue = math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360
    if light < 9 or (light < 16 and chroma < 2 * _GREY):
        return "black"
    if chroma < _GREY:
        return _grey(light, chroma)
    noun = _noun(next(name for end, name in _HUES if hue <= end), light, chroma)
    if noun in ("cream", "sand", "olive"):
        return noun
    if light < 36 and chroma < 80:
        return f"dark {noun}"
    if light > 74 and chroma < _STRONG and noun != "pink":
        return f"pale {noun}"
    return f"greyish {noun}" if chroma < 0.7 * _SOFT and noun != "brown" else noun


def _noun(hue: str, light: float, chroma: float) -> str:
    """The name of a hue at a lightness: dark orange is brown, pale red is pink."""
    warm = hue in ("orange", "yellow")
    if (warm or hue == "red") and light > 84 and chroma < _SOFT:
        return "cream"
    if warm and light > 60 and chroma < 1.6 * _SOFT:
        return "sand"
    if (hue == "orange" and light < 58) or (hue == "red" and light < 50 and chroma < 40):
        return "brown"
    if hue == "yellow" and light < 65:
        return "brown" if light < 40 else "olive"
    if hue == "red" and light > 68:
        return "pink"
    if hue == "pink" and light < 45:
        return "purple"
    return hue


def _grey(light: float, chroma: float) -> str:
    if light > 96 and chroma < 4:
        return "white"
    if light > 88:
        return "off-white"
    return "dark grey" if light < 38 else "pale grey" if light > 72 else "grey"
