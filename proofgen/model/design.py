"""Reusable artwork with named slots, laid out in shares of a face or in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

from proofgen.errors import Place
from proofgen.geometry import Rect, Size

LAYER_KINDS = ("colour", "pattern", "art", "photo", "words")
ALIGNMENTS = ("left", "centre", "right")
# How the repeats of a pattern lie beside each other: in rows and columns; every other one turned
# over, so that edges always meet; every other column half a repeat lower; every other row half a
# repeat to the side.
PATTERN_LAYS = ("straight", "mirrored", "half-drop", "brick")


@dataclass(frozen=True, slots=True)
class Amount:
    """A length that is a share of the face's side, or mm."""

    value: float
    is_share: bool

    def of(self, side_mm: float) -> float:
        return self.value * side_mm if self.is_share else self.value


@dataclass(frozen=True, slots=True)
class Box:
    """`at:` left, top, width, height, each a share of the face or mm."""

    left: Amount
    top: Amount
    width: Amount
    height: Amount

    def on(self, face: Size) -> Rect:
        """The box in the face's frame, mm."""
        return Rect(
            self.left.of(face.width),
            self.top.of(face.height),
            self.width.of(face.width),
            self.height.of(face.height),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a face, bottom first. `at` None means fill: the face with its bleed."""

    kind: str
    at: Box | None = None
    slot: str = ""  # photo, words
    file: Path | None = None  # art, pattern: picture of the design's folder
    colour: str = "#000000"  # colour, words: '#rrggbb'
    repeat_mm: float = 0.0  # pattern: width of one repeat
    font: str = ""  # words
    size_mm: float = 0.0  # words: height of the type's body
    align: str = "centre"  # words
    text: str = ""  # words that are part of the design, when there is no slot
    place: Place = Place("")
    lay: str = "straight"  # pattern: one of PATTERN_LAYS


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One design of the catalogue. `offered` maps a blank's id to (from quantity, price) steps."""

    id: str
    title: str
    faces: Mapping[str, tuple[Layer, ...]]
    offered: Mapping[str, tuple[tuple[int, Decimal], ...]]
    occasions: tuple[str, ...] = ()
    text: str = ""  # Markdown for the catalogue
    sample_photos: Mapping[str, Path] = field(default_factory=dict)
    sample_words: Mapping[str, str] = field(default_factory=dict)
    sample_cloth: str = ""
    folder: Path = Path()
    place: Place = Place("")
    lines: Mapping[str, int] = field(default_factory=dict)
    labels: Mapping[str, str] = field(default_factory=dict)  # slot to what people call it

    def label(self, slot: str) -> str:
        """What people call a slot: the maker's own label, or the slot's name with spaces."""
        return self.labels.get(slot) or slot.replace("-", " ").replace("_", " ")

    def slots(self, kind: str) -> tuple[str, ...]:
        """Names of the slots of that kind ('photo' or 'words'), in drawing order, once each."""
        names = [
            layer.slot for layers in self.faces.values() for layer in layers if layer.kind == kind
        ]
        return tuple(dict.fromkeys(n for n in names if n))

    def price(self, blank: str, quantity: int) -> Decimal | None:
        """Price of one piece when `quantity` are ordered; None when not offered on that blank."""
        price = None
        for start, amount in sorted(self.offered.get(blank, ())):
            if quantity >= start:
                price = amount
        return price
