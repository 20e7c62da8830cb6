"""Check photo/blur."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import size
from proofgen.checks.registry import Said, check, note, skipped, warn
from proofgen.checks.subjects import NOT_LOOKED_AT, MeasuredSubject, measured_photos
from proofgen.model import Sharpness
from proofgen.units import number

# Limits are px of sigma on the press raster (300 ppi, or the photo’s own pixels where it has
# fewer). A photo with lines finer than this is not blurred; calibrated by
# tests/bench/calibrate_photo.py.
LINE = 0.3
# Where all clear edges run one way, as in a photo panned along, the blur effect of the whole (0 to
# 1) has the second word.
BLURRED_WHOLE = 0.65
# The way from 10 % to 90 % of an edge blurred by sigma: 2 x 1.2816 sigma (normal distribution).
_RISE = 2.563


@check(
    "photo/blur",
    over=measured_photos,
    why="A photo that is sharp nowhere stays blurred however many pixels it has; it is seen only "
    "when the piece is pressed, because a small screen hides it.",
    source="the width of the sharpest edges on the press raster (ratio of slopes after blurring "
    "again) and the blur effect (Crete et al. 2007, SPIE 6492); limits calibrated on real "
    "photographs, tests/bench/calibrate_photo.py",
    codes={
        "blurred": "no part of the printed photo is sharp",
        "soft": "the sharpest part of the printed photo is a little soft",
        "one-way": "edges that run one way are blurred and there are no others",
        "not-looked-at": "the pixels were not looked at",
    },
)
def blur(subject: MeasuredSubject) -> Iterator[Said]:
    """Some part of every photo is sharp."""
    if subject.measures is None:
        yield skipped("not-looked-at", NOT_LOOKED_AT)
        return
    seen = subject.measures.sharpness
    sigma, limits = seen.edge_px, subject.limits
    if sigma is None or sigma < limits.soft_edges:
        return
    at = size(subject.width_mm, subject.height_mm)
    wide = number(sigma * _RISE * subject.width_mm / seen.width_px, 1)
    blurred = sigma >= limits.blurred_edges and (seen.line_px is None or seen.line_px >= LINE)
    told = {"measure": sigma, "limit": limits.blurred_edges if blurred else limits.soft_edges}
    if not blurred:
        yield note(
            "soft",
            f"This photo is a little soft: at {at} its sharpest edges are {wide} mm wide.",
            "Look at the real-size part on the proof; if there is a sharper photo, ask for it.",
            **told,
        )
    elif _one_way(seen) and seen.blur < BLURRED_WHOLE:
        yield note(
            "one-way",
            f"The edges in this photo all run one way and are {wide} mm wide at {at}, as when the "
            "camera moved. That may be meant.",
            "Look at the real-size part on the proof.",
            **told,
        )
    else:
        yield warn(
            "blurred",
            f"No part of this photo is sharp: at {at} even its sharpest edges are {wide} mm wide.",
            "Ask for another photo, or for the original if this one was passed on; or print it "
            "smaller.",
            **told,
        )


def _one_way(seen: Sharpness) -> bool:
    return seen.across_px is None or seen.down_px is None
