"""A blank worked out: its panels, faces and zones in finished mm, and the way between them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Literal, TypeVar, get_args

from proofgen.geometry.plane import Rect, Size

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = TypeVar("Points", float, NDArray[np.float64])

Construction = Literal["wrap", "fold", "sewn", "flat"]
CONSTRUCTIONS: tuple[Construction, ...] = get_args(Construction)
Shape = Literal["rectangle", "rounded", "round"]  # of a flat blank
SHAPES: tuple[Shape, ...] = get_args(Shape)
FaceName = Literal["round", "front", "back"]  # what a design can draw on, in the order it is read
FACES: tuple[FaceName, ...] = get_args(FaceName)
Side = Literal["right", "left"]  # an end of the cloth, seen print side up
SIDES: tuple[Side, ...] = get_args(Side)
# Which end of a wrap lies on the other; neither: they meet, and a strip lies over both.
EndOnTop = Literal["right", "left", "neither"]
ENDS: tuple[EndOnTop, ...] = get_args(EndOnTop)
ZoneKind = Literal["closure", "seam", "fold", "hem", "base", "gap", "hole"]
Turn = Literal[0, 180]  # degrees
# The panel of a fold holds both faces at once.
BOTH_FACES = "front and back"


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """An area seen at once, in its panel's frame; `turn` is 0 or 180 degrees."""

    name: FaceName
    panel: str
    rect: Rect
    turn: Turn = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A strip that means something, in its panel's frame; of a hole the square about it."""

    kind: ZoneKind
    panel: str
    rect: Rect
    face: FaceName | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A punched hole of a new blank lying print side up: its middle from the top left of the blank
    (of a sewn one: of its front), and its diameter, mm."""

    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A piece of a face's own drawing and where it goes on a panel.

    `source` is in the face's frame (origin at the face's top left, finished mm); `target` is in
    the panel's frame and has the same size; `turn` (0 or 180) turns the piece about its centre.
    """

    panel: str
    source: Rect
    target: Rect
    turn: Turn = 0

    @property
    def turned(self) -> bool:
        """Whether the piece stands on its head on the panel."""
        return self.turn == 180

    def to_panel(self, rect: Rect) -> Rect:
        """A rectangle of the face's frame where it lies in the panel's."""
        moved = rect.moved(self.target.x - self.source.x, self.target.y - self.source.y)
        return moved.turned_half(self.target) if self.turned else moved

    def to_face(self, rect: Rect) -> Rect:
        """A rectangle of the panel's frame where it lies in the face's."""
        upright = rect.turned_half(self.target) if self.turned else rect
        return upright.moved(self.source.x - self.target.x, self.source.y - self.target.y)

    def points_to_panel(self, xs: Points, ys: Points) -> tuple[Points, Points]:
        """Places of the face's frame in the panel's: numbers, or arrays of them."""
        source, target = self.source, self.target
        if self.turned:
            return target.right - (xs - source.x), target.bottom - (ys - source.y)
        return target.x + xs - source.x, target.y + ys - source.y


