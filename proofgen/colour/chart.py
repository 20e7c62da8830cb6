"""The swatches a maker presses to find out how ink comes out on a cloth."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Patch:
    """One swatch: its number on the sheet, a plain name, and the colour asked for ('#rrggbb')."""

    number: int
    name: str
    colour: str


# Ours: the corners of sRGB, their dark and pale halves, greys, the colours of skin, and no ink.
_ASKED = (
    ("red", "#ff0000"),
    ("green", "#00ff00"),
    ("blue", "#0000ff"),
    ("cyan", "#00ffff"),
    ("magenta", "#ff00ff"),
    ("yellow", "#ffff00"),
    ("black", "#000000"),
    ("dark grey", "#404040"),
    ("middle grey", "#808080"),
    ("light grey", "#c0c0c0"),
    ("dark red", "#800000"),
    ("dark green", "#008000"),
    ("navy", "#000080"),
    ("teal", "#008080"),
    ("purple", "#800080"),
    ("orange", "#ff8000"),
    ("brown", "#6b3e1e"),
    ("pink", "#ff9999"),
    ("pale green", "#99ff99"),
    ("pale blue", "#9999ff"),
    ("fair skin", "#f2d3bc"),
    ("tan skin", "#d9a880"),
    ("brown skin", "#a5714e"),
    ("dark skin", "#5c3a28"),
    ("no ink", "#ffffff"),
)
CHART = tuple(Patch(i, name, colour) for i, (name, colour) in enumerate(_ASKED, 1))
