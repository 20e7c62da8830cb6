"""Checks of pixels per inch against the shop's limits, and what would mend a shortfall."""

from __future__ import annotations

import math

from proofgen.checks.frame import Remarks, check, skipped, stop, warn
from proofgen.checks.in_front import in_front
from proofgen.checks.mending import laid_photo_as, photo_as
from proofgen.checks.subjects import (
    LaidLayer,
    PrintedPhoto,
    layers,
    placed_photos,
    printed_photos,
)
from proofgen.geometry import FaceName, Plan, Size, cover_crop
from proofgen.model import Limits, PhotoFacts, Placed, PlacedArt, PlacedPattern, PlacedPhoto
from proofgen.model.limits import PRACTICE
from proofgen.say import at_most, count, number, size
from proofgen.units import pixels, ppi_of


def needed(width_mm: float, height_mm: float, zoom: float, limits: Limits) -> tuple[int, int]:
    """The pixels (width, height) that are enough for so many mm at that zoom."""
    wide, high = (pixels(s * max(zoom, 1.0), limits.good_ppi) for s in (width_mm, height_mm))
    return wide, high


def largest_zoom(ppi: float, zoom: float, limits: Limits) -> float | None:
    """The largest zoom at which a photo of `ppi` at `zoom` still has enough pixels, in hundredths
    rounded down; None where not even the whole of it has."""
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
        yield skipped(
            "unmeasured",
            "This photo was not laid out, so nobody knows whether its pixels are enough.",
        )
        return
    width, height = photo.size.width, photo.size.height
    gives = f"At {size(width, height)} this photo gives {at_most(photo.ppi)} pixels per inch"
    ways = _ways(photo, photo.ppi, limits)
    if limits.verdict(photo.ppi) == "coarse":
        yield stop(
            "too-coarse",
            f"{gives}; below {number(limits.floor_ppi, 3)} it looks coarse.",
            f"{ways}.",
            measure=photo.ppi,
            limit=limits.floor_ppi,
        )
    elif limits.verdict(photo.ppi) == "soft":
        yield warn(
            "soft",
            f"{gives}; below {number(limits.good_ppi, 3)} it looks soft.",
            f"{ways}.",
            measure=photo.ppi,
            limit=limits.good_ppi,
        )


def _ways(photo: PrintedPhoto, ppi: float, limits: Limits) -> str:
    """What mends a shortfall, as far as photo, zoom and blank allow it."""
    wide, high = needed(photo.size.width, photo.size.height, photo.zoom, limits)
    ways = [f"Ask for the original, at least {count(wide)} × {count(high)} pixels"]
    whole = ppi * photo.zoom
    if photo.zoom > 1 and limits.verdict(whole) != limits.verdict(ppi):
        most = largest_zoom(ppi, photo.zoom, limits)
        enough = f"zoom {number(most, 2)} still has enough" if most else ""
        ways.append(f"show more of it ({enough or f'without zoom it gives {at_most(whole)}'})")
    if photo.goes_round:
        face, there = _alone(photo.facts, photo.goes_round)
        if limits.verdict(there) != limits.verdict(ppi):
            ways.append(f"show it on the {face} alone, where it has {at_most(there)} ppi")
    elif _widest(photo.size.width, ppi, limits.floor_ppi) >= LEAST_MM:
        ways.append(_smaller(photo, ppi, limits))
    return "; or ".join(ways)


_MOST_BEHIND = 1 / 3  # of a photo made smaller: common practice, no source
LEAST_MM = 10  # narrower than this a photo shows nothing: common practice, no source


def _smaller(photo: PrintedPhoto, ppi: float, limits: Limits) -> str:
    """How wide it may be, where the design can show it smaller; and the line that says so."""
    enough = usable = _widest(photo.size.width, ppi, limits.good_ppi)
    good = ""
    if limits.verdict(ppi) != "soft":
        usable = _widest(photo.size.width, ppi, limits.floor_ppi)
        good = f" ({count(enough)} mm for enough pixels)" if enough >= LEAST_MM else ""
    if photo.line is None:
        return f"use it at most {count(usable)} mm wide{good}"
    file, wide = photo.facts.file, (usable, None)
    written = photo_as(photo.line, photo.slot, file, size_mm=wide)
    return f"use it at most {count(usable)} mm wide{good}: {written}"


def ppi_on(facts: PhotoFacts, slot: Size) -> float:
    """Pixels per inch of a photo that covers so many mm, in the worse direction."""
    crop = cover_crop(Size(facts.width_px, facts.height_px), slot, (0.5, 0.5))
    return min(ppi_of(crop.width, slot.width), ppi_of(crop.height, slot.height))


def _alone(facts: PhotoFacts, plan: Plan) -> tuple[FaceName, float]:
    """The face of a blank on which a photo has most pixels per inch, and how many."""
    fills = {face: canvas.fill for face, canvas in plan.canvases.items()}
    there = {face: ppi_on(facts, Size(fill.width, fill.height)) for face, fill in fills.items()}
    best = max(there, key=lambda face: there[face])
    return best, there[best]


def _widest(width_mm: float, ppi: float, limit: float) -> int:
    """Whole mm of width at which the same pixels give `limit` ppi."""
    return math.floor(width_mm * ppi / limit + 1e-9)


@check(
    "layout/photo-size",
    placed_photos,
    why="A size that its place does not hold is not printed; who wrote it expects it.",
    source="the order's size: against the design and the blank",
    codes={
        "larger": "the size asked for is larger than the photo's place",
        "behind": "made so small, most of the photo lies behind words or what the design draws",
    },
)
def photo_size(laid: LaidLayer[PlacedPhoto], _: Limits) -> Remarks:
    """Every photo is printed at the size that the order asks for."""
    placed, use = laid.placed, laid.line.line.photos.get(laid.placed.slot)
    if use is None or use.size_mm is None:
        return
    face = laid.plan.canvases[placed.face].size
    there = face if placed.fill else placed.rect.size
    wide, high = use.size_mm
    if wide > there.width + 1e-6 or (high is not None and high > there.height + 1e-6):
        asked = size(wide, high) if high is not None else f"{number(wide)} mm of width"
        yield warn(
            "larger",
            f"{asked} asked for, but the photo’s place here is {size(there.width, there.height)}; "
            "it is not printed larger than that.",
            "Take size: out, and the photo fills its place; or write a smaller one "
            + laid_photo_as(laid, size_mm=(math.floor(there.width), None)),
            measure=wide,
            limit=there.width,
        )
    # A crop that fills its place shows round what lies over it; a small one may lie under it whole.
    elif before := in_front(laid, placed.rect, _MOST_BEHIND):
        yield warn(
            "behind",
            f"As small as it is asked for, much of the photo lies behind {before}.",
            "Look at the proof; or let the photo fill its place, "
            + laid_photo_as(laid, size_mm=None),
        )


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