@dataclass(frozen=True, slots=True, kw_only=True)
class Canvas:
    """A face a design may draw on: its finished size and how it lands on the panels.

    `fill` is what a layer with `at: fill` covers (the face with its bleed) and `aim` the point a
    photo's focus is steered to (the fill's middle; all round a wrap, the front's), both in the
    face's frame, where (0, 0) is the face's top left.
    """

    name: FaceName
    size: Size
    fill: Rect
    aim: tuple[float, float]
    parts: tuple[Part, ...]

    def goes_round(self, rect: Rect) -> bool:
        """Whether a rectangle of the face's frame reaches all the way round and meets itself."""
        return self.name == "round" and rect.x <= 0 and rect.right >= self.size.width

    def covered_by(self, rect: Rect) -> bool:
        """Whether a rectangle of the face's frame leaves nothing of the face bare."""
        across = rect.x <= 0 and rect.right >= self.size.width
        return across and rect.y <= 0 and rect.bottom >= self.size.height

    def aim_in(self, slot: Rect) -> tuple[float, float]:
        """Where a photo's focus goes, from its slot's top left: of a fill the face's own aim, of
        another its middle."""
        if slot == self.fill:
            return self.aim[0] - slot.x, self.aim[1] - slot.y
        return slot.width / 2, slot.height / 2

    @property
    def ends_on_back(self) -> bool:
        """Whether it goes round two faces and its ends meet down the middle of the back."""
        return len(self.parts) == 3

    @property
    def meets(self) -> list[float]:
        """Where parts that lie side by side meet, in a seam: mm from the face's left."""
        own = [part.source for part in self.parts]
        return [(left.right + right.x) / 2 for left, right in pairwise(own)]

    def by_part(self, area: Rect) -> Iterator[tuple[Part, Rect]]:
        """What of `area` (the face's frame) belongs to each part.

        Where two faces meet, the bleed of one repeats the ink of the other inside the seam
        allowance; that copy matters to nobody, so each part is taken up to the meeting line only.
        """
        lines = [-math.inf, *self.meets, math.inf]
        for part, (from_x, to_x) in zip(self.parts, pairwise(lines), strict=True):
            left, right = max(area.x, from_x), min(area.right, to_x)
            own = Rect(left, area.y, max(right - left, 0.0), area.height).overlap(part.source)
            if own is not None:
                yield part, own

    def on_panels(self, rect: Rect) -> list[tuple[str, Rect]]:
        """Where a rectangle of the face's frame lies: panel and rectangle there, for each part
        that it meets."""
        met = ((part, rect.overlap(part.source)) for part in self.parts)
        return [(part.panel, part.to_panel(piece)) for part, piece in met if piece is not None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """A blank worked out, in finished mm.

    `panels` are the flat pieces that go under the press one by one (name to size); the raster of a
    panel is the panel grown by `bleed` on every side. `problems` are plain (key, sentence, cure).
    `overlap` is None where the ends of a wrap only meet.
    """

    construction: Construction
    panels: dict[str, Size]
    faces: tuple[Face, ...]
    zones: tuple[Zone, ...]
    canvases: dict[FaceName, Canvas]
    bleed: float
    safe: float
    way_round: float | None = None
    overlap: float | None = None
    on_top: EndOnTop | None = None
    front_centre: float | None = None
    shape: Shape = "rectangle"
    corner: float = 0.0
    problems: tuple[tuple[str, str, str], ...] = field(default=())

    def face(self, name: FaceName) -> Face:
        """The face of that name; KeyError if the blank has none."""
        for face in self.faces:
            if face.name == name:
                return face
        raise KeyError(name)

    @property
    def under_strip(self) -> tuple[Rect, ...]:
        """What a strip over the ends of a wrap that meet hides of the face all the way round, in
        its panel's frame: a piece at each end. Empty of any other blank."""
        if self.on_top != "neither":
            return ()
        return tuple(zone.rect for zone in self.zones if zone.kind == "closure")

    @property
    def base_mm(self) -> float:
        """How much of each side lies under the can, mm."""
        return max((zone.rect.height for zone in self.zones if zone.kind == "base"), default=0.0)

    @property
    def front_share(self) -> float:
        """Where on the way round the front's middle lies, as a share from where it begins."""
        begins_at_seam = len(self.canvases["round"].parts) == 2
        return 0.25 if begins_at_seam else 0.5

    def zones_on(self, panel: str) -> tuple[Zone, ...]:
        return tuple(z for z in self.zones if z.panel == panel)

    def clear(self, panel: str, rect: Rect) -> Rect:
        """What is left of `rect` (panel's frame) beside the strips along its sides that hide or
        lose ink: there words and faces are seen, and from its edges the safe distance is taken."""
        for zone in self.zones_on(panel):
            rect = rect.without(zone.rect)
        return rect

    def clear_of(self, canvas: Canvas, area: Rect) -> list[Rect]:
        """What is left of `area` (the canvas's frame) beside such strips, for each part of it: two
        faces that meet in a seam are two."""
        return [
            part.to_face(self.clear(part.panel, part.to_panel(own)))
            for part, own in canvas.by_part(area)
        ]
