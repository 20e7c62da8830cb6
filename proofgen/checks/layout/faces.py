"""Check layout/faces."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import beyond, crossing, seen_area, zones_met
from proofgen.checks.layout.focus import ZONES
from proofgen.checks.registry import PRACTICE, Said, check, skipped, warn
from proofgen.checks.subjects import LayerSubject, placed_photos
from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import PlacedPhoto
from proofgen.photo.faces import find_faces

_CURE = "Look at the proof; then move the photo’s focus, or show more of the photo."


def on_face(placed: PlacedPhoto, found: Rect) -> Rect | None:
    """A part of the photo (px) where it comes to lie on its face of the blank, mm."""
    crop, rect = placed.crop, placed.rect
    if crop is None or crop.overlap(found) is None:
        return None
    k = rect.width / crop.width
    return Rect(
        rect.x + (found.x - crop.x) * k,
        rect.y + (found.y - crop.y) * k,
        found.width * k,
        found.height * k,
    )


@check(
    "layout/faces",
    over=placed_photos,
    why="A face in a seam, under the overlap or cut by the edge is the first thing everybody sees.",
    source=f"faces found by scikit-image's cascade; that a tenth may be lost is {PRACTICE}",
    codes={
        "hidden": "a face would lie where it is hidden or folded",
        "cut": "a face would be cut by an edge or a seam",
        "not-looked": "the library that finds faces is not installed",
    },
)
def faces(subject: LayerSubject[PlacedPhoto]) -> Iterator[Said]:
    """No face in a photo is cut or hidden."""
    placed, plan = subject.placed, subject.plan
    if placed.crop is None or placed.photo is None:
        return
    try:
        found = find_faces(placed.photo, subject.given.store)
    except ProofgenError:
        return  # a photo that was whole a moment ago; its own finding tells
    if found is None:
        yield skipped(
            "not-looked",
            "Nobody looked for faces in this photo: the library for it is not installed.",
            "Look at the proof; or install it, as the README says under “Faces in photos”.",
        )
        return
    for one in found:
        spot = on_face(placed, one)
        if spot is None:
            continue
        least = subject.given.limits.face_cut * spot.width
        met = {k: d for k, d in zones_met(plan, placed.face, spot).items() if k in ZONES}
        kind = max(met, key=lambda k: met[k], default="")
        if kind and met[kind] > least:
            yield warn("hidden", f"What looks like a face would lie {ZONES[kind]}.", _CURE)
        elif crossing(plan, placed.face, spot) or (
            max(beyond(seen_area(plan, placed.face), spot).values()) > least
        ):
            yield warn("cut", "What looks like a face would be cut by an edge or a seam.", _CURE)
