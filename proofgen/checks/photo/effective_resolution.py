"""Check photo/effective-resolution."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks import sharpness
from proofgen.checks.registry import PRACTICE, Said, check, skipped
from proofgen.checks.subjects import LayerSubject, placed_photos
from proofgen.model import PlacedPhoto


@check(
    "photo/effective-resolution",
    over=placed_photos,
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
def effective_resolution(subject: LayerSubject[PlacedPhoto]) -> Iterator[Said]:
    """Every photo has enough pixels for its size."""
    placed = subject.placed
    if placed.ppi is None:
        yield skipped("unmeasured", "This photo was not laid out, so its sharpness is not known.")
        return
    limits = subject.given.limits
    said = sharpness.told(placed.rect.width, placed.rect.height, placed.ppi, placed.zoom, limits)
    if said is not None:
        yield said
