"""An earlier, stronger compression beneath the present one: its steps still show in the pixels.

JPEG rounds each of the 64 waves of a block to whole steps. Saved again with finer steps and on the
same grid, or kept losslessly, the waves still lie close to whole numbers of the old ones. (Fan and
de Queiroz 2003, Identification of bitmap compression history, IEEE Trans. Image Processing 12(2),
from memory.) A picture that was cut or turned off the grid, or resized, keeps no such trace.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.photo.measures.jpeg import COARSE, nearest_quality
from proofgen.photo.measures.tiles import Plane

# Codes; shorter ones drown in what later saving leaves, and long ones need not be met exactly.
_STEPS = (*range(120, 40, -3), *range(40, 5, -1))
_CLOSE = 0.6  # mean cosine about whole steps; below 0 in pictures that took none
_BEYOND = 0.3  # of a step: values closer to 0 are close to whole steps in any picture
_ENOUGH, _ASKED = 150, 400  # values beyond: at least, and of more so many
_TILES = 12
_KINDS = 4  # waves each way among which COARSE are
_FOUND = 4  # waves that must tell
_ASTRAY = 0.2  # mean of the logs by which steps may differ from those of a quality
# (8, 8): the waves of ITU-T T.81, A.3.3, coarsest first.
COSINES = np.cos(np.outer(np.arange(8), np.arange(8) + 0.5) * np.pi / 8) / 2
COSINES[0] /= np.sqrt(2)


def quality_before(tiles: Plane) -> int | None:
    """The quality, 1 to 100, of the strongest compression whose steps the pixels show; None where
    they show none. Tiles lie on the grid of 8 px, of which the picture's corner is one."""
    some, side = tiles[:_TILES], tiles.shape[1] // 8 * 8
    # Rows of blocks, then columns: (waves down, blocks, waves across).
    rows = COSINES[:_KINDS] @ some[:, :side, :side].reshape(-1, 8, side)
    waves = np.abs(rows.swapaxes(0, 1).reshape(_KINDS, -1, 8) @ COSINES[:_KINDS].T)
    found: dict[int, int] = {}
    for place in COARSE:
        down, across = divmod(place, 8)
        if step := _step(waves[down, :, across]):
            found[place] = step
    if len(found) < _FOUND:
        return None
    quality, astray = nearest_quality(found)
    return quality if astray <= _ASTRAY else None


def _step(values: NDArray[np.float64]) -> int | None:
    """The longest step of which the values are whole numbers; None for none."""
    ordered = np.sort(values)
    starts = np.searchsorted(ordered, np.multiply(_STEPS, _BEYOND))
    for step, start in zip(_STEPS, starts, strict=True):
        beyond = ordered[start:]
        few = beyond[:: max(1, len(beyond) // _ASKED)]
        if len(few) >= _ENOUGH and np.cos(few * np.float32(2 * np.pi / step)).mean() > _CLOSE:
            return step
    return None
