"""Which part of a photo to show when nobody said: heads whole, what is busy seen, not hidden."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from proofgen.artwork.attention import busy_map, heads_map
from proofgen.artwork.covering import hidden_by
from proofgen.artwork.maps import GRID, Map, cells_of
from proofgen.geometry import Canvas, FaceName, Plan, Rect, Size, cover_crop
from proofgen.model import Focus, PhotoFacts, Placed
from proofgen.photo.faces import find_faces, main_faces
from proofgen.photo.opening import Pictures

_STEPS = 33  # places tried along each way the crop can still move
_NEAR_MM = 6.0  # beside a join or seam
_CUT = 0.8  # how bad it is to have something cut there: as bad as it is good to have it shown
_SHARES = (np.arange(GRID) + 0.5) / GRID
# What may be a head is wanted below the upper edge: under the tint of skin come neck and hands,
# above it hair. Nothing counts at the edges, all from 0.5 to 0.9 of the crop's height.
_BELOW, _ABOVE = 0.5, 0.1
_UPPER = 1 + np.exp(-(((_SHARES - 0.3) / 0.2) ** 2) / 2)  # busy parts count double near 0.3
_HEADS = 0.1  # what one cell that is surely a head weighs against all that is busy
# Round a face that was found: hair, ears and chin; then air. Shares of its height and width.
_HEAD, _AIR = (0.3, 0.08, 0.05), (0.55, 0.3, 0.3)  # above, to both sides, below
_WHOLE, _WITH_AIR = 8.0, 1.0  # what whole heads weigh against all that is busy, and air round them
_SPOTS = (np.arange(10) + 0.5) / 10  # looked at across a head, and down


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


def seen_cells(
    plan: Plan, canvas: Canvas, slot: Rect, above: Sequence[Placed], pictures: Pictures
) -> tuple[Map, NDArray[np.bool_], Map]:
    """How well each of (48, 48) cells of the slot is seen: as `_worth`, less what later layers
    hide; whether it is seen at all, and not through letters; and how much later layers hide."""
    seen, clear = np.zeros((GRID, GRID)), np.zeros((GRID, GRID), bool)
    covered = np.zeros((GRID, GRID))
    xs = slot.x + (np.arange(GRID) + 0.5) / GRID * slot.width
    ys = slot.y + (np.arange(GRID) + 0.5) / GRID * slot.height
    # What goes all round two faces is cut where it ends, in the middle of the back.
    ends = np.minimum(np.abs(xs), np.abs(canvas.size.width - xs)) if canvas.ends_on_back else 1e9
    at_ends = _CUT * np.clip(1 - ends / _NEAR_MM, 0, 1)
    for part in canvas.parts:
        source = part.source
        here = np.outer(
            (ys >= source.y) & (ys < source.bottom), (xs >= source.x) & (xs < source.right)
        )
        px, py = part.points_to_panel(xs, ys)
        worth = _worth(plan, canvas.name, part.panel, px, py)
        worth -= (worth > 0) * at_ends
        hidden = hidden_by(above, plan, part.panel, px, py, pictures)
        seen = np.where(here, worth * (1 - hidden), seen)
        clear = np.where(here, (worth > 0) & (hidden < 0.5), clear)
        covered = np.where(here, hidden, covered)
    return seen, clear, covered


def _for_heads(seen: Map, covered: Map) -> Map:
    """How good it is to show in each cell what may be a head: nothing where later layers hide it,
    as if it were cut, and most in the upper half of what they leave free."""
    free = (covered < 0.5).mean(axis=1) > 0.5  # rows that are mostly free
    ends = np.flatnonzero(np.diff(np.concatenate([[False], free, [False]]).astype(int)))
    runs = ends.reshape(-1, 2).tolist()
    first, last = max(runs, key=lambda run: run[1] - run[0], default=(0, GRID))
    shares = (np.arange(GRID) + 0.5 - first) / (last - first)
    window = np.clip(np.minimum(shares / _BELOW, (1 - shares) / _ABOVE), 0, 1)
    return np.where(covered < 0.5, seen, np.minimum(seen, 0)) * window[:, None]


@dataclass(frozen=True, slots=True)
class _Sight:
    """What there is to see in a photo, in cells of it or shares of its sides, and how well each
    cell of the slot is seen."""

    seen: Map
    head_seen: Map  # as `seen`, for what may be a head
    clear: NDArray[np.bool_]  # whether anything is seen there
    busy: Map
    heads: Map
    faces: tuple[tuple[Rect, float], ...]  # each head, and then each with air, with its weight

    def worth(self, crop: Rect, photo: Size) -> float:
        """How good it is to show this part (px)."""
        rows = cells_of(_SHARES, crop.y, crop.height, photo.height)
        columns = cells_of(_SHARES, crop.x, crop.width, photo.width)
        shown = self.busy[np.ix_(rows, columns)] * self.seen
        shown += _HEADS * self.heads[np.ix_(rows, columns)] * self.head_seen
        part = crop.width * crop.height / (photo.width * photo.height)
        whole = sum(weight * self._whole(face, crop, photo) for face, weight in self.faces)
        return float(shown.sum()) * part + whole

    def _whole(self, face: Rect, crop: Rect, photo: Size) -> float:
        """How much of a head is seen, 0 to 1: little, once a part of it is not."""
        across = (face.x + _SPOTS * face.width) * photo.width
        down = (face.y + _SPOTS * face.height) * photo.height
        xs, ys = (across - crop.x) / crop.width, (down - crop.y) / crop.height
        inside = np.outer((ys >= 0) & (ys < 1), (xs >= 0) & (xs < 1))
        cells = np.ix_(_cell(ys), _cell(xs))
        clear, seen = (inside * self.clear[cells]).mean(), (inside * self.seen[cells]).mean()
        return float(clear**4 * (0.8 + 0.2 * seen))


def _cell(shares: Map) -> NDArray[np.int_]:
    return np.clip(shares * GRID, 0, GRID - 1).astype(int)


def _heads(facts: PhotoFacts, pictures: Pictures) -> tuple[tuple[Rect, float], ...]:
    """The heads of the faces that were found, as shares of the photo's sides, with their weights;
    and each with air round it."""
    faces = main_faces(find_faces(facts, pictures) or ())
    wide, high = facts.size_px.width, facts.size_px.height
    # By area: who stands in front counts first, a poster behind him little.
    areas = [face.box.width * face.box.height for face in faces]
    weighed = []
    for (above, beside, below), weight in ((_HEAD, _WHOLE), (_AIR, _WITH_AIR)):
        for box, area in zip((face.box for face in faces), areas, strict=True):
            aside = beside * box.width
            head = box.grown(aside, above * box.height, aside, below * box.height)
            of = head.overlap(Rect(0, 0, wide, high)) or box
            shares = Rect(of.x / wide, of.y / high, of.width / wide, of.height / high)
            weighed.append((shares, weight * area / sum(areas)))
    return tuple(weighed)


def choose_focus(
    facts: PhotoFacts,
    plan: Plan,
    canvas: Canvas,
    slot: Rect,
    zoom: float,
    pictures: Pictures,
    above: Sequence[Placed] = (),
) -> Focus:
    """The focus (shares of the upright photo) whose crop shows heads whole, and most of what is
    busy, outside bleed, zones and the layers `above` it, and least of it beside a join. `slot` is
    in the face's frame, mm. Heads are those of the faces that were found; without them, where one
    may be.

    Errors: what opening the photo raises.
    """
    photo, aim = facts.size_px, canvas.aim_in(slot)
    faces = _heads(facts, pictures)
    busy = busy_map(facts, pictures) * _UPPER[:, None]
    seen, clear, covered = seen_cells(plan, canvas, slot, above, pictures)
    sight = _Sight(
        seen=seen,
        head_seen=_for_heads(seen, covered),
        clear=clear,
        busy=busy / busy.sum(),
        heads=np.zeros(busy.shape) if faces else heads_map(facts, pictures),
        faces=faces,
    )
    widest = cover_crop(photo, slot.size, (0.5, 0.5), zoom, aim)
    best: tuple[float, float, Rect] | None = None
    for y in _starts(photo.height - widest.height):
        for x in _starts(photo.width - widest.width):
            crop = Rect(x, y, widest.width, widest.height)
            # Of places that show the same, the one nearest the photo's middle.
            away = abs(crop.centre_x / photo.width - 0.5) + abs(crop.centre_y / photo.height - 0.5)
            worth = round(sight.worth(crop, photo), 6)
            if best is None or (worth, -away) > best[:2]:
                best = (worth, -away, crop)
    assert best is not None
    crop = best[2]
    return (
        round((crop.x + aim[0] / slot.width * crop.width) / photo.width, 4),
        round((crop.y + aim[1] / slot.height * crop.height) / photo.height, 4),
    )


def _starts(room: float) -> list[float]:
    if room < 1:
        return [max(room, 0.0) / 2]
    return [room * i / (_STEPS - 1) for i in range(_STEPS)]
