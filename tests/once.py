"""Heavy work whose result hangs on its input alone, done once for all tests of a run.

Shops of tests are much alike: the same page is set, the same picture laid on the same blank and
saved again and again. What came of it lies in a folder that all processes of a run share, under a
digest of all that went in. What remembers nothing itself is put here alone, so that a test of what
the program remembers proves the same.
"""

from __future__ import annotations

import contextlib
import functools
import importlib
import os
import secrets
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from proofgen import store
from proofgen.artwork import typeface
from proofgen.artwork.typeface import LineInk, Typeface
from proofgen.render import html_to_pdf
from proofgen.render.pdf import Way
from proofgen.views import inround, pictures
from proofgen.views.hand import maps, picture
from tests import templates

_SET_IN = (
    "catalogue.pages", "desk.truesize", "pipeline.stall", "press.contact", "press.furniture",
    "press.handing_over", "press.swatches", "press.ticket", "press.trial", "proof.build",
    "reports.evening",
)  # fmt: skip
_SAVED_IN = (
    "pipeline.season_pictures", "pipeline.workroom_pictures", "proof.content", "proof.paper",
    "views.prints", "views.solid.thing",
)  # fmt: skip

_folder: Path | None = None  # where results lie; without one they are made each time


def begin(folder: Path) -> None:
    """Results of this process are those of all that name the same folder."""
    global _folder
    folder.mkdir(exist_ok=True)
    _folder = folder


def shared(about: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this run of the tests have."""
    home = about.getbasetemp()
    return (home.parent if "PYTEST_XDIST_WORKER" in os.environ else home) / "once"


def _made(make: Callable[[], bytes], *of: bytes) -> bytes:
    """What `make` gives, made by whichever process needs it first."""
    if _folder is None:
        return make()
    known = _folder / store.digest(*of)
    try:
        return known.read_bytes()
    except FileNotFoundError:
        content = make()
        half = known.with_suffix(f".{secrets.token_hex(4)}")
        with contextlib.suppress(OSError):  # a test may let this process write nothing
            half.write_bytes(content)
            half.replace(known)
        return content


def _pixels(image: Image.Image) -> tuple[bytes, ...]:
    return repr((image.mode, image.size)).encode(), image.tobytes()


# -- pages


def remembered(
    html: str | Sequence[Way], files: Mapping[str, bytes], *, page_title: str, **how: Any
) -> bytes:
    """`html_to_pdf`, which gives the same bytes for the same page, asked once for each page."""
    page = html if isinstance(html, str) else html[0](0.0)
    within = [part for name in sorted(files) for part in (name.encode(), files[name])]
    make = functools.partial(html_to_pdf, html, files, page_title=page_title, **how)
    return _made(make, b"page", page.encode(), page_title.encode(), *within)


def remember_pdfs(patch: pytest.MonkeyPatch) -> None:
    """Set each page once for all tests: those of one are mostly those of the next."""
    for room in _SET_IN:
        patch.setattr(importlib.import_module(f"proofgen.{room}"), "html_to_pdf", remembered)


# -- pictures


def _saved(save: Callable[..., bytes], image: Image.Image, quality: int, **how: Any) -> bytes:
    make = functools.partial(save, image, quality, **how)
    told = repr((save.__name__, quality, how)).encode()
    return _made(make, told, *_pixels(image))


def _printed(draw: Callable[..., Image.Image], pixels: Any, map_: maps.Map, *how: Any) -> Any:
    """A print on its thing; where another picture is its ground, drawn each time."""
    if not all(isinstance(one, str | float) for one in how):
        return draw(pixels, map_, *how)
    given = _pixels(pixels) if isinstance(pixels, Image.Image) else _of_array(pixels)
    numbers = {name: getattr(map_, name) for name in ("frame", "rows", "cols", *_own(map_))}
    arrays = {name: numbers.pop(name) for name in [*numbers] if _is_array(numbers[name])}
    told = repr((draw.__name__, how, sorted(numbers.items()), sorted(arrays))).encode()
    layers = [part for name in sorted(arrays) for part in _of_array(arrays[name])]
    high, wide = map_.shares.shape[1:]
    drawn = _made(
        lambda: draw(pixels, map_, *how).tobytes(), told, *given, *_of_array(map_.shares), *layers
    )
    return Image.frombytes("RGB", (wide, high), drawn)


def _own(map_: maps.Map) -> Sequence[str]:
    return type(map_).__slots__


def _is_array(value: object) -> bool:
    return isinstance(value, np.ndarray)


def _of_array(array: Any) -> tuple[bytes, bytes]:
    return repr((array.shape, array.dtype.str)).encode(), array.tobytes()


class _Drawn:
    """A store that keeps what was drawn for all shops, and lets each shop's own keep it too."""

    def __init__(self, own: Any) -> None:
        self._own = own

    def remember(
        self,
        kind: str,
        key: str,
        make: Callable[[], maps.Bytes],
        load: Callable[[bytes], maps.Bytes],
        dump: Callable[[maps.Bytes], bytes],
    ) -> maps.Bytes:
        def once() -> maps.Bytes:
            return load(_made(lambda: dump(make()), kind.encode(), key.encode()))

        return self._own.remember(kind, key, once, load, dump)


def _map_kept(thing: Any, frame: Any, turn: float, keeping: Any, make: Any) -> maps.Bytes:
    """What `maps._kept` gives: it hangs on a blank's numbers alone, whatever store a shop has."""
    return MAP_KEPT(thing, frame, turn, maps._Keeping(_Drawn(keeping.store)), make)  # type: ignore[arg-type]


# -- letters

_inks: dict[tuple[str, str, int], LineInk | None] = {}


def _measured(face: Typeface, text: str) -> LineInk | None:
    """The ink of a line in this very font, measured once a process."""
    typeface.need_shaping()
    key = (face.sha256, text, typeface.REFERENCE)
    if key not in _inks:
        _inks[key] = _MEASURED(face, text)
    return _inks[key]


MAP_KEPT, _MEASURED = maps._kept, Typeface._measured  # the program's own


def remember_drawings(patch: pytest.MonkeyPatch) -> None:
    """Compile each template, draw and save each picture and measure each line once."""
    patch.setattr("proofgen.render.theme.Theme._environment", templates.environment)
    patch.setattr(maps, "_kept", _map_kept)
    patch.setattr(Typeface, "_measured", _measured)
    for name in ("laid", "printed"):
        draw = functools.partial(_printed, getattr(picture, name))
        patch.setattr(inround, name, draw)
    for room in _SAVED_IN:
        module = importlib.import_module(f"proofgen.{room}")
        for name in ("jpeg", "webp"):
            if hasattr(module, name):
                patch.setattr(module, name, functools.partial(_saved, getattr(pictures, name)))
