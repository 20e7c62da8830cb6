"""What of a photo is hidden: where a wrap closes, and under the can."""

from __future__ import annotations

import numpy as np

from proofgen.artwork.attention import busy_map
from proofgen.artwork.maps import cells_of
from proofgen.errors import ProofgenError
from proofgen.geometry import Canvas, Plan, Rect
from proofgen.model import Join, PhotoFacts, UnderCan
from proofgen.photo.opening import Pictures

NEAR_MM = 6.0  # to each side of the join, where a face or a figure would be cut
_FINE = 480  # columns the print is parted in


def join_of(
    facts: PhotoFacts, plan: Plan, canvas: Canvas, rect: Rect, crop: Rect, pictures: Pictures
) -> Join | None:
    """How a photo on `rect` (of the face all the way round) closes; None where it does not reach
    the join from both sides, or the blank is no wrap. Shares are of the printed part."""
    way = canvas.size.width
    if plan.construction != "wrap" or not canvas.goes_round(rect):
        return None
    x = rect.x + (np.arange(_FINE) + 0.5) / _FINE * rect.width  # mm, in the face's frame
    cloth = plan.panels["round"].width
    start = plan.face("round").rect.x
    printed = (x >= -start) & (x <= cloth - start)  # not the bleed, which is cut or falls beside
    under = sum(rect.width for rect in plan.under_strip)
    first, last = under / 2, way - under / 2
    hidden = printed & ((x < first) | (x > last))
    near = printed & ~hidden & ((x < first + NEAR_MM) | (x > last - NEAR_MM))
    try:
        cells = busy_map(facts, pictures)
    except ProofgenError:
        return None
    rows = np.arange(len(cells))
    top, bottom = crop.y / facts.height_px, crop.bottom / facts.height_px
    kept = cells[(rows + 1 > top * len(cells)) & (rows < bottom * len(cells))].sum(axis=0)
    detail = kept[cells_of((x - rect.x) / rect.width, crop.x, crop.width, facts.width_px)]
    total = float(detail[printed].sum()) or 1.0
    return Join(
        hidden=float(hidden.sum() / printed.sum()),
        hidden_mm=max(plan.overlap or under, 0.0),
        side="neither" if under else "left" if start > 0 else "right",
        strips=float((hidden | near).sum() / printed.sum()),
        detail=float(detail[hidden | near].sum()) / total,
    )


def under_can(
    facts: PhotoFacts, plan: Plan, canvas: Canvas, rect: Rect, crop: Rect, pictures: Pictures
) -> UnderCan | None:
    """What of a photo on `rect` (of the face) lies under the can; None where the blank has no base
    or the photo does not reach it. A base lies along the foot of each face."""
    base = max((zone.rect.height for zone in plan.zones if zone.kind == "base"), default=0.0)
    high = canvas.size.height
    deep = min(rect.bottom, high) - max(rect.y, high - base)
    if base <= 0 or deep <= 0:
        return None
    try:
        cells = busy_map(facts, pictures)
    except ProofgenError:
        return None
    y = rect.y + (np.arange(_FINE) + 0.5) / _FINE * rect.height  # mm, in the face's frame
    on_face = (y >= 0) & (y <= high)
    hidden = on_face & (y > high - base)
    columns = np.arange(len(cells))
    left, right = crop.x / facts.width_px, crop.right / facts.width_px
    inside = (columns + 1 > left * len(cells)) & (columns < right * len(cells))
    kept = cells[:, inside].sum(axis=1)
    detail = kept[cells_of((y - rect.y) / rect.height, crop.y, crop.height, facts.height_px)]
    total = float(detail[on_face].sum()) or 1.0
    return UnderCan(
        hidden=float(hidden.sum() / on_face.sum()),
        hidden_mm=deep,
        detail=float(detail[hidden].sum()) / total,
    )
