"""Checks of pixels per inch against the shop's limits, and what would mend a shortfall."""

from __future__ import annotations

import math

from proofgen.checks.frame import Remarks, check, skipped, stop, warn
from proofgen.checks.subjects import LaidLayer, PrintedPhoto, layers, printed_photos
from proofgen.model import Limits, Placed, PlacedArt, PlacedPattern
from proofgen.model.limits import PRACTICE
from proofgen.say import at_most, count, number, size
from proofgen.units import pixels


def needed(width_mm: float, height_mm: float, zoom: float, limits: Limits) -> tuple[int, int]:
    """The pixels (width, height) a photo needs at least to be sharp on so many mm at that zoom."""
    wide, high = (pixels(s * max(zoom, 1.0), limits.good_ppi) for s in (width_mm, height_mm))
    return wide, high


def largest_zoom(ppi: float, zoom: float, limits: Limits) -> float | None:
    """The largest zoom at which a photo of `ppi` at `zoom` is still sharp, in hundredths rounded
    down; None where not even the whole of it is."""
    most = math.floor(ppi * max(zoom, 1.0) / limits.good_ppi * 100 + 1e-9) / 100
    return most if most >= 1 else None


@check(
    "photo/effective-resolution",
    printed_photos,
    why="Too few pixels show as squares and mush once the photo is pressed; cloth hides a little "
    "softness, never the squares.",
    source=f"{PRACTICE}: 150 to 200 ppi at size is commonly accepted on cloth, no standard figure "
    "was found; limits in shop.yaml",
    codes={
        "too-coarse": "fewer pixels per inch than the floor",
        "soft": "fewer pixels per inch than the good limit",
        "unmeasured": "the layout does not tell which part of the photo is used",
    },
)
def effective_resolution(photo: PrintedPhoto, limits: Limits) -> Remarks:
    """Every photo has enough pixels for its size."""
    if photo.ppi is None:
        yield skipped("unmeasured", "This photo was not laid out, so its sharpness is not known.")
        return
    width, height = photo.size.width, photo.size.height
    gives = f"At {size(width, height)} this photo gives {at_most(photo.ppi)} pixels per inch"
    ways = _ways(photo, photo.ppi, limits)
    sharp = _widest(width, photo.ppi, limits.good_ppi)
    if limits.verdict(photo.ppi) == "coarse":
        usable = _widest(width, photo.ppi, limits.floor_ppi)
        yield stop(
            "too-coarse",
            f"{gives}; below {number(limits.floor_ppi, 3)} it looks coarse.",
            f"{ways}; or use it at most {count(usable)} mm wide ({count(sharp)} mm to be sharp).",
            measure=photo.ppi,
            limit=limits.floor_ppi,
        )
    elif limits.verdict(photo.ppi) == "soft":
        yield warn(
            "soft",
            f"{gives}; below {number(limits.good_ppi, 3)} it looks soft.",
            f"{ways}; or use it at most {count(sharp)} mm wide to be sharp.",
            measure=photo.ppi,
            limit=limits.good_ppi,
        )


def _ways(photo: PrintedPhoto, ppi: float, limits: Limits) -> str:
    """What mends a shortfall at the size that is printed."""
    wide, high = needed(photo.size.width, photo.size.height, photo.zoom, limits)
    ask = f"Ask for the original, at least {count(wide)} × {count(high)} pixels"
    whole = ppi * photo.zoom
    if photo.zoom <= 1 or limits.verdict(whole) == limits.verdict(ppi):
        return ask
    most = largest_zoom(ppi, photo.zoom, limits)
    if most:
        return f"{ask}; or show more of it (zoom {number(most, 2)} is still sharp)"
    return f"{ask}; or show more of it (without zoom it gives {at_most(whole)})"


def _widest(width_mm: float, ppi: float, limit: float) -> int:
    """Whole mm of width at which the same pixels give `limit` ppi."""
    return math.floor(width_mm * ppi / limit + 1e-9)


@check(
    "layout/picture-resolution",
    layers,
    why="The design's own pictures and patterns are enlarged with the blank; on a large one they "
    "can come out softer than the customer's photo.",
    source=f"{PRACTICE}; limits in shop.yaml",
    codes={"soft": "a picture or pattern of the design has too few pixels for its size"},
)
def picture_resolution(laid: LaidLayer[Placed], limits: Limits) -> Remarks:
    """The design's own pictures have enough pixels for their size."""
    placed, limit = laid.placed, limits.good_ppi
    if isinstance(placed, PlacedArt | PlacedPattern) and placed.ppi < limit:
        what = "pattern" if placed.kind == "pattern" else "picture"
        yield warn(
            "soft",
            f"The design’s own {what} gives {at_most(placed.ppi)} pixels per inch here; below "
            f"{number(limit, 3)} it looks soft.",
            "Save it in the design’s folder at a larger size.",
            measure=placed.ppi,
            limit=limit,
        )
