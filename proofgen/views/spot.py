"""Which part of a photo to look at in its real size: one rule for the proof and the findings."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from proofgen.artwork.attention import busy_map, fine_map
from proofgen.artwork.focus import seen_cells
from proofgen.artwork.maps import GRID, Map, cells_of
from proofgen.errors import ProofgenError
from proofgen.geometry import Rect, Size
from proofgen.model import Layout, PhotoFacts, PlacedPhoto
from proofgen.photo.faces import find_faces, main_faces
from proofgen.photo.opening import Pictures

REAL_SIZE = Size(85.0, 50.0)  # mm: what a telephone's page shows whole
_STEPS = 33  # places tried each way
_SHARES = (np.arange(GRID) + 0.5) / GRID
# What a whole face weighs, or all that is busy, against a part that is hidden all over; and each
# of the part's own lengths away from its middle. Tried on wraps and coasters, no source.
_FACE, _BUSY = (4.0, 0.3), (2.0, 0.01)
_PLAIN = 0.05  # what is busy counts a little where nothing is fine


def best_spot(
    layout: Layout, placed: PlacedPhoto, bounds: Rect, size: Size, pictures: Pictures
) -> tuple[float, float] | None:
    """The middle of that part of `size` (mm) within `bounds` (the photo's face's frame) in which a
    photo is best judged: about its largest face that is seen, else about what is busy and fine in
    it, and beside what later layers and the blank hide. None where nothing can be told."""
    area = placed.rect.overlap(bounds)
    if placed.photo is None or placed.crop is None or area is None:
        return None
    layers = layout.layers
    above = layers[next(i for i, one in enumerate(layers) if one is placed) + 1 :]
    try:
        canvas = layout.plan.canvases[placed.face]
        _, clear, _ = seen_cells(layout.plan, canvas, area, above, pictures)
        face = _face_in(area, placed, clear, pictures)
        wanted = _busy_in(area, placed, placed.photo, pictures) if face is None else face
    except ProofgenError:
        return None  # its own finding tells
    if not (wanted * clear).any():
        return None
    return _best(area, bounds, size, wanted, clear, _BUSY if face is None else _FACE)


def _middles(area: Rect) -> tuple[Map, Map]:
    return area.x + _SHARES * area.width, area.y + _SHARES * area.height


def _face_in(
    area: Rect, placed: PlacedPhoto, clear: NDArray[np.bool_], pictures: Pictures
) -> Map | None:
    """The cells of the largest face of which most is seen; None where there is none."""
    assert placed.photo is not None
    xs, ys = _middles(area)
    for face in main_faces(find_faces(placed.photo, pictures) or ()):
        spot = placed.on_face(face.box)
        whole = spot and spot.overlap(area)
        if spot is None or whole is None:
            continue
        inside = np.outer((ys >= spot.y) & (ys <= spot.bottom), (xs >= spot.x) & (xs <= spot.right))
        part = whole.width * whole.height / (spot.width * spot.height)
        if inside.any() and part * clear[inside].mean() >= 0.5:
            return inside.astype(float)
    return None


def _busy_in(area: Rect, placed: PlacedPhoto, photo: PhotoFacts, pictures: Pictures) -> Map:
    crop = placed.crop
    assert crop is not None
    shown = busy_map(photo, pictures) * (_PLAIN + fine_map(photo, pictures) ** 2)
    xs, ys = _middles(area)
    across, down = (
        (xs - placed.rect.x) / placed.rect.width,
        (ys - placed.rect.y) / placed.rect.height,
    )
    rows = cells_of(down, crop.y, crop.height, photo.height_px)
    columns = cells_of(across, crop.x, crop.width, photo.width_px)
    return np.asarray(shown[np.ix_(rows, columns)])


def _best(
    area: Rect,
    bounds: Rect,
    size: Size,
    wanted: Map,
    clear: NDArray[np.bool_],
    weights: tuple[float, float],
) -> tuple[float, float]:
    """The middle of the best part: most of what is wanted, least of what is hidden, and nearest to
    the middle of the wanted."""
    xs, ys = _middles(area)
    wide, high = min(size.width, bounds.width), min(size.height, bounds.height)
    seen, cell = wanted * clear, area.width * area.height / GRID**2
    middle = float(wanted.sum(0) @ xs / wanted.sum()), float(wanted.sum(1) @ ys / wanted.sum())
    # The columns and rows of cells that each place tried takes in.
    at_x = bounds.x + wide / 2 + np.linspace(0, 1, _STEPS) * (bounds.width - wide)
    at_y = bounds.y + high / 2 + np.linspace(0, 1, _STEPS) * (bounds.height - high)
    columns = (np.abs(xs[None] - at_x[:, None]) <= wide / 2).astype(float)
    rows = (np.abs(ys[None] - at_y[:, None]) <= high / 2).astype(float)
    gain = rows @ seen @ columns.T
    veiled = 1 - np.minimum(rows @ clear @ columns.T * cell / (wide * high), 1)
    away = np.hypot((at_x[None] - middle[0]) / wide, (at_y[:, None] - middle[1]) / high)
    worth = weights[0] * gain / gain.max() - veiled - weights[1] * away
    row, column = np.unravel_index(int(worth.argmax()), worth.shape)
    return float(at_x[column]), float(at_y[row])
