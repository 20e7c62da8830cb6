"""Where people look out of a photo, found by an optional library; None where it is not there."""

from __future__ import annotations

import importlib
import json
from dataclasses import astuple
from functools import cache
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from proofgen.geometry import Rect
from proofgen.model import PhotoFacts
from proofgen.photo.opening import Pictures
from proofgen.store import dump_json

_LONG_SIDE = 360  # px looked at; a face of a fifteenth of it is found
_SMALLEST = 24  # px, what the detector was taught with
# Settings tried by hand on the pictures scikit-image carries: the astronaut and five of six small
# portraits found, nothing in cat, coffee, rocket, bricks, text; with 4 neighbours there is.
_STEP, _AGREEING = 1.1, 12
_KIND = "faces/2"  # raise when the settings change


class _Detector(Protocol):
    def detect_multi_scale(
        self, img: NDArray[np.uint8], **settings: object
    ) -> list[dict[str, int]]: ...


@cache  # loading it takes longer than looking at a photo
def _detector() -> _Detector | None:
    """The cascade of local binary patterns that scikit-image carries (frontal faces), or None."""
    try:
        feature = importlib.import_module("skimage.feature")
        data = importlib.import_module("skimage.data")
        cascade: _Detector = feature.Cascade(data.lbp_frontal_face_cascade_filename())
    except (ImportError, OSError, RuntimeError):
        return None
    return cascade


def find_faces(facts: PhotoFacts, pictures: Pictures) -> tuple[Rect, ...] | None:
    """Faces seen from the front, in px of the upright photo, largest first; None when the library
    is not installed (pip install "proofgen[faces]"). It misses turned and small ones.

    Errors: what opening the photo raises.
    """

    def load(content: bytes) -> tuple[Rect, ...]:
        return tuple(Rect(*values) for values in json.loads(content))

    def dump(faces: tuple[Rect, ...] | None) -> bytes | None:
        return None if faces is None else dump_json([astuple(face) for face in faces])

    return pictures.store.remember(_KIND, facts.sha256, lambda: _look(facts, pictures), load, dump)


def _look(facts: PhotoFacts, pictures: Pictures) -> tuple[Rect, ...] | None:
    detector = _detector()
    if detector is None:
        return None
    scale = min(1.0, _LONG_SIDE / max(facts.width_px, facts.height_px))
    size = max(1, round(facts.width_px * scale)), max(1, round(facts.height_px * scale))
    image = pictures.open_pixels(facts, wanted=size).convert("RGB").resize(size)
    detections = []
    if min(size) > _SMALLEST:
        detections = detector.detect_multi_scale(
            np.asarray(image),
            scale_factor=_STEP,
            step_ratio=1,
            min_size=(_SMALLEST, _SMALLEST),
            max_size=(min(size), min(size)),
            min_neighbor_number=_AGREEING,
        )
    back = facts.width_px / size[0]
    faces = [Rect(*(d[k] * back for k in ("c", "r", "width", "height"))) for d in detections]
    return tuple(sorted(faces, key=lambda face: -face.width))
