"""Is any part of a photo sharp, at the size it is printed?

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

import math

from proofgen.checks.frame import Remark, Remarks, check, note, skipped, warn
from proofgen.checks.resolution import LEAST_MM
from proofgen.checks.subjects import PrintedPhoto, printed_photos
from proofgen.model import FINEST_PPI, Limits, Sharpness
from proofgen.say import count, number, size
from proofgen.units import MM_PER_INCH

_NOT_LOOKED_AT = skipped(
    "not-looked-at", "The pixels of this photo were not looked at in this run."
)

# Widths are px of sigma on the press raster (300 ppi, or the photo’s own pixels where it has
# fewer). A photo with lines finer than this is not blurred, nor one as sharp as this at half size.
_LINE = 0.3
_HALF = 0.7
# Shares of full scale: a photo with less between its dark and its light is an even ground.
_EVEN = 30 / 255
# Grain as steep as this (a px) hides edges. Half size leaves half of it; of fine detail such as
# grass, which hides edges as well, it leaves more than this share.
_GRAIN = 0.002
_DETAIL = 0.6
# The same share; of a blurred photo more than all of it is left.
_FINER = 0.85
# Edges of one way so broad, and by so much broader than those across them: the camera moved.
_BROAD, _BROADER = 2.2, 1.2
# Nothing sharper than this away from the photo's edge.
_INNER = 1.8
# The way from 10 % to 90 % of an edge blurred by sigma: 2 x 1.2816 sigma (normal distribution).
_RISE = 2.563
_LOOK = "Look at the real-size part on the proof"


@check(
    "photo/blur",
    printed_photos,
    why="A photo that is sharp nowhere stays blurred however many pixels it has; it is seen only "
    "when the piece is pressed, because a small screen hides it.",
    source="the width of the sharpest edges on the press raster, its half and its quarter (ratio "
    "of slopes after blurring again); limits calibrated on real photographs, "
    "tests/bench/calibrate_photo.py",
    codes={
        "blurred": "no part of the printed photo is sharp",
        "no-edge": "light and dark differ, yet no edge stands anywhere, or none but thin lines",
        "under-grain": "no part of the photo is sharp but for its grain",
        "soft": "the sharpest part of the printed photo is a little soft",
        "one-way": "edges that run one way are blurred and there are no others",
        "shaken": "edges that run one way are much broader than those across them",
        "beside": "sharp along its sides alone, as by a date or a frame over a blurred photo",
        _NOT_LOOKED_AT.code: "the pixels were not looked at",
    },
)
def blur(photo: PrintedPhoto, limits: Limits) -> Remarks:
    """Some part of every photo is sharp."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    seen, at = photo.measures.sharpness, size(photo.size.width, photo.size.height)

    def wide(sigma: float) -> str:
        return f"{number(sigma * _RISE * photo.size.width / seen.width_px, 1)} mm wide"

    sigma = seen.edge_px
    if sigma is None:
        if seen.span >= _EVEN and not _all_detail(seen):
            yield from _edgeless(seen)
    elif sigma >= limits.blurred_edges and _one_way(seen):
        yield note(
            "one-way",
            f"The edges in this photo all run one way and are {wide(sigma)} at {at}, as when the "
            "camera moved. That may be meant.",
            f"{_LOOK}.",
            measure=sigma,
            limit=limits.blurred_edges,
        )
    elif sigma >= limits.blurred_edges and not _fine(seen):
        grain = seen.noise >= _GRAIN
        yield _nowhere_sharp(
            "under-grain" if grain else "blurred",
            f"{'but for its grain, ' if grain else ''}at {at} even its sharpest edges are "
            f"{wide(sigma)}",
            sigma,
            limits.blurred_edges,
            _smaller(photo, seen, limits),
        )
    elif sigma >= limits.soft_edges:
        yield note(
            "soft",
            f"This photo is a little soft: at {at} its sharpest edges are {wide(sigma)}.",
            f"{_LOOK}; if there is a sharper photo, ask for it.",
            measure=sigma,
            limit=limits.soft_edges,
        )
    elif seen.inner_px is not None and seen.inner_px >= _INNER and seen.noise < _GRAIN:
        yield note(
            "beside",
            "Only near its sides is anything in this photo sharp, as a date, a frame or words are; "
            f"farther in, at {at}, even the sharpest edges are {wide(seen.inner_px)}.",
            f"{_LOOK}; if the photo itself is blurred, ask for a sharper one.",
            measure=seen.inner_px,
            limit=_INNER,
        )
    elif _shaken(seen):
        assert seen.broad_px is not None
        yield note(
            "shaken",
            f"Edges that run one way are {wide(seen.broad_px)} at {at}, and those across them far "
            "narrower, as when the camera moved.",
            f"{_LOOK}; if there is a sharper photo, ask for it.",
            measure=seen.broad_px,
            limit=_BROAD,
        )


def _edgeless(seen: Sharpness) -> Remarks:
    if seen.line_px is not None and seen.line_px < _LINE:
        yield note(
            "no-edge",
            "But for thin lines, as of a drawing or a date, no edge in this photo is clear.",
            f"{_LOOK}; if the photo itself is blurred, ask for a sharper one.",
            measure=seen.span,
            limit=_EVEN,
        )
    else:
        yield _nowhere_sharp("no-edge", "it has no clear edge at all", seen.span, _EVEN)


def _smaller(photo: PrintedPhoto, seen: Sharpness, limits: Limits) -> str:
    """How wide it may be so that its edges are narrow enough; '' where no such size is of use."""
    if photo.covers or photo.goes_round or not seen.edge_px:
        return ""
    # Of fewer pixels than the press has, none is lost before they lie as close as the press’s.
    at_press = seen.width_px / FINEST_PPI * MM_PER_INCH
    widest = math.floor(at_press * limits.blurred_edges / seen.edge_px)
    return f"; or print it at most {count(widest)} mm wide" if widest >= LEAST_MM else ""


def _nowhere_sharp(code: str, how: str, measure: float, limit: float, smaller: str = "") -> Remark:
    return warn(
        code,
        f"No part of this photo is sharp: {how}.",
        f"Ask for another photo, or for the original if this one was passed on{smaller}.",
        measure=measure,
        limit=limit,
    )


def _all_detail(seen: Sharpness) -> bool:
    """Fine detail everywhere, as of grass: no edge stands out of it, and it is sharp itself."""
    return seen.noise >= _GRAIN and seen.noise_kept > _DETAIL


def _one_way(seen: Sharpness) -> bool:
    """Where the picture holds something finer all the same, as waves or a camera's noise."""
    if seen.size != 1 or seen.noise >= _GRAIN or seen.noise_kept > _FINER:
        return False
    return (seen.across_px is None) != (seen.down_px is None) and seen.broad_px is None


def _fine(seen: Sharpness) -> bool:
    """Sharp lines, or sharp edges at half size, where the steps at full size are wide."""
    if seen.size != 1:
        return False
    return any(
        width is not None and width < most
        for width, most in ((seen.line_px, _LINE), (seen.half_px, _HALF))
    )


def _shaken(seen: Sharpness) -> bool:
    if seen.broad_px is None or seen.narrow_px is None:
        return False
    return seen.broad_px >= _BROAD and seen.broad_px - seen.narrow_px >= _BROADER
