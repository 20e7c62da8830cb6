"""Lengths as a tape shows them, and what is told of one that can hardly be right."""

from __future__ import annotations

import re

from proofgen.say import number
from proofgen.units import Across, parse_across, parse_length

PLACES = 3  # of a mm: finer than any tape
# By so much, mm, the length of a cloth and the way round its can may disagree and both be measured
# well: each is read off lines a millimetre apart, to half of one at best. Common practice, no
# source. What goes round a can of a usual width that nobody measured is no nearer.
TAPE_MM = 1.0
_FILL = re.compile(r"(\d+(?:[.,]\d+)?)\s*(l|litres?|liters?|cl|ml|fl\.? ?oz|oz)\.?", re.IGNORECASE)
_ML = {"l": 1000.0, "c": 10.0, "m": 1.0, "f": 29.5735, "o": 29.5735}  # by a unit's first letter
# What a can holds, ml, and how wide such a can usually is, mm: common practice, no source. Slim
# cans of 330 and 355 ml are 58 mm across.
_CANS = {250: 53.0, 330: 66.1, 355: 66.1, 440: 66.1, 473: 66.1, 500: 66.1, 568: 66.1}
_NEAR = 2.0  # ml: 12 fl oz are 354.9
# mm; higher than any can we know (168) shows, ink further than any press sheet needs, and a side
# that hardly holds a word: common practice, no source.
_HIGH, _FAR, _SMALL = 170.0, 10.0, 20.0
_WIDE = 120.0  # mm; no can or bottle in a sleeve is so wide: common practice, no source
_SIDES = ("length", "width", "height", "diameter")


def _can_that_holds(text: str) -> float | None:
    """How wide (mm) a can is that holds so much; None for no such text, ValueError for a can that
    is not known."""
    if not (fill := _FILL.fullmatch(text)):
        return None
    held = float(fill[1].replace(",", ".")) * _ML[fill[2][0].lower()]
    for ml, across in _CANS.items():
        if abs(held - ml) <= _NEAR:
            return across
    raise ValueError(f"how wide a can of {text} is, is not known; measure it, like 66.1 mm")


def length_of(name: str, text: str) -> float:
    """A length in mm, to a thousandth; of a can also what a tape round it shows, and for what it
    holds the usual width. ValueError."""
    text = " ".join(text.split())
    if name != "vessel":
        return parse_length(text)
    if across := _can_that_holds(text):
        return across
    across = parse_across(text)
    return across if isinstance(across, Across) else round(across, PLACES)


def taken_for(name: str, text: str) -> str:
    """What is told of a can that was given by what it holds; '' for a measured one."""
    if name != "vessel" or not _FILL.fullmatch(" ".join(text.split())):
        return ""
    wide = number(length_of(name, text), PLACES)
    return (
        f"A can of {text.strip()} is usually {wide} mm across (common practice); a slim one is "
        "narrower. Measure yours before you press.\n"
    )


def doubt(kind: str, name: str, value: float) -> str:
    """The question that a strange length raises at once; '' for a common one."""
    if name == "height" and kind == "wrap" and value > _HIGH:
        return f"{number(value, PLACES)} mm is unusually tall for a can sleeve: is it right?"
    if name == "vessel" and value > _WIDE:
        return f"{number(value, PLACES)} mm across is an unusually wide can: is it right?"
    if name in _SIDES and value < _SMALL:
        return f"{number(value, PLACES)} mm is unusually small for a side of a piece: is it right?"
    if name == "bleed" and value > _FAR:
        return f"{number(value, PLACES)} mm is an unusually wide bleed: is it right?"
    return ""
