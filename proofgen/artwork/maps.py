"""Maps of a picture in a grid of cells, remembered by the picture's content."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from proofgen.model import PhotoFacts
from proofgen.store import Store

GRID = 48  # cells each way

Map = NDArray[np.float64]


def remember_map(
    store: Store, kind: str, facts: PhotoFacts, make: Callable[[PhotoFacts], Map]
) -> Map:
    """The (48, 48) map that `make` draws of a picture. Errors: what `make` raises."""

    def load(content: bytes) -> Map:
        return np.frombuffer(content, dtype="<f8").reshape(GRID, GRID)

    def dump(cells: Map) -> bytes:
        return cells.astype("<f8").tobytes()

    return store.remember(kind, facts.sha256, lambda: make(facts), load, dump)
