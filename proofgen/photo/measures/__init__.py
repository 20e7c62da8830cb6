"""What a photo's pixels tell about it: sharpness, enlarging, lightness, screenshot bars.

Every measure is plain numpy over a grey plane (the brightness of JPEG, Rec. 601) or, for lightness,
the sRGB picture. The photo is decoded once for all the parts of it that are printed.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from typing import Any

import numpy as np
import PIL
from numpy.typing import NDArray
from PIL import Image

from proofgen.geometry import Rect
from proofgen.model import MeasureKey, PhotoFacts, PhotoMeasures, measure_key, measures_from
from proofgen.photo import opening as photos
from proofgen.photo.measures.blur import blur_effect
from proofgen.photo.measures.borders import bars, status_line
from proofgen.photo.measures.edges import edge_widths
from proofgen.photo.measures.exposure import exposure
from proofgen.photo.measures.jpeg import quality_of
from proofgen.photo.measures.periods import swing_lines
from proofgen.photo.measures.resampling import fine_share, repeated_lines, resampling_peak
from proofgen.photo.measures.tiles import busiest
from proofgen.store import Store, digest

__all__ = ["blur_effect", "measure", "measure_all", "measure_picture", "quality_of"]

_REMEMBERED = b"photo-measures/3"  # raise when a measure changes

Grey = NDArray[np.uint8]


def measure(
    facts: PhotoFacts, crop: Rect, raster_px: tuple[int, int], store: Store | None = None
) -> PhotoMeasures:
    """Measures of the part `crop` (px of the upright photo) printed on `raster_px` (w, h).

    Remembered in the store. Errors: ProofgenError as `open_pixels` raises it.
    """
    key = measure_key(facts.sha256, crop, raster_px)
    return measure_all(facts, [key], store)[key]


def measure_all(
    facts: PhotoFacts, keys: Iterable[MeasureKey], store: Store | None = None
) -> dict[MeasureKey, PhotoMeasures]:
    """The same for several parts of one photo, which is decoded at most once."""
    found: dict[MeasureKey, PhotoMeasures] = {}
    picture: Image.Image | None = None
    for key in keys:
        name = digest(_REMEMBERED, PIL.__version__.encode(), repr(key).encode())
        known = measures_from(store.get_json(name)) if store else None
        if known is None:
            picture = picture or photos.open_pixels(facts)
            known = measure_picture(
                picture, Rect(*key.crop), key.raster, full=(facts.width_px, facts.height_px)
            )
            if store:
                store.put(name, json.dumps(known.as_json(), sort_keys=True).encode())
        found[key] = known
    return found


def measure_picture(
    picture: Image.Image,
    crop: Rect,
    raster_px: tuple[int, int],
    *,
    full: tuple[int, int] | None = None,
) -> PhotoMeasures:
    """Measures of an opened picture. `crop` is in px of `full`, by default the picture's size;
    where the picture is smaller than that, it was decoded scaled and keeps no traces."""
    size = full or picture.size
    if picture.mode == "RGBA":  # what is clear stays bare cloth
        ground = Image.new("RGB", picture.size, "white")
        ground.paste(picture, mask=picture.getchannel("A"))
        picture = ground
    scale = (picture.width / size[0], picture.height / size[1])
    box = _box(crop, scale, picture.size)
    grey = picture.convert("L")
    printed = np.asarray(grey.crop(box))
    plane = np.asarray(_on_raster(grey, crop, scale, raster_px, box), dtype=np.float32) / 255
    edges, light = edge_widths(plane), exposure(picture.crop(box))
    around = bars(np.asarray(grey))
    return PhotoMeasures(
        width_px=plane.shape[1],
        height_px=plane.shape[0],
        blur=round(blur_effect(plane), 5),
        edge_px=_rounded(edges.edge),
        edge_across_px=_rounded(edges.across),
        edge_down_px=_rounded(edges.down),
        line_px=_rounded(edges.line),
        lightness=light.lightness,
        dark=round(light.dark, 5),
        bright=round(light.bright, 5),
        strong=round(light.strong, 5),
        bars=(around[0], around[1], around[2], around[3]),
        bars_shown=_reach_into(around, box, picture.size),
        status_line=status_line(np.asarray(grey)),
        **(_traces(printed) if scale == (1.0, 1.0) else {"whole": False}),
    )


def _traces(printed: Grey) -> dict[str, Any]:
    """What enlarging left, looked for at the file's own pixels."""
    tiles = busiest(printed)
    swings = swing_lines(tiles)
    peak, peak_at = resampling_peak(printed)
    grid = (swings.eighth, swings.quarter, swings.three_eighths, swings.half)
    return {
        "swing": _short(swings.line),
        "swing_at": round(swings.at, 5),
        "swing_over": _short(swings.over),
        "swing_many": int(swings.many),
        "swing_comb": _short(swings.comb),
        "swing_grid": tuple(_short(one) for one in grid),
        "peak": round(peak, 3),
        "peak_at": round(peak_at, 5),
        "repeats": round(repeated_lines(printed), 4),
        "fine": _short(fine_share(tiles)),
    }


def _short(value: float) -> float:
    """Four digits: more would only make the store differ between machines."""
    return float(f"{value:.4g}")


def _rounded(sigma: float | None) -> float | None:
    return None if sigma is None else round(sigma, 3)


def _box(
    crop: Rect, scale: tuple[float, float], size: tuple[int, int]
) -> tuple[int, int, int, int]:
    """The whole pixels that the crop touches, at least one."""
    left = min(max(math.floor(crop.x * scale[0] + 1e-6), 0), size[0] - 1)
    top = min(max(math.floor(crop.y * scale[1] + 1e-6), 0), size[1] - 1)
    right = min(max(math.ceil(crop.right * scale[0] - 1e-6), left + 1), size[0])
    bottom = min(max(math.ceil(crop.bottom * scale[1] - 1e-6), top + 1), size[1])
    return left, top, right, bottom


def _on_raster(
    grey: Image.Image,
    crop: Rect,
    scale: tuple[float, float],
    raster_px: tuple[int, int],
    box: tuple[int, int, int, int],
) -> Image.Image:
    """The printed part as the press raster has it; never enlarged, since that would blur it."""
    left, top = max(crop.x * scale[0], 0.0), max(crop.y * scale[1], 0.0)
    right = min(crop.right * scale[0], grey.width)
    bottom = min(crop.bottom * scale[1], grey.height)
    if raster_px[0] >= right - left or raster_px[1] >= bottom - top:
        return grey.crop(box)
    return grey.resize(raster_px, Image.Resampling.LANCZOS, box=(left, top, right, bottom))


def _reach_into(
    around: tuple[float, ...], box: tuple[int, int, int, int], size: tuple[int, int]
) -> bool:
    """Whether the printed part holds some of a bar, by more than a hair."""
    left, top, right, bottom = around
    return bool(
        (left and box[0] < (left - 0.002) * size[0])
        or (top and box[1] < (top - 0.002) * size[1])
        or (right and box[2] > (1 - right + 0.002) * size[0])
        or (bottom and box[3] > (1 - bottom + 0.002) * size[1])
    )
