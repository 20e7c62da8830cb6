"""Is any part of a photo sharp, at the size it is printed?

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

import math

from proofgen.checks.frame import Remark, Remarks, check, note, skipped, stop, warn
from proofgen.checks.octaves import falls_alike, leaning
from proofgen.checks.resolution import LEAST_MM
from proofgen.checks.subjects import PrintedPhoto, printed_photos
from proofgen.model import FINEST_PPI, Limits, Sharpness
from proofgen.say import count, number, size
from proofgen.units import MM_PER_INCH

_NOT_LOOKED_AT = skipped(
    "not-looked-at", "The pixels of this photo were not looked at in this run."
)

# Widths are px of sigma on the press raster (300 ppi, or the photo’s own pixels where it has
# fewer). A photo with lines finer than this is not blurred.
_LINE = 0.3
# Shares of full scale: with less between its dark and its light a part is an even ground, and a
# whole photo one patch of colour, which may be meant.
_EVEN, _PLAIN = 30 / 255, 8 / 255
# Grain as steep as this (a px) hides edges. A camera’s own is halved at half size; more than this
# share is left of what a blurred picture has.
_GRAIN = 0.002
_FINER = 0.7
# So strong, with more than this left, it is detail as often as grain: sand has no clear edge, and
# is not blurred.
_STRONG, _DETAIL = 0.005, 0.8
# It makes edges read broader: for each so much of it (a px), by that share of the limit.
_IN_DOUBT = 0.02
_BEYOND_USE = 6.0  # px; the broadest edges of any good print read 1.4
_WIDEST = 12.0  # px, where no edge of a kind is clear
_SLANTING = 2.4  # px; sharp edges that run aslant are found at half size, and read broader there
# The way from 10 % to 90 % of an edge blurred by sigma: 2 x 1.2816 sigma (normal distribution).
_RISE = 2.563
_LOOK = "Look at the real-size part on the proof"


@check(
    "photo/blur",
    printed_photos,
    why="A photo that is sharp nowhere stays blurred however many pixels it has; it is seen only "
    "when the piece is pressed, because a small screen hides it.",
    source="the width of the sharpest edges on the press raster (ratio of slopes after blurring "
    "again); limits calibrated on real photographs, tests/bench/calibrate_photo.py",
    codes={
        "beyond-use": "no edge stands anywhere, or none but very broad ones",
        "blurred": "no part of the printed photo is sharp",
        "no-edge": "no edge stands anywhere but thin lines",
        "under-grain": "no part of the photo is sharp but for its grain",
        "soft": "the sharpest part of the printed photo is a little soft",
        "one-way": "edges that run one way are blurred and there are no others",
        "shaken": "some edges are sharp, but none of those that run one way",
        "moved": "all over it fine detail is weaker along one way than across it",
        "soft-throughout": "no edge is sharp at any size, as of clouds, mist or a plain surface",
        "soft-part": "no part of what is printed is sharp, other parts of the photo are",
        "beside": "sharp along its sides alone, as by a date or a frame over a blurred photo",
        _NOT_LOOKED_AT.code: "the pixels were not looked at",
    },
)
def blur(photo: PrintedPhoto, limits: Limits) -> Remarks:
    """Some part of every photo is sharp."""
    if photo.measures is None:
        yield _NOT_LOOKED_AT
        return
    seen = photo.measures.sharpness
    sigma, most = seen.edge_px, limits.blurred_edges
    if seen.span < _PLAIN:
        return
    if not _sharp(sigma, most) and not _sharp(seen.line_px, _LINE):
        if _sharp(seen.around_px, most):
            yield _soft_part(photo, seen, most)
        else:
            yield _nowhere_sharp(photo, seen, limits)
    elif sigma is None:
        yield note(
            "no-edge",
            "But for thin lines, as of a drawing or a date, no edge in this photo is clear.",
            f"{_LOOK}; if the photo itself is blurred, ask for a sharper one.",
            measure=_WIDEST,
            limit=most,
        )
    elif (soft := max(sigma, _of_all_ways(seen, most))) >= limits.soft_edges:
        yield note(
            "soft",
            f"This photo is a little soft: {_how_wide(photo, soft)}.",
            f"{_LOOK}; if there is a sharper photo, ask for it.",
            measure=soft,
            limit=limits.soft_edges,
        )
    else:
        yield from _in_part(seen, most)


def _in_part(seen: Sharpness, most: float) -> Remarks:
    """Of a photo that is sharp: not in its middle, or not along every way."""
    if seen.inner_span >= _EVEN and not _sharp(seen.inner_px, most):
        yield note(
            "beside",
            "Only near its sides is anything in this photo sharp, as a date, a frame or words are.",
            f"{_LOOK}; if the photo itself is blurred, ask for a sharper one.",
            measure=seen.inner_px or _WIDEST,
            limit=most,
        )
    elif not _sharp_each_way(seen, most):
        yield note(
            "shaken",
            "Of the edges that run one way none is sharp in this photo, others are, as when the "
            "camera moved.",
            f"{_LOOK}; if there is a sharper photo, ask for it.",
            measure=max(way or _WIDEST for way in (seen.across_px, seen.down_px, seen.diagonal_px)),
            limit=most,
        )
    elif (lean := leaning(seen)) >= 1:
        yield note(
            "moved",
            "All over this photo fine detail is weaker along one way than across it, as when the "
            "camera moved a little.",
            f"{_LOOK}; if there is a sharper photo, ask for it.",
            measure=lean,
            limit=1.0,
        )


def _sharp_each_way(seen: Sharpness, most: float) -> bool:
    level = all(_sharp(way, most) for way in (seen.across_px, seen.down_px))
    return level and _sharp(seen.diagonal_px, _SLANTING)


def _of_all_ways(seen: Sharpness, most: float) -> float:
    """The mean width of edges that run upright, level and aslant, where all are sharp: a camera
    that shook along a curve leaves a few sharper ones of some way. 0 where they are not."""
    if not _sharp_each_way(seen, most):
        return 0.0
    widths = (seen.across_px or 0, seen.down_px or 0, (seen.diagonal_px or 0) / 2)
    return round(sum(widths) / len(widths), 3)


def _sharp(width: float | None, most: float) -> bool:
    return width is not None and width < most


def _smaller(photo: PrintedPhoto, seen: Sharpness, limits: Limits) -> str:
    """How wide it may be so that its edges are narrow enough; '' where no such size is of use."""
    if photo.covers or photo.goes_round or not seen.edge_px:
        return ""
    # Of fewer pixels than the press has, none is lost before they lie as close as the press’s.
    at_press = seen.width_px / FINEST_PPI * MM_PER_INCH
    widest = math.floor(at_press * limits.blurred_edges / seen.edge_px)
    return f"; or print it at most {count(widest)} mm wide" if widest >= LEAST_MM else ""


def _soft_part(photo: PrintedPhoto, seen: Sharpness, most: float) -> Remark:
    """Of a photo that is sharp elsewhere: clouds, water and a blurred ground may be meant; where
    hardly any edge stands, the part was hardly chosen."""
    wide = seen.edge_px or _WIDEST
    how = _how_wide(photo, wide, "even ") if seen.edge_px else "it has no clear edge at all"
    told = warn if wide >= _BEYOND_USE else note
    return told(
        "soft-part",
        f"No part of what is printed of this photo is sharp, but other parts of it are: {how}.",
        f"{_LOOK}; if more than clouds or a blurred ground is to be seen there, show another part "
        "or ask for a sharper photo.",
        measure=wide,
        limit=most,
    )


def _nowhere_sharp(photo: PrintedPhoto, seen: Sharpness, limits: Limits) -> Remark:
    sigma, most = seen.edge_px, limits.blurred_edges
    grain = seen.noise >= _GRAIN
    wide = sigma or _WIDEST
    how = _how_wide(photo, sigma, "even ") if sigma else "it has no clear edge at all"
    says = f"No part of this photo is sharp: {'but for its grain, ' if grain else ''}{how}."
    cure = "Ask for another photo, or for the original if this one was passed on"
    if not grain and falls_alike(seen):
        return note(
            "soft-throughout",
            "Nothing in this photo has a sharp edge, however small it is shown, as of clouds, "
            "mist, water or a plain surface: out of focus it would look different.",
            f"{_LOOK}; if there is more than that to be seen, ask for a sharper photo.",
            measure=wide,
            limit=most,
        )
    if not grain:
        cure += _smaller(photo, seen, limits)
        if wide >= _BEYOND_USE:
            return stop("beyond-use", says, f"{cure}.", measure=wide, limit=_BEYOND_USE)
        if _one_way(seen):
            return note(
                "one-way",
                f"The edges in this photo all run one way: {how}, as when the camera moved. That "
                "may be meant.",
                f"{_LOOK}.",
                measure=wide,
                limit=most,
            )
        return warn("blurred", says, f"{cure}.", measure=wide, limit=most)
    doubt = seen.noise >= _STRONG and seen.noise_kept > _DETAIL
    sure = wide >= most * (1 + seen.noise / _IN_DOUBT) and not doubt
    told = warn if sure else note
    return told("under-grain", says, f"{cure}.", measure=wide, limit=most)


def _how_wide(photo: PrintedPhoto, sigma: float, even: str = "") -> str:
    assert photo.measures is not None
    wide = sigma * _RISE * photo.size.width / photo.measures.sharpness.width_px
    at = size(photo.size.width, photo.size.height)
    return f"at {at} {even}its sharpest edges are {number(wide, 1)} mm wide"


def _one_way(seen: Sharpness) -> bool:
    """Where the picture holds a camera's fine noise all the same, which other blurs wipe out."""
    if seen.noise_kept > _FINER:
        return False
    return (seen.across_px is None) != (seen.down_px is None)
