"""The check of faces in photos: cut at an edge, in a seam, outside, behind words."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import beyond, crossed, nearest_hole, seen_area, zones_met
from proofgen.checks.frame import Remark, Remarks, check, note, skipped, warn
from proofgen.checks.in_front import in_front
from proofgen.checks.mending import laid_photo_as
from proofgen.checks.subjects import LaidLayer, placed_photos
from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import Limits, PhotoFacts, PlacedPhoto
from proofgen.model.limits import PRACTICE
from proofgen.photo.faces import Face, find_faces, main_faces, turn_to_stand
from proofgen.say import mm, quoted
from proofgen.say.parts import IN_ZONES

_CURE = (
    "Look at the proof; then write another focus: for this photo in order.yaml, or a smaller "
    "zoom:, which shows more of it."
)
_SIDES = {"left": "left side", "top": "upper edge", "right": "right side", "bottom": "lower edge"}
_LIPS = 0.85  # of a face's height lie above the lower lip, about; looked at, no source
_BESIDE_HOLE = 2.0  # mm; common practice, no source
_UPRIGHT = 30  # degrees: a face that leans less has its chin at its foot


@check(
    "layout/faces",
    placed_photos,
    why="A face in a seam, under the overlap, behind words or cut by the edge is the first thing "
    "everybody sees.",
    source="faces found by CenterFace (Xu et al. 2020), a small network; that a tenth may be lost "
    f"is {PRACTICE}",
    codes={
        "hidden": "a face would lie where it is hidden or folded",
        "cut": "a face would be cut by an edge or a seam",
        "outside": "a face of the photo is not shown at all",
        "behind": "a face would lie behind words or what the design draws",
        "chin": "no more than a chin would lie there",
        "lying": "the faces of the photo lean to a side, or stand on their heads",
        "none-found": "no face was found in the photo",
        "not-looked": "nobody could look for faces",
        "way-up-unknown": "nor does its file tell which way up the photo is",
    },
)
def faces(laid: LaidLayer[PlacedPhoto], limits: Limits) -> Remarks:
    """Every face that was found in a photo can be seen whole."""
    photo, pictures = laid.placed, laid.line.materials.pictures
    assert photo.photo is not None
    name = quoted(photo.slot)
    try:
        found = find_faces(photo.photo, pictures) if photo.crop else ()
    except ProofgenError:
        found = ()  # a photo that was whole a moment ago; its own finding tells
    if found is None:
        yield _not_looked(photo.photo, name)
        return
    if not found:
        yield skipped("none-found", f"No face was found in the photo of {name}.")
    if turn := turn_to_stand(found):
        lies = "stand on its head" if turn == 180 else "lie on its side"
        yield note(
            "lying",
            f"The photo of {name} seems to {lies}: its faces look upright when it is turned by "
            f"{turn}° clockwise.",
            f"Look at the proof. If it is so, {_turning_cure(laid, turn)}",
        )
    for face in main_faces(found):
        yield from _lost(laid, face.box, limits.face_cut)
        yield from _covered(laid, face, limits.face_cut)


def _not_looked(photo: PhotoFacts, name: str) -> Remark:
    """What is said where nobody could look. A photo without a mark, as chats send them, that the
    order does not turn may lie on its side unseen."""
    says = f"Nobody looked for faces in the photo of {name}: what finds them is not installed."
    cure = "Look at the proof; or install it: proofgen ready says how."
    if photo.orientation or photo.turn:
        return skipped("not-looked", says, cure)
    return skipped(
        "way-up-unknown", f"{says} Nor does its file tell which way up the photo is.", cure
    )


def _turning_cure(laid: LaidLayer[PlacedPhoto], turn: int) -> str:
    photo = laid.placed.photo
    assert photo is not None
    wanted = (photo.turn + turn) % 360
    written = laid_photo_as(laid, turn=wanted)
    if not wanted:
        return f"take its turn: {photo.turn} away {written}"
    return f"turn it {written}"


def _lost(laid: LaidLayer[PlacedPhoto], face: Rect, least: float) -> Iterator[Remark]:
    """What becomes of a face (px of the photo); `least` is the share of it that may be lost."""
    photo, plan, name = laid.placed, laid.plan, quoted(laid.placed.slot)
    spot = photo.on_face(face)
    assert photo.crop is not None and spot is not None
    seen = seen_area(plan, photo.face).overlap(photo.rect)
    if seen is None or seen.overlap(spot) is None:
        yield warn("outside", f"What looks like a face in the photo of {name} is not shown.", _CURE)
        return
    met = zones_met(plan, photo.face, spot)
    kind = max(met, key=lambda k: met[k], default=None)
    past = beyond(seen, spot)
    side = max(past, key=lambda one: past[one])
    hole = nearest_hole(plan, photo.face, spot)
    where = IN_ZONES[kind] if kind and met[kind] > least * spot.width else ""
    if hole is not None and hole < _BESIDE_HOLE:
        where = IN_ZONES["hole"] if hole < 0 else f"{mm(hole)} beside the hole"
    if where:
        yield warn(
            "hidden", f"What looks like a face in the photo of {name} would lie {where}.", _CURE
        )
    elif (over_seam := crossed(plan, photo.face, spot)) or past[side] > least * spot.width:
        how = "by a seam" if over_seam else f"at the {_SIDES[side]}"
        says = f"What looks like a face in the photo of {name} would be cut {how}."
        yield warn("cut", says, _CURE)


def _covered(laid: LaidLayer[PlacedPhoto], face: Face, least: float) -> Iterator[Remark]:
    """What is drawn over a face; less is said where no more than a chin lies under it."""
    spot = laid.placed.on_face(face.box)
    assert spot is not None
    before = in_front(laid, spot, least)
    if not before:
        return
    name = quoted(laid.placed.slot)
    to_the_lips = Rect(spot.x, spot.y, spot.width, spot.height * _LIPS)
    if abs(face.lean) <= _UPRIGHT and not in_front(laid, to_the_lips, least):
        yield note(
            "chin",
            f"The chin of what looks like a face in the photo of {name} would lie behind {before}.",
            f"Look at the proof. {_clear_cure(laid)}",
        )
        return
    yield warn(
        "behind",
        f"What looks like a face in the photo of {name} would lie behind {before}.",
        f"Look at the proof. {_clear_cure(laid)}",
    )


def _clear_cure(laid: LaidLayer[PlacedPhoto]) -> str:
    """How a face comes clear of what lies over it: the focus helps only a crop that can move."""
    placed = laid.placed
    size, crop = placed.photo and placed.photo.size_px, placed.crop
    moves = size and crop and max(size.width - crop.width, size.height - crop.height) >= 1
    what = "Move what lies there (at: in the design)"
    if moves:
        written = laid_photo_as(laid, focus=placed.focus or (0.5, 0.5))
        return f"{what}, choose another design, or write another focus: {written}"
    return f"{what} or choose another design; the whole photo shows, so a focus moves nothing."
