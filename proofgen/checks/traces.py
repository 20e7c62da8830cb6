"""What the traces of enlarging in a photo's pixels add up to."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from proofgen.model import Swings, Traces

_LEAST = 1e-3  # a share below this is noise
# How high an older JPEG's grid stands: for a note, and what no untouched photo shows. A photo made
# smaller and compressed again reaches 1.5, one of HEIC as JPEG of 95 1.8, as PNG 2.5.
_OLD_GRID, _HIGH_GRID, _SURE_GRID = 1.8, 2.1, 2.8
# Powers of ten over rounding of detail that four times leaves; the emptiest good print holds 1.07.
_HOLLOW = 1.0
# Of a JPEG that was saved finely: so little of that detail, and so much less than of what is twice
# as broad. Two of 831 good prints are as empty.
_FINE_JPEG, _EMPTY, _FALL = 95, 1.1, 1.2
_BARE = 0.0005  # of JPEG's squares; three of 280 good photographs lie below
# A soft photo saved at 70 has none either. Made larger, it holds as little an octave below, or an
# older JPEG's grid shines through so much at least.
_BARE_BELOW, _SOME_GRID = 1.8, 0.4


@dataclass(frozen=True, slots=True)
class Enlarging:
    """`kind` is 'repeated', 'enlarged', 'resized' (made larger or smaller, which of them cannot be
    told) or 'smaller' (the same, full of fine detail) for traces that no untouched photo showed,
    'faint' for those that few did, or ''.
    `factor` where the traces tell it (1.5 for half as large again); `measure` is the trace's."""

    kind: Literal["", "repeated", "enlarged", "resized", "smaller", "faint"] = ""
    measure: float = 0.0
    factor: float | None = None


def enlarging(
    seen: Traces | None,
    *,
    own_blocks: bool = False,
    compressed: bool = False,
    alike: bool = False,
    quality: int | None = None,
) -> Enlarging:
    """What the pixels tell of a photo's having been made larger before it came; nothing where they
    were not all seen. `own_blocks`: its file works in squares of its own, which look like JPEG's
    made larger. `compressed`: after whatever was done to it; `quality`: of a JPEG. `alike`: its
    detail falls alike from octave to octave, so that what is empty says nothing.

    Limits: tests/bench/calibrate_photo.py, on real photographs enlarged by 1.5, 2 and 4.
    """
    if seen is None:
        return Enlarging()
    if own_blocks:
        seen = replace(seen, grid=0.0, finest=1.0)
    full = not _emptied(seen)
    for rule in (_repeated, _older_jpeg, _off_grid, _twice, _quarter, _three_eighths, _resized):
        found = rule(seen)
        if found and full and rule in _EITHER:
            found = None if compressed else replace(found, kind="smaller")
        if found:
            return found
    if seen.grid >= _OLD_GRID:
        return Enlarging("faint", seen.grid)
    if not alike and (empty := _empty(seen, compressed, quality or 0)):
        return empty
    if compressed and full:
        return Enlarging()
    if not _few(seen.swings) and seen.swings.line >= 0.1:
        return Enlarging()  # too many strong lines for a resized photo
    score = _faint_score(seen.swings)
    return Enlarging("faint", round(score, 2)) if score > 0 else Enlarging()


def _empty(seen: Traces, compressed: bool, quality: int) -> Enlarging | None:
    """By what is missing alone."""
    if seen.swings.over and seen.middle < _HOLLOW:  # of four tiles or more
        return Enlarging("faint", round(_HOLLOW - seen.middle, 3), 4.0)
    below = seen.middle < _BARE_BELOW or seen.grid >= _SOME_GRID
    if compressed and seen.swings.over and seen.finest < _BARE and below:
        return Enlarging("faint", round(_BARE - seen.finest, 6))
    if quality >= _FINE_JPEG and seen.upper < min(_EMPTY, seen.middle - _FALL):
        return Enlarging("faint", round(_EMPTY - seen.upper, 3))
    return None


def _emptied(seen: Traces) -> bool:
    """Whether the finest detail is as weak as enlarging leaves it, or the swing as strong as hardly
    anything else makes it: pictures that web sites make smaller swing, too, and are full of it."""
    hollow = seen.upper < 1.5 or seen.middle - seen.upper >= 1.1
    return hollow or seen.swings.line >= 0.2


