"""How sharp a picture is: how wide the sharpest edges are, of all and of each way they run."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from proofgen.model import Sharpness
from proofgen.photo.measures.edges import edges_of, halved
from proofgen.photo.measures.halos import halos_of
from proofgen.photo.measures.leaning import leaning_of
from proofgen.photo.measures.textures import falls_of, smoothed

_LEAST = 32  # px of a side that can be judged
_EDGES = 10  # in a square
_OF_A_WAY = 6  # the same, of edges that run one way
# Share of the noise left at half size: half of white noise, two thirds of the grain of film. What
# more is left there is detail of the picture.
_GRAIN_KEPT = 0.75
_SOFT = 1.0  # px: of a picture whose sharpest edges are as broad the octaves are asked
_BAND = 0.16  # of the sides: where dates, frames and captions stand


def sharpness_of(grey: NDArray[np.floating]) -> Sharpness:
    """Of a grey plane (0 to 1)."""
    high, wide = grey.shape
    if min(high, wide) < _LEAST:
        return Sharpness(width_px=wide)
    plane = np.asarray(grey, dtype=np.float32)
    whole = edges_of(plane, (0, 1))
    kept, diagonal = 0.0, None
    if min(high, wide) >= 2 * _LEAST:
        half = edges_of(halved(plane), (2, 3))
        kept = round(half.noise / whole.noise, 3) if whole.noise else 0.0
        half = replace(half, noise=min(half.noise, _GRAIN_KEPT * whole.noise))
        ways = [half.sharpest(_OF_A_WAY, way) for way in (2, 3)]
        diagonal = None if None in ways else round(2 * max(way for way in ways if way), 3)
    rows, columns = int(_BAND * high), int(_BAND * wide)
    edge = whole.sharpest(_EDGES)
    finest, falls = falls_of(plane) if edge is None or edge >= _SOFT else (0.0, ())
    return Sharpness(
        width_px=wide,
        span=_span(grey),
        inner_span=_span(grey[rows : high - rows, columns : wide - columns]),
        noise=round(whole.noise, 5),
        noise_kept=kept,
        edge_px=edge,
        line_px=whole.sharpest(_EDGES, lines=True),
        inner_px=whole.sharpest(_EDGES, band=_BAND),
        across_px=whole.sharpest(_OF_A_WAY, 1),
        down_px=whole.sharpest(_OF_A_WAY, 0),
        diagonal_px=diagonal,
        halos=halos_of(plane),
        finest=finest,
        falls=falls,
        smoothed=smoothed(plane, whole),
        leans=leaning_of(plane),
    )


def around_of(grey: NDArray[np.floating]) -> float | None:
    """Width (px) of the sharpest edges away from a plane's sides; None where there are none."""
    if min(grey.shape) < _LEAST:
        return None
    return edges_of(np.asarray(grey, dtype=np.float32), (0, 1)).sharpest(_EDGES, band=_BAND)


def _span(grey: NDArray[np.floating]) -> float:
    """From the darkest hundredth to the lightest, to a code: counting takes a tenth of sorting."""
    codes = np.rint(grey[::4, ::4] * np.float32(255)).astype(np.uint8).ravel()
    upto = np.cumsum(np.bincount(codes, minlength=256))
    places = np.array((0.01, 0.99)) * (len(codes) - 1)
    low, high = (np.searchsorted(upto, way(places), side="right") for way in (np.floor, np.ceil))
    dark, light = low + (places % 1) * (high - low)
    return round(float(light - dark) / 255, 4)
