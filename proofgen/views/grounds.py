"""What lies behind words, seen small: enough to say whether they stand out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache, partial

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.artwork.description import content_key
from proofgen.artwork.materials import Materials
from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import Rasters, raster_png, read_raster
from proofgen.colour import (
    Correction,
    ciede2000,
    contrast_ratio,
    hex_to_rgb8,
    ink_on_cloth,
    lab_of,
)
from proofgen.errors import ProofgenError
from proofgen.geometry import FaceName, Rect
from proofgen.model import Layout, Placed, PlacedWords
from proofgen.units import MM_PER_INCH

PER_MM = 2  # px: behind words nothing finer matters
FINE_PER_MM = 5  # px: fine strokes keep their own colour
_KIND = "ground/1"  # raise when small rasters change
_WEAK_TENTH = 0.1  # the ratio is that of the worst tenth of the place

Bytes = NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True)
class Contrast:
    """How words stand out: WCAG ratio at the worst tenth of their place and in its middle, and
    CIEDE2000 in its middle."""

    low: float
    middle: float
    apart: float


def contrast_on(
    colour: str, ground: Bytes, cloth: str, correction: Correction | None = None
) -> Contrast:
    """Words of '#rrggbb' on the inks behind them (n, 3), n > 0, all on one cloth."""
    ink = np.array([hex_to_rgb8(colour)], dtype=np.uint8)
    words, behind = (ink_on_cloth(inks, cloth, correction) for inks in (ink, ground))
    ratios = contrast_ratio(words, behind)
    apart = ciede2000(lab_of(words), lab_of(behind))
    return Contrast(
        low=float(np.quantile(ratios, _WEAK_TENTH)),
        middle=float(np.median(ratios)),
        apart=float(np.median(apart)),
    )


def small_rasters(
    layout: Layout,
    materials: Materials,
    layers: Iterable[Placed] | None = None,
    per_mm: int = FINE_PER_MM,
) -> Rasters:
    """The layout without its words (or only those of its `layers` named) at so many pixels a
    millimetre; kept by content. Errors: as `paint`."""
    faces: dict[FaceName, tuple[Placed, ...]] = {}
    for placed in layout.layers if layers is None else layers:
        if not isinstance(placed, PlacedWords):
            faces[placed.face] = (*faces.get(placed.face, ()), placed)
    bare, ppi = replace(layout, faces=faces), per_mm * MM_PER_INCH
    key = content_key(bare, per_mm)
    painted = cache(partial(paint, bare, ppi, materials))  # once for all panels, if at all

    def small(panel: str) -> Image.Image:
        return materials.store.remember(
            _KIND, f"{panel} {key}", lambda: painted()[panel], read_raster, raster_png
        )

    panels = {
        panel: materials.grounds.remember((panel, key), partial(small, panel))
        for panel in layout.plan.panels
    }
    return Rasters(layout=bare, ppi=ppi, panels=panels)


def ground_of(layout: Layout, placed: PlacedWords, materials: Materials) -> Bytes | None:
    """The inks (as on white) behind the ink of placed words, (n, 3); None where they have no ink,
    or what is behind cannot be painted."""
    if placed.ink is None:
        return None
    below: list[Placed] = []
    for layer in layout.layers:
        if layer is placed:
            break
        below.append(layer)
    try:
        rasters = small_rasters(layout, materials, below, PER_MM)
    except ProofgenError:
        return None
    behind = [
        _cut(rasters[panel], rect, layout.plan.bleed)
        for panel, rect in layout.on_panel(placed, placed.ink)
    ]
    return np.concatenate(behind) if behind else None


def _cut(panel: Image.Image, rect: Rect, bleed: float) -> Bytes:
    """The pixels of a panel on `rect` (mm), at least one."""
    edges = (rect.x, rect.y, rect.right, rect.bottom)
    left, top, right, bottom = (round((edge + bleed) * PER_MM) for edge in edges)
    left, top = min(max(left, 0), panel.width - 1), min(max(top, 0), panel.height - 1)
    right, bottom = max(right, left + 1), max(bottom, top + 1)
    return np.asarray(panel)[top:bottom, left:right].reshape(-1, 3)
