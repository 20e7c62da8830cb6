"""How far a small error of a tape, or another can of the same kind, moves a wrap; mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

# CMI Voluntary Can and End Dimension Reference Manual: a 211 body is 2.602 +/- 0.007 in across.
CAN_PLAY = 0.007 * 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """By how much (mm, signed) way round, overlap and the middle of the front move."""

    way_round: float
    overlap: float
    front_centre: float


def wrap_shift(on_top: str, *, diameter: float = 0.0, thickness: float = 0.0) -> Shift:
    """What a wrap does when its can is `diameter` mm wider and its cloth `thickness` mm thicker.

    Way round is pi (D + t) and the finished length L stays, so the overlap L - C loses what the
    way round gains. The middle of the front lies C/2 from the end of the cloth that is covered
    (left on top: at C/2; right on top: at L - C/2), so it moves by half of that.
    """
    way = math.pi * (diameter + thickness)
    return Shift(
        way_round=way, overlap=-way, front_centre=-way / 2 if on_top == "right" else way / 2
    )


def cans_that_fit(
    length: float, thickness: float, shortest: float, widest: float
) -> tuple[float, float]:
    """Least and greatest diameter (mm) of the cans a wrap of finished `length` closes round.

    `shortest` and `widest` are the overlaps allowed. A bound below 0 means that there is none.
    """
    return (length - widest) / math.pi - thickness, (length - shortest) / math.pi - thickness


def rounded_up(value: float, places: int = 1) -> float:
    """`value` to so many decimals, never below it: for “at least” in a sentence."""
    scale = 10.0**places
    return math.ceil(round(value * scale, 6)) / scale


def rounded_down(value: float, places: int = 1) -> float:
    """`value` to so many decimals, never above it: for “at most” in a sentence."""
    scale = 10.0**places
    return math.floor(round(value * scale, 6)) / scale
