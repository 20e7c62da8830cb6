"""Which part of a photo to show when nobody said: what is busy is seen, not in a hidden strip."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PIL import Image

from proofgen.artwork.covering import hidden_by
from proofgen.artwork.maps import GRID, Map, cells_of, remember_map
from proofgen.geometry import Canvas, FaceName, Plan, Rect, cover_crop
from proofgen.model import PhotoFacts, Placed
from proofgen.photo.opening import Pictures

_DECODE = (160, 160)
_STEPS = 25  # places tried along each way the crop can still move
_NEAR_MM = 6.0  # beside a join or seam
_CUT = 0.8  # how bad it is to have something cut there: as bad as it is good to have it shown
_KIND = "busy-parts/2"  # raise when the map changes


def busy_parts(image: Image.Image) -> Map:
    """A (48, 48) map of where a picture is busy, summing to 1: edges in lightness and colour,
    smoothed, with some weight for the middle. Plain saliency, common practice, no source."""
    small = image.convert("RGBA").resize((GRID * 2, GRID * 2), Image.Resampling.BOX)
    pixels = np.asarray(small, dtype=np.float64) / 255
    alpha = pixels[..., 3]
    energy = np.zeros(alpha.shape)
    for band in range(3):
        down, across = np.gradient(pixels[..., band] * alpha)
        energy += np.hypot(down, across)
    # Strong single edges (a horizon) should not outweigh a whole textured figure.
    energy = np.sqrt(energy) * alpha
    cells = energy.reshape(GRID, 2, GRID, 2).mean(axis=(1, 3))
    kernel = np.array([1, 4, 6, 4, 1]) / 16
    for axis in (0, 1):
        padded = np.pad(cells, [(2, 2) if a == axis else (0, 0) for a in (0, 1)], mode="edge")
        cells = sum(
            weight * np.take(padded, range(i, i + GRID), axis=axis)
            for i, weight in enumerate(kernel)
        )
    cells = np.clip(cells - np.quantile(cells, 0.4), 0, None) ** 1.5
    middle = 1 - ((np.arange(GRID) + 0.5) / GRID * 2 - 1) ** 2
    cells = cells * (0.35 + 0.65 * np.sqrt(np.outer(middle, middle)))
    total = float(cells.sum())
    return cells / total if total > 1e-9 else np.full(cells.shape, 1 / cells.size)


def busy_map(facts: PhotoFacts, pictures: Pictures) -> Map:
    """`busy_parts` of a photo, kept by its content. Errors: what opening the photo raises."""
    return remember_map(pictures, _KIND, facts, _DECODE, busy_parts)


def _worth(plan: Plan, canvas: FaceName, panel: str, px: Map, py: Map) -> Map:
    """How well each place (mm) of a panel is seen, by the blank alone: 0 in bleed and zones, most
    near the middle of a face (of a wrap: near its front), below 0 beside a join or seam, where
    what is busy would be cut in two."""
    worth = np.zeros((len(py), len(px)))
    for face in plan.faces:
        if face.panel != panel:
            continue
        rect = face.rect
        inside = np.outer((py >= rect.y) & (py <= rect.bottom), (px >= rect.x) & (px <= rect.right))
        off = np.abs(px - rect.centre_x) / rect.width * 2
        worth = np.maximum(worth, inside * np.clip(1 - 0.75 * off**2, 0.1, 1)[None, :])
    if canvas == "round":
        for face in plan.faces:
            # The sides of a wrap's front are no edges: the cloth goes on.
            if face.panel == panel and (plan.construction != "wrap" or face.name == "round"):
                edge = np.minimum(np.abs(px - face.rect.x), np.abs(px - face.rect.right))
                worth -= (worth > 0) * (_CUT * np.clip(1 - edge / _NEAR_MM, 0, 1))[None, :]
    for zone in plan.zones_on(panel):
        rect = zone.rect
        worth *= ~np.outer(
            (py >= rect.y) & (py <= rect.bottom), (px >= rect.x) & (px <= rect.right)
        )
    return worth


def _seen(
    plan: Plan, canvas: Canvas, slot: Rect, above: Sequence[Placed], pictures: Pictures
) -> Map:
    """How well each of (48, 48) cells of the slot is seen: as `_worth`, less what later layers
    hide."""
    seen = np.zeros((GRID, GRID))
    xs = slot.x + (np.arange(GRID) + 0.5) / GRID * slot.width
    ys = slot.y + (np.arange(GRID) + 0.5) / GRID * slot.height
    for part in canvas.parts:
        source = part.source
        here = np.outer(
            (ys >= source.y) & (ys < source.bottom), (xs >= source.x) & (xs < source.right)
        )
        px, py = part.points_to_panel(xs, ys)
        worth = _worth(plan, canvas.name, part.panel, px, py)
        worth *= 1 - hidden_by(above, plan, part.panel, px, py, pictures)
        seen = np.where(here, worth, seen)
    return seen


def choose_focus(
    facts: PhotoFacts,
    plan: Plan,
    canvas: Canvas,
    slot: Rect,
    zoom: float,
    pictures: Pictures,
    above: Sequence[Placed] = (),
) -> tuple[float, float]:
    """The focus (shares of the upright photo) whose crop shows most of what is busy outside bleed,
    zones and the layers `above` it, and least of it beside a join. `slot` is in the face's frame,
    mm.

    Errors: what opening the photo raises.
    """
    photo, aim = facts.size_px, canvas.aim_in(slot)
    cells, seen = busy_map(facts, pictures), _seen(plan, canvas, slot, above, pictures)
    widest = cover_crop(photo, slot.size, (0.5, 0.5), zoom, aim)
    wide, high = widest.width, widest.height
    centres = (np.arange(GRID) + 0.5) / GRID
    lefts = [(x, cells_of(centres, x, wide, photo.width)) for x in _starts(photo.width - wide)]
    best: tuple[float, float, tuple[float, float]] | None = None
    for y in _starts(photo.height - high):
        rows = cells[cells_of(centres, y, high, photo.height)]
        for x, cols in lefts:
            # How much of what is busy the crop shows where it is seen; of places that show the
            # same, the one nearest the photo's middle.
            shown = round(float((rows[:, cols] * seen).sum()), 6)
            away = abs((x + wide / 2) / photo.width - 0.5) + abs(
                (y + high / 2) / photo.height - 0.5
            )
            if best is None or (shown, -away) > best[:2]:
                best = (shown, -away, (x, y))
    assert best is not None
    x, y = best[2]
    return (
        round((x + aim[0] / slot.width * wide) / photo.width, 4),
        round((y + aim[1] / slot.height * high) / photo.height, 4),
    )


def _starts(room: float) -> list[float]:
    if room < 1:
        return [max(room, 0.0) / 2]
    return [room * i / (_STEPS - 1) for i in range(_STEPS)]
