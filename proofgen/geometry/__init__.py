"""Flat geometry in mm: rectangles, and where the faces and zones of a blank lie."""

from proofgen.geometry.allowance import (
    CAN_PLAY,
    Shift,
    cans_that_fit,
    rounded_down,
    rounded_up,
    wrap_shift,
)
from proofgen.geometry.blanks import (
    BOTH_FACES,
    CONSTRUCTIONS,
    Canvas,
    Face,
    Part,
    Plan,
    Zone,
    plan_flat,
    plan_fold,
    plan_sewn,
    plan_wrap,
    way_round,
)
from proofgen.geometry.crop import cover_crop
from proofgen.geometry.frustum import Frustum, frustum
from proofgen.geometry.plane import Rect, Size

__all__ = [
    "BOTH_FACES",
    "CAN_PLAY",
    "CONSTRUCTIONS",
    "Canvas",
    "Face",
    "Frustum",
    "Part",
    "Plan",
    "Rect",
    "Shift",
    "Size",
    "Zone",
    "cans_that_fit",
    "cover_crop",
    "frustum",
    "plan_flat",
    "plan_fold",
    "plan_sewn",
    "plan_wrap",
    "rounded_down",
    "rounded_up",
    "way_round",
    "wrap_shift",
]
