"""What the traces of enlarging in a photo's pixels add up to."""

from __future__ import annotations

import math
from dataclasses import dataclass

from proofgen.model import PhotoMeasures

_LEAST = 1e-3  # a share below this is noise


@dataclass(frozen=True, slots=True)
class Verdict:
    """`sure` for traces that no untouched photo showed, `likely` for those that few did; `factor`
    where they tell it (1.5 for half as large again), else None; `repeats` where lines repeat."""

    sure: bool = False
    likely: bool = False
    factor: float | None = None
    repeats: bool = False
    measure: float = 0.0


def enlarged(seen: PhotoMeasures) -> Verdict:
    """Whether the pixels tell that a photo was made larger before it came.

    Limits: tests/bench/calibrate_photo.py, on real photographs enlarged by 1.5, 2 and 4.
    """
    if not seen.whole:
        return Verdict()
    eighth, quarter, three, half = seen.swing_grid
    grid = (eighth + three) / 2
    strongest = max(seen.swing, quarter, three, half)
    if seen.repeats >= 0.2 and strongest >= 0.2:
        return Verdict(True, False, 1 / (1 - seen.repeats), True, seen.repeats)
    # Off the 8 px grid of JPEG: any factor but those below.
    if _off_grid(seen):
        return Verdict(sure=True, measure=seen.swing)
    # On it a line must stand over what that grid itself makes of an untouched photo.
    if half >= 0.075 and half >= 4 * max(grid, _LEAST) and half >= 3.5 * seen.swing:
        return Verdict(sure=True, factor=2.0, measure=half)
    if _quarter(seen, quarter, grid):
        # 4 and 4/3 swing alike; only four times leaves next to nothing fine.
        return Verdict(sure=True, factor=4.0 if seen.fine < 0.01 else None, measure=quarter)
    if three >= 0.05 and three >= 6 * eighth and three >= 3 * quarter:
        return Verdict(sure=True, measure=three)
    score = faint_score(seen)
    return Verdict(likely=score > 0, measure=round(score, 2))


def _off_grid(seen: PhotoMeasures) -> bool:
    clear = seen.swing >= 0.085 and seen.swing_over >= 12
    return clear or (seen.swing >= 0.05 and seen.swing_over >= 25)


def _quarter(seen: PhotoMeasures, quarter: float, grid: float) -> bool:
    over = quarter >= 5.4 * max(grid, _LEAST) and quarter >= 2 * seen.swing
    return over and (
        (quarter >= 0.035 and seen.fine < 0.1) or (quarter >= 0.02 and seen.fine < 0.003)
    )


def features(seen: PhotoMeasures) -> tuple[float, ...]:
    """What the faint score weighs, as logs: the swing of twice the size over that of JPEG's own
    grid, the highest swing off that grid over the common one, and the grid itself."""
    eighth, _, three, half = (max(one, _LEAST) for one in seen.swing_grid)
    grid = (eighth + three) / 2
    return math.log(half / grid), math.log(max(seen.swing_over, 1.0)), math.log(grid)


# Weights of `features` and their offset: logistic regression on the tuned half of the photographs,
# enlarged and then saved as JPEG of quality 90, so that one untouched picture in a hundred is
# noted; `calibrate_photo.py --fit` prints them anew.
WEIGHTS = (1.76, 2.75, 0.51)
OFFSET = -2.86


def faint_score(seen: PhotoMeasures) -> float:
    """Above 0 where traces of enlarging shine through a later JPEG compression."""
    return sum(w * f for w, f in zip(WEIGHTS, features(seen), strict=True)) + OFFSET
