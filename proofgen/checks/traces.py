"""What the traces of enlarging in a photo's pixels add up to."""

from __future__ import annotations

import math
from dataclasses import dataclass

from proofgen.model import PhotoMeasures

_LEAST = 1e-3  # a share below this is noise


@dataclass(frozen=True, slots=True)
class Verdict:
    """`kind` is 'repeated', 'enlarged' or 'resized' (made larger or smaller, which of them cannot
    be told) for traces that no untouched photo showed, 'faint' for those that few did, or ''.
    `factor` where the traces tell it (1.5 for half as large again); `measure` is the trace's."""

    kind: str = ""
    measure: float = 0.0
    factor: float | None = None


def enlarged(seen: PhotoMeasures) -> Verdict:
    """What the pixels tell of a photo's having been made larger before it came.

    Limits: tests/bench/calibrate_photo.py, on real photographs enlarged by 1.5, 2 and 4.
    """
    if not seen.whole:
        return Verdict()
    for rule in (_repeated, _off_grid, _twice, _quarter, _three_eighths, _resized):
        if found := rule(seen):
            return found
    if not _few(seen) and seen.swing >= 0.1:
        return Verdict()  # too many strong lines for a resized photo
    score = faint_score(seen)
    return Verdict("faint", round(score, 2)) if score > 0 else Verdict()


def _repeated(seen: PhotoMeasures) -> Verdict | None:
    """Lines that are the one before again, with a rhythm other than that of JPEG's grid."""
    strongest = max(seen.swing, *seen.swing_grid[1:])
    if seen.repeats >= 0.2 and strongest >= max(0.2, 2.5 * seen.swing_grid[0]):
        return Verdict("repeated", seen.repeats, 1 / (1 - seen.repeats))
    return None


def _off_grid(seen: PhotoMeasures) -> Verdict | None:
    """Any factor whose swing lies off the 8 px grid of JPEG. A picture made smaller swings less,
    and an older grid in it grows narrower, not wider."""
    strong = seen.swing >= 0.1 and seen.swing_over >= 12
    wider = seen.swing >= 0.025 and seen.swing_over >= 7 and seen.swing_comb >= 2.2
    return Verdict("enlarged", seen.swing) if _few(seen) and (strong or wider) else None


def _twice(seen: PhotoMeasures) -> Verdict | None:
    """On that grid a line must stand over what the grid itself makes of an untouched photo."""
    half = seen.swing_grid[3]
    if half >= 0.075 and half >= 4 * _grid(seen) and half >= 3.5 * seen.swing:
        return Verdict("enlarged", half, 2.0)
    return None


def _quarter(seen: PhotoMeasures) -> Verdict | None:
    """Four times, or 4/3: they swing alike, and only four times leaves next to nothing fine."""
    quarter = seen.swing_grid[1]
    if quarter >= 5.4 * _grid(seen) and quarter >= 2 * seen.swing:
        strong = quarter >= 0.035 and seen.fine < 0.1
        if strong or (quarter >= 0.02 and seen.fine < 0.003):
            return Verdict("enlarged", quarter, 4.0 if seen.fine < 0.01 else None)
    return None


def _three_eighths(seen: PhotoMeasures) -> Verdict | None:
    """8/5 or 8/3."""
    eighth, quarter, three, _ = seen.swing_grid
    if three >= 0.05 and three >= 6 * eighth and three >= 3 * quarter:
        return Verdict("enlarged", three)
    return None


def _resized(seen: PhotoMeasures) -> Verdict | None:
    if _few(seen) and seen.swing >= 0.025 and seen.swing_over >= 9:
        return Verdict("resized", seen.swing)
    return None


def _few(seen: PhotoMeasures) -> bool:
    """Whether the lines are as few as resizing draws; blocks and weaves draw many."""
    return seen.swing_many <= 3


def _grid(seen: PhotoMeasures) -> float:
    """How strongly the 8 px grid of JPEG itself swings."""
    return max((seen.swing_grid[0] + seen.swing_grid[2]) / 2, _LEAST)


def features(seen: PhotoMeasures) -> tuple[float, ...]:
    """What the faint score weighs, as logs: the swing of twice the size over that of JPEG's own
    grid, and the highest swing off that grid over the middle one."""
    half = max(seen.swing_grid[3], _LEAST)
    return math.log(half / _grid(seen)), math.log(max(seen.swing_over, 1.0))


# Weights of `features` and their offset: logistic regression on the tuned half of the photographs,
# enlarged and then saved as JPEG of quality 90, so that one picture in a hundred is noted that was
# not; `calibrate_photo.py --fit` prints them anew.
WEIGHTS = (1.19, 3.71)
OFFSET = -5.26


def faint_score(seen: PhotoMeasures) -> float:
    """Above 0 where traces of enlarging shine through a later JPEG compression."""
    return sum(w * f for w, f in zip(WEIGHTS, features(seen), strict=True)) + OFFSET
