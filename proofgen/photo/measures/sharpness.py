"""How sharp a picture is: by the finest of three sizes at which its edges stand clear of grain."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Sharpness
from proofgen.photo.measures.edges import WAYS, Edges, edges_of, halved

_SIZES = 3  # the picture, its half and its quarter
_LEAST = 32  # px of a side that can be judged
_CLEAR = 10.0  # times the slope of the noise: an edge less steep is made steeper by it
_DOUBTFUL = 5.0  # the same where nothing is that clear; only from half size on
# Share of the noise left at half size: half of white noise, two thirds of the grain of film. Where
# more is left, it is detail of the picture, and hides nothing.
_GRAIN_KEPT = 0.75
_COARSE = 0.7  # px of a half or quarter size: sharper than this is as sharp as it can tell
_BAND = 0.16  # of the sides: where dates, frames and captions stand
# A way that edges run is told by so many squares, at half and at quarter size.
_TOLD = (5, 3)


def sharpness_of(grey: NDArray[np.floating]) -> Sharpness:
    """Of a grey plane (0 to 1)."""
    high, wide = grey.shape
    if min(high, wide) < _LEAST:
        return Sharpness(width_px=wide)
    dark, light = np.percentile(grey[::4, ::4], (1, 99))
    sizes: list[Edges] = []
    plane = np.asarray(grey, dtype=np.float32)
    while len(sizes) < _SIZES and min(plane.shape) >= _LEAST:
        sizes.append(edges_of(plane, 2 if not sizes else len(WAYS)))
        plane = halved(plane)
    whole = sizes[0]
    kept = round(sizes[1].noise / whole.noise, 3) if whole.noise and sizes[1:] else 0.0
    if kept > _GRAIN_KEPT:
        sizes = [replace(edges, noise=0.0) for edges in sizes]
    edge, size = _finest(sizes)
    inner, _ = _finest(sizes, _BAND)
    narrow, broad = _shaken(sizes)
    return Sharpness(
        width_px=wide,
        span=round(float(light - dark), 4),
        noise=round(whole.noise, 5),
        noise_kept=kept,
        edge_px=edge,
        size=size,
        half_px=_times(sizes[1].squares(_CLEAR).sharpest(), 2) if sizes[1:] else None,
        across_px=sizes[0].squares(_CLEAR, (1,)).sharpest(),
        down_px=sizes[0].squares(_CLEAR, (0,)).sharpest(),
        line_px=sizes[0].squares(_CLEAR, lines=True).sharpest(),
        inner_px=inner,
        narrow_px=narrow,
        broad_px=broad,
    )


def _times(width: float | None, factor: int) -> float | None:
    return None if width is None else round(width * factor, 3)


def _finest(sizes: list[Edges], band: float = 0.0) -> tuple[float | None, int]:
    """The width of the sharpest edges in px of the picture, farther than `band` from its edge, and
    how many times smaller the picture was at which they were found; None, 0 if nowhere."""
    for over, first in ((_CLEAR, 0), (_DOUBTFUL, 1)):
        for number, edges in enumerate(sizes[first:], first):
            width = edges.squares(over).inside(edges.shape, band).sharpest()
            if width is not None and number and width < _COARSE:
                return 0.0, 2**number
            if width is not None:
                return _times(width, 2**number), 2**number
    return None, 0


def _shaken(sizes: list[Edges]) -> tuple[float | None, float | None]:
    """Of two ways that edges run, across each other, the narrow and the broad (px of the picture);
    those that differ most. Measured at half size, or at a quarter where there are too few."""
    widths: list[float | None] = []
    for way in range(len(WAYS)):
        found = [
            _times(edges.squares(_CLEAR, (way,)).sharpest(least), 2 ** (number + 1))
            for number, (edges, least) in enumerate(zip(sizes[1:], _TOLD, strict=False))
        ]
        widths.append(next((width for width in found if width is not None), None))
    pairs = [
        (min(one, other), max(one, other))
        for one, other in (widths[:2], widths[2:])
        if one is not None and other is not None
    ]
    return max(pairs, key=lambda pair: pair[1] - pair[0], default=(None, None))
