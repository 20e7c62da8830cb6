"""What a photo's pixels tell about its quality, and the key it is remembered by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any

from proofgen.geometry import Rect
from proofgen.model.layout import Placed
from proofgen.units import pixels

# Edges are judged on a raster no finer than this: beyond it the eye sees no difference at reading
# distance (1 arc minute at 291 mm; school physics, phi = 5.8e-4 rad).
FINEST_PPI = 300.0
LIGHTNESS = (1, 5, 25, 50, 75, 95, 99)  # percent


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoMeasures:
    """Measured on the printed part of a photo.

    `width_px`, `height_px`: the plane on which sharpness was judged: the printed part at the
    raster's size, or at its own where that is smaller. Shares are 0 to 1, lightness is CIE L*
    (0 to 100) at the percentiles of LIGHTNESS.
    """

    width_px: int
    height_px: int
    blur: float  # blur effect of the whole plane, 0 sharp to 1 (Crete et al. 2007)
    edge_px: float | None = None  # sigma of the sharpest edges, px of the plane; None: too few
    edge_across_px: float | None = None  # the same, of upright edges alone
    edge_down_px: float | None = None  # the same, of level edges alone
    line_px: float | None = None  # edges and fine lines; a line reads as about half its sigma
    whole: bool = True  # all pixels of the file were seen, so that the traces below mean something
    # Shares of what one rule leaves unexplained that a swing of the rule explains: the highest off
    # the 8 px grid of JPEG, its place (cycles per px), how many times the middle one it is, how
    # many are at least half as high, how far the comb of an enlarged older grid stands over the
    # middle one; and those on that grid, at 1/8, 1/4, 3/8 and 1/2 cycles per px.
    swing: float = 0.0
    swing_at: float = 0.0
    swing_over: float = 0.0
    swing_many: int = 0
    swing_comb: float = 0.0
    swing_grid: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    peak: float = 0.0  # height of the resampling peak over the median of its spectrum
    peak_at: float = 0.0  # its place, cycles per px
    repeats: float = 0.0  # share of rows and columns that repeat the one before
    fine: float = 0.0  # share of detail finer than a quarter cycle per px, in the finest parts
    lightness: tuple[float, ...] = ()
    dark: float = 0.0  # share of pixels without any light
    bright: float = 0.0  # share of pixels of full white
    strong: float = 0.0  # share of pixels with one colour at its end and not all three
    bars: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)  # left, top, right, bottom
    bars_shown: bool = False  # part of a bar lies in the printed part
    status_line: bool = False  # a strip along the top as phones have it

    def as_json(self) -> dict[str, Any]:
        """Plain values, for the store."""
        return asdict(self)


def measures_from(kept: Any) -> PhotoMeasures | None:
    """The measures from what `as_json` gave, None where that is not it."""
    names = {f.name for f in fields(PhotoMeasures)}
    if not isinstance(kept, Mapping) or set(kept) != names:
        return None
    plain: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in kept.items()}
    return PhotoMeasures(**plain)


@dataclass(frozen=True, slots=True)
class MeasureKey:
    """Names what is measured: the photo's bytes, its printed part (px, upright) and the raster."""

    sha256: str
    crop: tuple[float, float, float, float]
    raster: tuple[int, int]


def measure_key(sha256: str, crop: Rect, raster: tuple[int, int]) -> MeasureKey:
    """The key of a part of a photo; to a thousandth of a pixel, so that the last digit of a float
    changes no key."""
    x, y, width, height = (round(float(v), 3) for v in (crop.x, crop.y, crop.width, crop.height))
    return MeasureKey(sha256, (x, y, width, height), raster)


def key_of(placed: Placed, ppi: float) -> MeasureKey | None:
    """The key of a placed photo on a press raster of `ppi`; None where nothing is placed."""
    if placed.crop is None or not placed.sha256:
        return None
    fine = min(ppi, FINEST_PPI)
    raster = (pixels(placed.rect.width, fine), pixels(placed.rect.height, fine))
    return measure_key(placed.sha256, placed.crop, raster)
