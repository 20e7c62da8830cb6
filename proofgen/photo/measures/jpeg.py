"""The quality a JPEG was saved with, from the tables it carries."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

# ITU-T T.81, Annex K.1 and K.2: the tables of brightness and colour that quality 50 stands for.
_K1 = (
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55,
    14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62,
    18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92,
    49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
)  # fmt: skip
_K2 = (
    17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99,
    24, 26, 56, 99, 99, 99, 99, 99, 47, 66, 99, 99, 99, 99, 99, 99,
    *(99,) * 32,
)  # fmt: skip
_CELLS = 64

# The scaling of the Independent JPEG Group's encoder (jcparam.c): percent at qualities 1 to 100.
_QUALITY = np.arange(1, 101)
_SCALE = np.where(_QUALITY < 50, 5000 // _QUALITY, 200 - 2 * _QUALITY)[:, None]
# (100, 64) each: the tables of brightness and colour at those qualities, and the same sorted.
_TABLES = [np.clip((_SCALE * np.array(base) + 50) // 100, 1, 255) for base in (_K1, _K2)]
_STANDARD = [np.sort(table, axis=1) for table in _TABLES]


def quality_of(tables: Mapping[int, tuple[int, ...]]) -> int | None:
    """The quality, 1 to 100, whose tables are nearest; None where there is no whole table.

    `tables` as in PhotoFacts: 0 is brightness, 1 colour. Steps are compared by size, so the order
    in which a decoder lists them does not matter, and as ratios, so that tables from another maker
    are taken for those that throw away about as much. Of equals, the higher quality.
    """
    far = np.zeros(100)
    for number, standard in enumerate(_STANDARD):
        table = tables.get(number, ())
        if len(table) == _CELLS and min(table) > 0:
            steps = np.sort(np.minimum(np.array(table, dtype=np.float64), 255))
            far += np.abs(np.log(standard / steps)).mean(axis=1)
        elif number == 0:
            return None
    return 100 - int(far[::-1].argmin())


# Places (8 times the row, and the column) of the coarse waves, of which strong steps leave enough.
COARSE = (1, 8, 9, 2, 16, 10, 17, 3, 24)


def nearest_quality(steps: Mapping[int, int]) -> tuple[int, float]:
    """The quality, 1 to 100, whose steps of brightness are nearest to some that are known by their
    place, and the mean of the logs by which they differ."""
    known = _TABLES[0][:, list(steps)]
    far = np.abs(np.log(known / np.array(list(steps.values())))).mean(axis=1)
    best = int(far.argmin())
    return best + 1, float(far[best])


def coarse_quality(tables: Mapping[int, tuple[int, ...]]) -> int | None:
    """The quality by the coarse waves of brightness alone, as `quality_before` reads it from the
    pixels: tables from another maker may spare other waves. None where there is no whole table."""
    table = tables.get(0, ())
    if len(table) != _CELLS or min(table) < 1:
        return None
    return nearest_quality({place: table[place] for place in COARSE})[0]
