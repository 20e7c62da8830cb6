"""Flat geometry in mm: rectangles, and where the faces and zones of a blank lie."""

from proofgen.geometry.allowance import (
    CAN_PLAY,
    Shift,
    cans_that_fit,
    wrap_shift,
)
from proofgen.geometry.blanks import (
    from_the_seam,
    plan_flat,
    plan_fold,
    plan_sewn,
    plan_wrap,
    way_round,
)
from proofgen.geometry.crop import cover_crop, within
from proofgen.geometry.held import held, held_parts
from proofgen.geometry.plan import (
    BOTH_FACES,
    CONSTRUCTIONS,
    FACES,
    SHAPES,
    SIDES,
    Canvas,
    Construction,
    Face,
    FaceName,
    Part,
    Plan,
    Shape,
    Side,
    Turn,
    Zone,
    ZoneKind,
)
from proofgen.geometry.plane import Rect, Size, around

__all__ = [
    "BOTH_FACES",
    "CAN_PLAY",
    "CONSTRUCTIONS",
    "FACES",
    "SHAPES",
    "SIDES",
    "Canvas",
    "Construction",
    "Face",
    "FaceName",
    "Part",
    "Plan",
    "Rect",
    "Shape",
    "Shift",
    "Side",
    "Size",
    "Turn",
    "Zone",
    "ZoneKind",
    "around",
    "cans_that_fit",
    "cover_crop",
    "from_the_seam",
    "held",
    "held_parts",
    "plan_flat",
    "plan_fold",
    "plan_sewn",
    "plan_wrap",
    "way_round",
    "within",
    "wrap_shift",
]
