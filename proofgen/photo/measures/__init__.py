"""What a photo's pixels tell about it: sharpness, enlarging, lightness, screenshot bars.

Every measure is plain numpy over a grey plane (the brightness of JPEG, Rec. 601) or, for lightness,
the sRGB picture. The photo is decoded once for all the parts of it that are printed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from dataclasses import asdict, replace
from functools import partial
from typing import Any

import numpy as np
import PIL
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
from proofgen.photo.measures.borders import frame_of
from proofgen.photo.measures.jpeg import coarse_quality, quality_of
from proofgen.photo.measures.resampling import traces_of
from proofgen.photo.measures.screens import screen_of
from proofgen.photo.measures.sharpness import sharpness_of
from proofgen.photo.measures.tones import tones_of
from proofgen.photo.opening import Pictures
from proofgen.store import dump_json

__all__ = ["coarse_quality", "measure", "measure_all", "measure_picture", "quality_of"]

_KIND = "photo-measures/12"  # raise when a measure changes


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
    picture: Image.Image | None = None

    def make(key: MeasureKey) -> PhotoMeasures:
        nonlocal picture
        picture = picture or pictures.open_pixels(facts)
        size = (facts.width_px, facts.height_px)
        return measure_picture(picture, Rect(*key.crop), key.raster, full=size)

    return {
        key: pictures.store.remember(
            _KIND, f"{PIL.__version__} {key!r}", partial(make, key), _load, _dump
        )
        for key in keys
    }


def _load(content: bytes) -> PhotoMeasures:
    """Errors: TypeError or LookupError for what `_dump` did not write."""
    kept = json.loads(content)
    traces, tones, frame = kept["traces"], kept["tones"], kept["frame"]
    if traces is not None:
        traces = Traces(**traces | {"swings": Swings(**traces["swings"])})
    parts = {
        "sharpness": Sharpness(**kept["sharpness"]),
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
    if picture.mode == "RGBA":  # what is clear stays bare cloth
        ground = Image.new("RGB", picture.size, "white")
        ground.paste(picture, mask=picture.getchannel("A"))
        picture = ground
    whole = full in (None, picture.size)
    if full and not whole:
        across, down = picture.width / full[0], picture.height / full[1]
        crop = Rect(crop.x * across, crop.y * down, crop.width * across, crop.height * down)
    box = _box(crop, picture.size)
    left, top, right, bottom = box
    light = picture.convert("L")
    grey = np.asarray(light)
    own = grey[top:bottom, left:right]
    plane = np.asarray(_on_raster(light, crop, raster_px) or own, dtype=np.float32) / np.float32(
        255
    )
    return PhotoMeasures(
        sharpness=sharpness_of(plane),
        traces=traces_of(own[-top % 8 :, -left % 8 :]) if whole else None,
        tones=tones_of(picture, box),
        frame=replace(frame_of(grey, box), screen=screen_of(own) if whole else 0.0),
    )


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