def _repeated(seen: Traces) -> Enlarging | None:
    """Lines that are the one before again, with a rhythm other than that of JPEG's grid."""
    swings = seen.swings
    strongest = max(swings.line, swings.quarter, swings.three_eighths, swings.half)
    if seen.repeats >= 0.2 and strongest >= max(0.2, 2.5 * swings.eighth):
        return Enlarging("repeated", seen.repeats, 1 / (1 - seen.repeats))
    return None


def _older_jpeg(seen: Traces) -> Enlarging | None:
    """The squares of HEIC, kept as PNG or in a fine JPEG, are twice as large, too: they stand less
    high, or on a photo that has detail."""
    sure = seen.grid >= _SURE_GRID or (seen.grid >= _HIGH_GRID and seen.upper < 1)
    return Enlarging("enlarged", seen.grid) if sure else None


def _off_grid(seen: Traces) -> Enlarging | None:
    """Any factor whose swing lies off the 8 px grid of JPEG. A picture made smaller swings less,
    and an older grid in it grows narrower, not wider."""
    swings = seen.swings
    strong = swings.line >= 0.1 and swings.over >= 12
    wider = swings.line >= 0.025 and swings.over >= 7 and swings.comb >= 2.2
    return Enlarging("enlarged", swings.line) if _few(swings) and (strong or wider) else None


def _twice(seen: Traces) -> Enlarging | None:
    """On that grid a line must stand over what the grid itself makes of an untouched photo."""
    swings, half = seen.swings, seen.swings.half
    strong = half >= 0.075 and half >= 4 * _grid(swings) and half >= 3.5 * swings.line
    # A filter that cuts well swings little, and leaves next to nothing beyond the old detail.
    weak = half >= 0.03 and half >= 8 * _grid(swings) and half >= 5 * swings.line
    return Enlarging("enlarged", half, 2.0) if strong or (weak and seen.upper < 0.7) else None


def _quarter(seen: Traces) -> Enlarging | None:
    """Four times, or 4/3: they swing alike, and only four times leaves next to nothing fine."""
    quarter, grid = seen.swings.quarter, _grid(seen.swings)
    little = seen.middle < 1.15 and seen.upper < 0.5
    if little and quarter >= max(0.01, 2.3 * grid, 1.2 * seen.swings.line):
        return Enlarging("enlarged", quarter, 4.0)
    if quarter >= max(0.035, 5.4 * grid, 2 * seen.swings.line) and seen.fine < 0.1:
        return Enlarging("enlarged", quarter, 4.0 if seen.fine < 0.01 else None)
    return None


def _three_eighths(seen: Traces) -> Enlarging | None:
    """8/5 or 8/3."""
    swings, three = seen.swings, seen.swings.three_eighths
    if three >= 0.05 and three >= 6 * swings.eighth and three >= 3 * swings.quarter:
        return Enlarging("enlarged", three)
    return None


def _resized(seen: Traces) -> Enlarging | None:
    swings = seen.swings
    if _few(swings) and swings.line >= 0.025 and swings.over >= 9:
        return Enlarging("resized", swings.line)
    return None


# What they tell by, pictures made smaller may show as well.
_EITHER = (_off_grid, _three_eighths, _resized)


def _few(swings: Swings) -> bool:
    """Whether the lines are as few as resizing draws; blocks and weaves draw many."""
    return swings.many <= 3


def _grid(swings: Swings) -> float:
    """How strongly the 8 px grid of JPEG itself swings."""
    return max((swings.eighth + swings.three_eighths) / 2, _LEAST)


def features(swings: Swings) -> tuple[float, ...]:
    """What the faint score weighs, as logs: the swing of twice the size over that of JPEG's own
    grid, and the highest swing off that grid over the middle one."""
    half = max(swings.half, _LEAST)
    return math.log(half / _grid(swings)), math.log(max(swings.over, 1.0))


# Weights of `features` and their offset: logistic regression on the tuned half of the photographs,
# enlarged and then saved as JPEG of quality 90, so that one picture in a hundred is noted that was
# not; `calibrate_photo.py --fit` prints them anew. The offset lies half a point beyond that.
_WEIGHTS = (1.19, 3.71)
_OFFSET = -5.8


def _faint_score(swings: Swings) -> float:
    """Above 0 where traces of enlarging shine through a later JPEG compression."""
    return sum(w * f for w, f in zip(_WEIGHTS, features(swings), strict=True)) + _OFFSET
