"""The check of faces in photos: cut at an edge, in a seam, outside, behind words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from proofgen.artwork.covering import hidden_by
from proofgen.checks.areas import beyond, crossed, on_panels, seen_area, zones_met
from proofgen.checks.frame import Remark, Remarks, check, note, skipped, warn
from proofgen.checks.subjects import LaidLayer, placed_photos
from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import Limits, PhotoFacts, Placed, PlacedPhoto, PlacedWords
from proofgen.model.limits import PRACTICE
from proofgen.photo.faces import Face, find_faces, main_faces, turn_to_stand
from proofgen.say import quoted
from proofgen.say.parts import IN_ZONES

_CURE = "Look at the proof; then move the photo’s focus, or show more of the photo."
_SIDES = {"left": "left side", "top": "upper edge", "right": "right side", "bottom": "lower edge"}
_LIPS = 0.85  # of a face's height lie above the lower lip, about; looked at, no source
_UPRIGHT = 30  # degrees: a face that leans less has its chin at its foot
_SPOTS = 8  # places looked at across a face, and down


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
            f"Look at the proof. If it is so, {_turning_cure(photo.photo, turn)}",
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


def _turning_cure(photo: PhotoFacts, turn: int) -> str:
    wanted = (photo.turn + turn) % 360
    if not wanted:
        return f"take turn: {photo.turn} away from its line in order.yaml."
    return f"write turn: {wanted} beside its file in order.yaml, as in {{file: …, turn: {wanted}}}."


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
    if kind and met[kind] > least * spot.width:
        where = IN_ZONES[kind]
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
    before = _in_front(laid, spot, least)
    if not before:
        return
    name = quoted(laid.placed.slot)
    to_the_lips = Rect(spot.x, spot.y, spot.width, spot.height * _LIPS)
    if abs(face.lean) <= _UPRIGHT and not _in_front(laid, to_the_lips, least):
        yield note(
            "chin",
            f"The chin of what looks like a face in the photo of {name} would lie behind {before}.",
            f"Look at the proof. {_clear_cure(laid.placed)}",
        )
        return
    yield warn(
        "behind",
        f"What looks like a face in the photo of {name} would lie behind {before}.",
        f"Look at the proof. {_clear_cure(laid.placed)}",
    )


def _clear_cure(placed: PlacedPhoto) -> str:
    """How a face comes clear of what lies over it: the focus helps only a crop that can move."""
    size, crop = placed.photo and placed.photo.size_px, placed.crop
    moves = size and crop and max(size.width - crop.width, size.height - crop.height) >= 1
    what = "Move what lies there (at: in the design)"
    if moves:
        return f"{what}, choose another design, or write another focus: for the photo."
    return f"{what} or choose another design; the whole photo shows, so a focus moves nothing."


def _in_front(laid: LaidLayer[PlacedPhoto], spot: Rect, least: float) -> str:
    """What is drawn over more than a share `least` of a face; '' for nothing."""
    layers = laid.layout.layers
    above = layers[next(i for i, one in enumerate(layers) if one is laid.placed) + 1 :]
    parts = list(on_panels(laid.plan, laid.placed.face, spot))
    for words in (one for one in above if isinstance(one, PlacedWords) and one.ink):
        ink = list(on_panels(laid.plan, words.face, words.ink or spot))
        if _shared(parts, ink) > least * spot.width * spot.height:
            return f"the words of {quoted(words.slot)}" if words.slot else quoted(words.text)
    others = [one for one in above if not isinstance(one, PlacedWords)]
    return "what the design draws over it" if _hidden(laid, parts, others) > least else ""


def _shared(these: Iterable[tuple[str, Rect]], those: Iterable[tuple[str, Rect]]) -> float:
    """How much (mm²) parts of panels have in common."""
    common = [one.overlap(other) for p, one in these for q, other in those if p == q]
    return sum(both.width * both.height for both in common if both)


def _hidden(
    laid: LaidLayer[PlacedPhoto], parts: Iterable[tuple[str, Rect]], above: Iterable[Placed]
) -> float:
    """The largest share of a part (mm on its panel) that the layers `above` hide."""
    shares = (np.arange(_SPOTS) + 0.5) / _SPOTS
    pictures = laid.line.materials.pictures
    most = 0.0
    for panel, rect in parts:
        xs, ys = rect.x + shares * rect.width, rect.y + shares * rect.height
        most = max(most, float(hidden_by(above, laid.plan, panel, xs, ys, pictures).mean()))
    return most
