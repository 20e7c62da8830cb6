"""What a photo's pixels tell about its quality, and the key it is remembered by."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen.geometry import Rect
from proofgen.model.layout import PlacedPhoto
from proofgen.model.photo import PhotoFacts
from proofgen.units import pixels

# Edges are judged on a raster no finer than this: beyond it the eye sees no difference at reading
# distance (1 arc minute at 291 mm; school physics, phi = 5.8e-4 rad).
FINEST_PPI = 300.0
LIGHTNESS = (1, 5, 25, 50, 75, 95, 99)  # percent


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharpness:
    """Judged on a plane: the printed part at the raster's size, or at its own where that is
    smaller. Widths are sigmas in px of it, None where there are too few such edges."""

    width_px: int  # of the plane
    span: float = 0.0  # lightness between its dark and its light, of full scale
    inner_span: float = 0.0  # the same, away from the plane's own edge
    noise: float = 0.0  # slope of the grain in its most even parts, of full scale a px
    noise_kept: float = 0.0  # share of it left at half size: half of white noise, most of detail
    edge_px: float | None = None  # of the sharpest edges
    line_px: float | None = None  # edges and fine lines; a line reads as about half its sigma
    inner_px: float | None = None  # as edge_px, away from the plane's own edge
    across_px: float | None = None  # as edge_px, of upright edges alone
    down_px: float | None = None  # the same, of level edges alone
    diagonal_px: float | None = None  # of the two diagonal ways the broader, found at half size
    around_px: float | None = None  # as inner_px, of the photo around a part without sharp edges
    halos: float = 0.0  # share of the steps with a bright rim and a dark one
    # Where edge_px is 1 or more: the strength of the finest octave of detail, of full scale, and by
    # how many powers of two each of the next three has more than the one before.
    finest: float = 0.0
    falls: tuple[float, ...] = ()
    # Powers of two by which faint texture beside sharp edges is weaker in its fine part than in its
    # broad one; None where there is too little of it.
    smoothed: float | None = None
    # Powers of two by which fine detail is stronger along rows than along columns in nearly all
    # squares (below 0: weaker), and along the way down to the right than along the way up.
    leans: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Swings:
    """Shares of what one rule leaves unexplained that a swing of the rule explains.

    `line` is the highest off the 8 px grid of JPEG (`over` times the middle one), the last four
    those on that grid, at 1/8, 1/4, 3/8 and 1/2 cycles per px. `many` counts the lines at least
    half as high: enlarging draws one to three, blocks and weaves draw more. `comb` is how far, over
    the middle one, the lowest line stands of the best comb that an older JPEG's grid draws when it
    is made larger (1/8k cycles per px and its multiples).
    """

    line: float = 0.0
    over: float = 0.0
    many: int = 0
    comb: float = 0.0
    eighth: float = 0.0
    quarter: float = 0.0
    three_eighths: float = 0.0
    half: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Traces:
    """What enlarging leaves in a file's own pixels; shares are 0 to 1.

    `upper` and `middle` are the detail from 0.35 to 0.5 and from 0.175 to 0.25 cycles per px, as
    powers of ten over what rounding leaves: of what was made twice or four times as large, hardly
    anything. `grid` is how high the grid of an older JPEG, made larger, stands over the ground
    (natural log). `before` is the quality, 1 to 100, of the strongest JPEG
    compression whose steps the pixels still show, be it the file's own or an earlier one. `finest`
    is the share of JPEG's squares that hold any wave of more than 0.375 cycles per px.
    """

    swings: Swings
    repeats: float = 0.0  # share of rows and columns that repeat the one before
    fine: float = 0.0  # share of detail finer than a quarter cycle per px, in the finest parts
    upper: float = 9.0
    middle: float = 9.0
    grid: float = 0.0
    before: int | None = None
    finest: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tones:
    """CIE L* (0 to 100) of the printed part at the percentiles of LIGHTNESS, and shares of its
    pixels: `dark` without any light, `bright` of full white. Tints are CIE a* and b*: the mean, of
    its lightest parts and of its darkest; `strays` is how far (root mean square) colours lie from
    the mean of what is as light. `blotches` is how much colour differs (codes of 255) in its most
    even parts, and how many times as much as lightness does there."""

    lightness: tuple[float, ...]
    dark: float = 0.0
    bright: float = 0.0
    tint: tuple[float, float] = (0.0, 0.0)
    light_tint: tuple[float, float] = (0.0, 0.0)
    dark_tint: tuple[float, float] = (0.0, 0.0)
    strays: float = 0.0
    blotches: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What stands along a photo's sides: `bars` are depths at left, top, right and bottom, as
    shares of the sides; `bars_shown`: part of one lies in the printed part; `status_line`: a strip
    along the top as phones have it. `screen` is the share of squares spread over the printed part
    that show one fine grid, as a picture taken of a screen has it. `lines` are depths of thin even
    lines, as bars, at those sides that are printed. `card` is how surely (0 to 1) a rectangle
    stands near all sides, some of what lies around it being printed."""

    bars: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    bars_shown: bool = False
    status_line: bool = False
    screen: float = 0.0
    lines: tuple[float, ...] = (0.0, 0.0, 0.0, 0.0)
    card: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoMeasures:
    """Measured on the printed part of a photo. `traces` is None where not all pixels of the file
    were seen, so that they would mean nothing."""

    sharpness: Sharpness
    traces: Traces | None
    tones: Tones
    frame: Frame


@dataclass(frozen=True, slots=True)
class MeasureKey:
    """Names what is measured: the photo's pixels, its printed part (px, upright) and the raster."""

    photo: str  # PhotoFacts.pixels
    crop: tuple[float, float, float, float]
    raster: tuple[int, int]


def measure_key(photo: PhotoFacts, crop: Rect, raster: tuple[int, int]) -> MeasureKey:
    """The key of a part of a photo; to a thousandth of a pixel, so that the last digit of a float
    changes no key."""
    x, y, width, height = (round(float(v), 3) for v in (crop.x, crop.y, crop.width, crop.height))
    return MeasureKey(photo.pixels, (x, y, width, height), raster)


def key_of(placed: PlacedPhoto, ppi: float) -> MeasureKey | None:
    """The key of a placed photo on a press raster of `ppi`; None where nothing is placed."""
    if placed.crop is None or not placed.photo:
        return None
    fine = min(ppi, FINEST_PPI)
    raster = (pixels(placed.rect.width, fine), pixels(placed.rect.height, fine))
    return measure_key(placed.photo, placed.crop, raster)
