"""Check layout/focus."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import seen_area, zones_met
from proofgen.checks.registry import Said, check, skipped, warn
from proofgen.checks.subjects import LayerSubject, placed_photos
from proofgen.geometry import Rect
from proofgen.model import PlacedPhoto

ZONES = {
    "closure": "under the closure",
    "seam": "in the seam",
    "gap": "beside the seam, where no ink can reach",
    "fold": "on the fold",
    "hem": "in the hem",
    "base": "under the can",
}
_POINT_MM = 1.0  # a point of interest is taken as a spot of this size


def focus_point(subject: LayerSubject[PlacedPhoto]) -> tuple[float, float] | None:
    """Where the photo's point of interest comes to lie, in the face's frame (mm)."""
    placed = subject.placed
    if placed.focus is None or placed.crop is None or placed.photo is None:
        return None
    x = placed.focus[0] * placed.photo.width_px - placed.crop.x
    y = placed.focus[1] * placed.photo.height_px - placed.crop.y
    return (
        placed.rect.x + x / placed.crop.width * placed.rect.width,
        placed.rect.y + y / placed.crop.height * placed.rect.height,
    )


@check(
    "layout/focus",
    over=placed_photos,
    why="The point of interest of a photo is mostly a face; in a seam or under the closure it is "
    "lost.",
    source="the blank's own measures",
    codes={
        "hidden": "the point of interest lies in a zone",
        "cut-off": "the point of interest is outside what can be seen",
        "unknown": "the photo has no point of interest",
    },
)
def focus(subject: LayerSubject[PlacedPhoto]) -> Iterator[Said]:
    """The main thing of every photo can be seen."""
    point = focus_point(subject)
    if point is None:
        yield skipped("unknown", "Nobody said where the main thing of this photo is.")
        return
    whose = "we took as" if subject.placed.focus_chosen else "was given as"
    cure = "Move the photo’s focus, or show more of the photo."
    spot = Rect(point[0] - _POINT_MM / 2, point[1] - _POINT_MM / 2, _POINT_MM, _POINT_MM)
    met = [kind for kind in zones_met(subject.plan, subject.placed.face, spot) if kind in ZONES]
    if met:
        yield warn(
            "hidden",
            f"The point that {whose} the main thing of this photo would lie {ZONES[met[0]]}.",
            cure,
            measure=met[0],
        )
    elif seen_area(subject.plan, subject.placed.face).overlap(spot) is None:
        yield warn(
            "cut-off", f"The point that {whose} the main thing of this photo cannot be seen.", cure
        )
