"""A design laid on a blank for one piece: every layer with its place in mm and its measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar, Literal, TypeAlias

from proofgen.colour import Correction
from proofgen.errors import Place
from proofgen.geometry import EndOnTop, FaceName, Plan, Rect
from proofgen.model.blank import Blank
from proofgen.model.design import Alignment, LayerKind, PatternLay
from proofgen.model.photo import PhotoFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class TextRun:
    """One set line of words: its baseline start and type size, in the face's frame, mm."""

    text: str
    x_mm: float
    baseline_mm: float
    size_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """What becomes of an all-round photo where a wrap closes. Shares are of the printed part
    (without its bleed); `side` is the end of the picture that the overlap hides, seen print side
    up; neither: a strip hides some of both."""

    hidden: float  # share under the overlap
    hidden_mm: float
    side: EndOnTop
    strips: float  # share that lies under the overlap or within 6 mm of the join
    detail: float  # share of what is busy in the print that lies in those strips


@dataclass(frozen=True, slots=True, kw_only=True)
class UnderCan:
    """What of a photo lies under the can. Shares are of the part of it that lies on its face."""

    hidden: float
    hidden_mm: float
    detail: float  # share of what is busy there


@dataclass(frozen=True, slots=True, kw_only=True)
class _OnFace:
    """A layer where it will be inked. `rect` is in the face's frame (mm, origin the face's top
    left; a fill reaches outside it); `place` is where it was asked for."""

    kind: ClassVar[LayerKind]
    rect: Rect
    face: FaceName
    fill: bool = False
    place: Place = Place("")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedColour(_OnFace):
    """A plain colour, '#rrggbb'."""

    kind: ClassVar[Literal["colour"]] = "colour"
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPattern(_OnFace):
    """A picture of the design, repeated."""

    kind: ClassVar[Literal["pattern"]] = "pattern"
    picture: PhotoFacts
    repeat_mm: float  # width of one repeat, after being made to meet
    repeat_asked_mm: float
    lay: PatternLay = "straight"
    repeats_round: int = 0  # whole repeats that go round; 0 where it goes round nothing
    ppi: float  # effective, finished


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedArt(_OnFace):
    """A picture of the design; `crop` is the part of it that shows (px, upright)."""

    kind: ClassVar[Literal["art"]] = "art"
    picture: PhotoFacts
    crop: Rect
    ppi: float  # effective, finished, worse axis


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPhoto(_OnFace):
    """A slot for a photo. `photo` is None where nobody gave one, `crop` (px of the upright photo)
    and `ppi` where it cannot be used."""

    kind: ClassVar[Literal["photo"]] = "photo"
    slot: str
    photo: PhotoFacts | None = None
    crop: Rect | None = None
    focus: tuple[float, float] | None = None  # shares of the upright photo
    focus_chosen: bool = False  # the tool chose it
    zoom: float = 1.0
    ppi: float | None = None  # effective, finished, worse axis
    join: Join | None = None  # where it reaches all the way round a wrap
    under: UnderCan | None = None  # where it reaches the base of a fold

    @property
    def sha256(self) -> str:
        """Of the photo's bytes; '' without a photo."""
        return self.photo.sha256 if self.photo else ""

    def on_face(self, part: Rect) -> Rect | None:
        """A part of the upright photo (px) where it comes to lie in the face's frame, mm; None
        where no photo is shown."""
        if self.crop is None:
            return None
        across, down = self.rect.width / self.crop.width, self.rect.height / self.crop.height
        return Rect(
            self.rect.x + (part.x - self.crop.x) * across,
            self.rect.y + (part.y - self.crop.y) * down,
            part.width * across,
            part.height * down,
        )

    @property
    def focus_on_face(self) -> tuple[float, float] | None:
        """Where the photo's focus lies in the face's frame, mm; None where no photo is shown."""
        if self.photo is None or self.focus is None:
            return None
        x, y = self.focus[0] * self.photo.width_px, self.focus[1] * self.photo.height_px
        spot = self.on_face(Rect(x, y, 0.0, 0.0))
        return (spot.x, spot.y) if spot else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedWords(_OnFace):
    """Words set in their box. `ink` is the part that really carries ink: None for no words."""

    kind: ClassVar[Literal["words"]] = "words"
    slot: str = ""  # '' for words that are part of the design
    colour: str
    text: str
    font: str
    font_file: Path
    font_sha256: str
    size_mm: float
    size_asked_mm: float
    letter_mm: float  # height of a capital (or of the ink where a script has none)
    runs: tuple[TextRun, ...] = ()
    ink: Rect | None = None
    missing: str = ""  # letters the font lacks
    boxed: bool = False  # the font draws an empty box for each of these, else nothing
    fits: bool = True  # words stay inside their box
    align: Alignment = "centre"

    @property
    def printed(self) -> str:
        """The text as ink shows it: without the letters that the font lacks, or with boxes."""
        lost = dict.fromkeys(map(ord, self.missing), "□" if self.boxed else None)
        return self.text.translate(lost)


Placed: TypeAlias = PlacedColour | PlacedPattern | PlacedArt | PlacedPhoto | PlacedWords


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One piece's (or several like pieces') artwork on a blank, before any pixel is made."""

    blank: Blank
    plan: Plan
    cloth: str  # colour name
    cloth_hex: str
    faces: Mapping[FaceName, tuple[Placed, ...]]
    correction: Correction | None = None  # how ink comes out on this cloth, where it was read

    @property
    def layers(self) -> tuple[Placed, ...]:
        return tuple(p for layers in self.faces.values() for p in layers)

    def on_panel(self, placed: Placed, rect: Rect | None = None) -> list[tuple[str, Rect]]:
        """Where a placed layer's rect (or `rect`, face frame) lies: (panel name, rect) per part."""
        return self.plan.canvases[placed.face].on_panels(rect or placed.rect)


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """Pieces of one line that look alike: the numbers they carry and the layout they share."""

    line: int
    pieces: tuple[int, ...]
    words: Mapping[str, str]
    layout: Layout
