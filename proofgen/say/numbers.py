"""Numbers in a sentence: bare, counted, with their unit, rounded so that they never flatter."""

from __future__ import annotations

import math

from proofgen.units import c_to_f


def number(value: float, places: int = 1) -> str:
    """At most `places` decimals, none that say nothing: '66.1', '4'."""
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def count(value: int) -> str:
    """1867 as '1,867'."""
    return f"{value:,}"


def plural(many: int, one: str, more: str = "") -> str:
    """'1 name', '12 names'."""
    return f"{count(many)} {one if many == 1 else more or one + 's'}"


def mm(value: float) -> str:
    """'66.1 mm'."""
    return f"{number(value)} mm"


def from_to(low: float, high: float) -> str:
    """'from 57.5 to 63.8 mm'; 'of 62.9 mm' where both read alike."""
    return f"of {mm(low)}" if mm(low) == mm(high) else f"from {number(low)} to {mm(high)}"


def size(width_mm: float, height_mm: float) -> str:
    """'237 × 100 mm'; small things keep one decimal."""
    places = 0 if min(width_mm, height_mm) >= 20 else 1
    return f"{number(width_mm, places)} × {number(height_mm, places)} mm"


def at_most(value: float, places: int = 0) -> str:
    """A number rounded down, so that one under a limit never reads as the limit: 119.999, '119'."""
    scale = 10**places
    return f"{math.floor(value * scale + 1e-9) / scale:.{places}f}"


def heat(celsius: float) -> tuple[str, str]:
    """'204 °C' and '400 °F'."""
    return f"{number(celsius, 0)} °C", f"{number(c_to_f(celsius), 0)} °F"
