"""A design laid on a blank for one piece: every layer with its place in mm and its measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from proofgen.colour import Correction
from proofgen.errors import Place
from proofgen.geometry import Plan, Rect, Size
from proofgen.model.blank import Blank
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
    (without its bleed); `side` is the end of the picture that the overlap hides."""

    hidden: float  # share under the overlap
    hidden_mm: float
    side: str  # 'left' or 'right', seen print side up
    strips: float  # share that lies under the overlap or within 6 mm of the join
    detail: float  # share of what is busy in the print that lies in those strips


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A layer where it will be inked. `rect` is in the face's frame (mm, origin the face's top
    left; a fill reaches outside it). `ink` is the part that really carries ink (words)."""

    kind: str
    rect: Rect
    face: str
    fill: bool = False
    slot: str = ""
    colour: str = ""
    file: Path | None = None  # photo, art, pattern
    sha256: str = ""  # of the file's bytes
    photo: PhotoFacts | None = None
    crop: Rect | None = None  # px of the upright photo
    focus: tuple[float, float] | None = None
    focus_chosen: bool = False  # the tool chose it
    zoom: float = 1.0
    ppi: float | None = None  # effective, finished, worse axis
    repeat_mm: float = 0.0  # pattern: after being made to meet
    repeat_asked_mm: float = 0.0
    text: str = ""
    font: str = ""
    font_file: Path | None = None
    font_sha256: str = ""
    size_mm: float = 0.0
    size_asked_mm: float = 0.0
    letter_mm: float = 0.0  # height of a capital (or of the ink where a script has none)
    runs: tuple[TextRun, ...] = ()
    ink: Rect | None = None
    missing: str = ""  # letters the font lacks
    fits: bool = True  # words stay inside their box
    align: str = "centre"
    place: Place = Place("")
    lay: str = "straight"  # pattern: one of PATTERN_LAYS
    repeats_round: int = 0  # pattern: whole repeats that go round; 0 where it goes round nothing
    join: Join | None = None  # photo that reaches all the way round a wrap


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One piece's (or several like pieces') artwork on a blank, before any pixel is made."""

    blank: Blank
    plan: Plan
    cloth: str  # colour name
    cloth_hex: str
    faces: Mapping[str, tuple[Placed, ...]]
    sizes: Mapping[str, Size] = field(default_factory=dict)
    correction: Correction | None = None  # how ink comes out on this cloth, where it was read

    @property
    def layers(self) -> tuple[Placed, ...]:
        return tuple(p for layers in self.faces.values() for p in layers)

    def on_panel(self, placed: Placed, rect: Rect | None = None) -> list[tuple[str, Rect]]:
        """Where a placed layer's rect (or `rect`, face frame) lies: (panel name, rect) per part."""
        rect = rect or placed.rect
        found = []
        for part in self.plan.canvases[placed.face].parts:
            piece = rect.overlap(part.source)
            if piece is None:
                continue
            moved = piece.moved(part.target.x - part.source.x, part.target.y - part.source.y)
            found.append(
                (part.panel, moved.turned_half(part.target) if part.turn == 180 else moved)
            )
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """Pieces of one line that look alike: the numbers they carry and the layout they share."""

    line: int
    pieces: tuple[int, ...]
    words: Mapping[str, str]
    layout: Layout
