"""Flat geometry in mm: rectangles, and where the faces and zones of a blank lie."""

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
from proofgen.geometry.plane import Rect, Size

__all__ = [
    "BOTH_FACES",
    "CONSTRUCTIONS",
    "Canvas",
    "Face",
    "Part",
    "Plan",
    "Rect",
    "Size",
    "Zone",
    "cover_crop",
    "plan_flat",
    "plan_fold",
    "plan_sewn",
    "plan_wrap",
    "way_round",
]
