"""Measures a picture and asks the checks, remembering every measure by what it was taken of.

What is remembered lies beside the fetched photographs (tests/real_photos.py), outside the
repository. Each part of the measures has its own key: the bytes it is taken of and the source files
that take it. So a changed measure is taken anew, and the others are not.
"""

from __future__ import annotations

import functools
import hashlib
import inspect
import pickle
import re
import sys
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

import numpy as np
import PIL
from PIL import Image

import proofgen.photo.measures as measures
from proofgen.checks.lookup import look
from proofgen.geometry import Rect
from proofgen.model import Frame, Limits, PhotoFacts, PhotoMeasures
from proofgen.units import pixels
from tests.real_photos import cache

PPI = 300.0
_PLACE = Path(measures.__file__).parent
_MODEL = Path(inspect.getfile(PhotoMeasures))
_IMPORT = re.compile(r"^from proofgen\.photo\.measures\.(\w+) import", re.MULTILINE)

# What was found of each check: (status, code) by the check's name without "photo/".
Said = dict[str, tuple[str, str]]


class Remembered:
    """The measures' own functions (named …_of), each asked only for what it has not seen."""

    def __init__(self, name: str) -> None:
        self._file = cache() / "measures" / f"{name}.pickle"
        # Each by itself in bytes: what was kept of an older measure is never opened.
        self._kept: dict[str, bytes] = {}
        self._new = False
        if self._file.is_file():
            self._kept = pickle.loads(self._file.read_bytes())

    def __enter__(self) -> Remembered:
        self._own = {
            name: function
            for name, function in vars(measures).items()
            if name.endswith("_of") and inspect.isfunction(function)
        }
        for name, function in self._own.items():
            setattr(measures, name, self._remembering(name, function))
        return self

    def __exit__(self, *_: object) -> None:
        for name, function in self._own.items():
            setattr(measures, name, function)
        if self._new:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            temporary = self._file.with_suffix(".part")
            temporary.write_bytes(pickle.dumps(self._kept))
            temporary.replace(self._file)

    def _remembering(self, name: str, function: Callable[..., object]) -> Callable[..., object]:
        source = _source(Path(inspect.getfile(function)).stem)

        def ask(*given: object, **named: object) -> object:
            seen = hashlib.blake2b(f"{name} {source} {sorted(named.items())}".encode())
            for one in given:
                seen.update(_content(one))
            key = seen.hexdigest()[:32]
            if key not in self._kept:
                self._kept[key], self._new = pickle.dumps(function(*given, **named)), True
            return pickle.loads(self._kept[key])

        return ask


def _content(given: object) -> bytes:
    if isinstance(given, np.ndarray):
        return f"{given.dtype}{given.shape}".encode() + np.ascontiguousarray(given).tobytes()
    if isinstance(given, Image.Image):
        return f"{given.mode}{given.size}".encode() + given.tobytes()
    return repr(given).encode()


@functools.cache
def _source(module: str) -> str:
    """A digest of a measure's source file, of those of its neighbours that it imports, and of what
    else it depends on."""
    wanted, texts = [module], {}
    while wanted:
        name = wanted.pop()
        if name not in texts and (path := _PLACE / f"{name}.py").is_file():
            texts[name] = path.read_text(encoding="utf-8")
            wanted += _IMPORT.findall(texts[name])
    texts["model"] = _MODEL.read_text(encoding="utf-8")
    texts["versions"] = f"{sys.version_info[:2]} {np.__version__} {PIL.__version__}"
    return hashlib.sha256(repr(sorted(texts.items())).encode()).hexdigest()


def judged(
    picture: Image.Image, size_mm: tuple[float, float], *, traces: bool = True, **facts: object
) -> tuple[PhotoMeasures, Said]:
    """Measures of a picture printed whole, and what each check says. Without `traces`, half of the
    time is saved and nothing is known of enlarging."""
    known = PhotoFacts(
        file=Path("photo"), width_px=picture.width, height_px=picture.height, **facts
    )
    whole = Rect(0, 0, picture.width, picture.height)
    if traces:
        return judged_part(picture, whole, size_mm, known)
    with patch.object(measures, "traces_of", lambda *_, **__: None):
        return judged_part(picture, whole, size_mm, known)


def judged_grey(
    picture: Image.Image, size_mm: tuple[float, float], **facts: object
) -> tuple[PhotoMeasures, Said]:
    """The same of a grey picture of which sharpness and lightness alone are asked."""
    known = PhotoFacts(
        file=Path("photo"), width_px=picture.width, height_px=picture.height, **facts
    )
    plane = np.asarray(picture, dtype=np.float32) / 255
    seen = PhotoMeasures(
        sharpness=measures.sharpness_of(plane),
        traces=None,
        tones=measures.tones_of(picture.convert("RGB")),
        frame=Frame(),
    )
    return seen, said_of(known, seen, size_mm)


def judged_part(
    picture: Image.Image, crop: Rect, size_mm: tuple[float, float], known: PhotoFacts
) -> tuple[PhotoMeasures, Said]:
    """The same of a part (px of the photo) of a photo of which more is known."""
    raster = (pixels(size_mm[0], PPI), pixels(size_mm[1], PPI))
    seen = measures.measure_picture(picture, crop, raster, full=(known.width_px, known.height_px))
    return seen, said_of(known, seen, size_mm)


def said_of(
    known: PhotoFacts, seen: PhotoMeasures | None, size_mm: tuple[float, float] = (0.0, 0.0)
) -> Said:
    """What all checks of a photo say, the worst of each."""
    said: Said = {}
    for found in look(known, [], Limits(), seen, size_mm):
        said.setdefault(found.check.removeprefix("photo/"), (found.status, found.code or ""))
    return said
