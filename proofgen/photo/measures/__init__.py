"""What a photo's pixels tell about it: sharpness, enlarging, lightness, screenshot bars.

Every measure is plain numpy over a grey plane (the brightness of JPEG, Rec. 601) or, for lightness,
the sRGB picture. The photo is decoded once for all the parts of it that are printed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace
from functools import partial
from typing import Any

import numpy as np
import PIL
from numpy.typing import NDArray
from PIL import Image

from proofgen.geometry import Rect
from proofgen.model import (
    Frame,
    MeasureKey,
    PhotoFacts,
    PhotoMeasures,
    Sharpness,
    Swings,
    Tones,
    Traces,
    measure_key,
)
from proofgen.photo.measures.blotches import blotches_of
from proofgen.photo.measures.borders import frame_of, reach_into
from proofgen.photo.measures.cards import card_of
from proofgen.photo.measures.jpeg import coarse_quality, quality_of
from proofgen.photo.measures.resampling import traces_of
from proofgen.photo.measures.screens import screen_of
from proofgen.photo.measures.sharpness import around_of, sharpness_of
from proofgen.photo.measures.tones import tones_of
from proofgen.photo.opening import Pictures
from proofgen.store import dump_json

__all__ = ["coarse_quality", "measure", "measure_all", "measure_picture", "quality_of"]

_KIND = "photo-measures/15"  # raise when a measure changes
_SOFT = 1.0  # px: a part whose sharpest edges are as wide is compared with what is around it
_LARGER = 1.2  # times a part's px: what holds less beside it is no more than the part
_AROUND = 2400  # px of a side, on the raster, that are looked at for that


def measure(
    facts: PhotoFacts, crop: Rect, raster_px: tuple[int, int], pictures: Pictures
) -> PhotoMeasures:
    """Measures of the part `crop` (px of the upright photo) printed on `raster_px` (w, h).

    Remembered in the store. Errors: ProofgenError as `open_pixels` raises it.
    """
    key = measure_key(facts, crop, raster_px)
    return measure_all(facts, [key], pictures)[key]


def measure_all(
    facts: PhotoFacts, keys: Iterable[MeasureKey], pictures: Pictures
) -> dict[MeasureKey, PhotoMeasures]:
    """The same for several parts of one photo, which is decoded at most once."""
    wanted = list(keys)
    read: _Read | None = None

    def make(key: MeasureKey) -> PhotoMeasures:
        nonlocal read
        if read is None:
            size = (facts.width_px, facts.height_px)
            crops = [Rect(*one.crop) for one in wanted]
            read = _read(pictures.open_pixels(facts), crops, size)
        return _measured(read, Rect(*key.crop), key.raster)

    return {
        key: pictures.store.remember(
            _KIND, f"{PIL.__version__} {key!r}", partial(make, key), _load, _dump
        )
        for key in wanted
    }


def _load(content: bytes) -> PhotoMeasures:
    """Errors: TypeError or LookupError for what `_dump` did not write."""
    kept = json.loads(content)
    traces, tones, frame = kept["traces"], kept["tones"], kept["frame"]
    if traces is not None:
        traces = Traces(**traces | {"swings": Swings(**traces["swings"])})
    parts = {
        "sharpness": Sharpness(**_tupled(kept["sharpness"])),
        "traces": traces,
        "tones": Tones(**_tupled(tones)),
        "frame": Frame(**_tupled(frame)),
    }
    return PhotoMeasures(**kept | parts)


def _tupled(kept: dict[str, Any]) -> dict[str, Any]:
    return {k: tuple(v) if isinstance(v, list) else v for k, v in kept.items()}


def _dump(measures: PhotoMeasures) -> bytes:
    return dump_json(asdict(measures))


def measure_picture(
    picture: Image.Image,
    crop: Rect,
    raster_px: tuple[int, int],
    *,
    full: tuple[int, int] | None = None,
) -> PhotoMeasures:
    """Measures of an opened picture. `crop` is in px of `full`, by default the picture's size;
    where the picture is smaller than that, it was decoded scaled and keeps no traces."""
    return _measured(_read(picture, [crop], full or picture.size), crop, raster_px)


@dataclass(frozen=True, slots=True)
class _Read:
    """What the measures need of a picture: its brightness (mode L) and, by the crop (px of `full`),
    what its colours tell. The colours themselves, four bytes a pixel, may be let go."""

    light: Image.Image
    tones: dict[Rect, Tones]
    full: tuple[int, int]
    card: tuple[float, tuple[float, float, float, float]]  # of `card_of`

    def crop(self, crop: Rect) -> Rect:
        return _scaled(crop, self.full, self.light.size)


def _read(picture: Image.Image, crops: Iterable[Rect], full: tuple[int, int]) -> _Read:
    if picture.mode == "RGBA":  # what is clear stays bare cloth
        ground = Image.new("RGB", picture.size, "white")
        ground.paste(picture, mask=picture.getchannel("A"))
        picture = ground
    tones = {}
    for crop in dict.fromkeys(crops):
        box = _box(_scaled(crop, full, picture.size), picture.size)
        tones[crop] = replace(tones_of(picture, box), blotches=blotches_of(picture, box))
    light = picture.convert("L")
    return _Read(light, tones, full, card_of(light))


def _scaled(crop: Rect, full: tuple[int, int], size: tuple[int, int]) -> Rect:
    if full == size:
        return crop
    across, down = size[0] / full[0], size[1] / full[1]
    return Rect(crop.x * across, crop.y * down, crop.width * across, crop.height * down)


def _measured(read: _Read, part: Rect, raster_px: tuple[int, int]) -> PhotoMeasures:
    crop, light = read.crop(part), read.light
    whole = light.size == read.full
    box = _box(crop, light.size)
    left, top, right, bottom = box
    grey = np.asarray(light)
    own = grey[top:bottom, left:right]
    plane = _plane(_on_raster(light, crop, raster_px) or own)
    sharpness = sharpness_of(plane)
    if sharpness.edge_px is None or sharpness.edge_px >= _SOFT:
        around = _around(light, crop, plane.shape[1] / (right - left))
        sharpness = replace(sharpness, around_px=around_of(_plane(around)) if around else None)
    card, sides = read.card
    return PhotoMeasures(
        sharpness=sharpness,
        traces=traces_of(own[-top % 8 :, -left % 8 :]) if whole else None,
        tones=read.tones[part],
        frame=replace(
            frame_of(grey, box),
            screen=screen_of(own) if whole else 0.0,
            card=card if reach_into(sides, box, light.size) else 0.0,
        ),
    )


def _plane(grey: Image.Image | NDArray[np.uint8]) -> NDArray[np.float32]:
    return np.asarray(grey, dtype=np.float32) / np.float32(255)


def _around(grey: Image.Image, crop: Rect, share: float) -> Image.Image | None:
    """The picture around a printed part, at the same `share` of its own size; None where the part
    is nearly all of it."""
    reach = _AROUND / share
    wide = min(grey.width, max(reach, crop.width))
    high = min(grey.height, max(reach, crop.height))
    if wide * high < _LARGER * crop.width * crop.height:
        return None
    left = min(max(crop.x + (crop.width - wide) / 2, 0), grey.width - wide)
    top = min(max(crop.y + (crop.height - high) / 2, 0), grey.height - high)
    part = Rect(left, top, wide, high)
    made = _on_raster(grey, part, (round(wide * share), round(high * share)))
    return made or grey.crop(_box(part, grey.size))


def _box(crop: Rect, size: tuple[int, int]) -> tuple[int, int, int, int]:
    """The whole pixels that the crop touches, at least one."""
    left = min(max(math.floor(crop.x + 1e-6), 0), size[0] - 1)
    top = min(max(math.floor(crop.y + 1e-6), 0), size[1] - 1)
    right = min(max(math.ceil(crop.right - 1e-6), left + 1), size[0])
    bottom = min(max(math.ceil(crop.bottom - 1e-6), top + 1), size[1])
    return left, top, right, bottom


def _on_raster(grey: Image.Image, crop: Rect, raster_px: tuple[int, int]) -> Image.Image | None:
    """The printed part as the press raster has it; None where it would have to be enlarged, since
    that would blur it."""
    left, top = max(crop.x, 0.0), max(crop.y, 0.0)
    right, bottom = min(crop.right, grey.width), min(crop.bottom, grey.height)
    if raster_px[0] >= right - left or raster_px[1] >= bottom - top:
        return None
    return grey.resize(raster_px, Image.Resampling.LANCZOS, box=(left, top, right, bottom))
