"""Reusable artwork with named slots, laid out in shares of a face or in mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import ClassVar, Literal, TypeAlias, get_args

from proofgen.errors import Place
from proofgen.geometry import FaceName, Rect, Size

LayerKind = Literal["colour", "pattern", "art", "photo", "words"]
SlotKind = Literal["photo", "words"]  # what a customer fills
LAYER_KINDS: tuple[LayerKind, ...] = get_args(LayerKind)
Alignment = Literal["left", "centre", "right"]
ALIGNMENTS: tuple[Alignment, ...] = get_args(Alignment)
# How the repeats of a pattern lie beside each other: in rows and columns; every other one turned
# over, so that edges always meet; every other column half a repeat lower; every other row half a
# repeat to the side.
PatternLay = Literal["straight", "mirrored", "half-drop", "brick"]
PATTERN_LAYS: tuple[PatternLay, ...] = get_args(PatternLay)


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
class _Drawn:
    """One layer of a face. `at` None means fill: the face with its bleed."""

    kind: ClassVar[LayerKind]
    at: Box | None = None
    place: Place = Place("")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourLayer(_Drawn):
    """A plain colour, '#rrggbb'."""

    kind: ClassVar[Literal["colour"]] = "colour"
    colour: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternLayer(_Drawn):
    """A picture of the design's folder, repeated; `repeat_mm` is the width of one repeat."""

    kind: ClassVar[Literal["pattern"]] = "pattern"
    file: Path
    repeat_mm: float
    lay: PatternLay = "straight"


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtLayer(_Drawn):
    """A picture of the design's folder."""

    kind: ClassVar[Literal["art"]] = "art"
    file: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLayer(_Drawn):
    """A slot for the customer's photo."""

    kind: ClassVar[Literal["photo"]] = "photo"
    slot: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsLayer(_Drawn):
    """A slot for the customer's words or, without a slot, words that are part of the design.
    `size_mm` is the height of the type's body; 0 for as high as the box."""

    kind: ClassVar[Literal["words"]] = "words"
    slot: str = ""
    text: str = ""
    font: str = ""
    size_mm: float = 0.0
    colour: str = "#000000"
    align: Alignment = "centre"


Layer: TypeAlias = ColourLayer | PatternLayer | ArtLayer | PhotoLayer | WordsLayer


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One design of the catalogue. `offered` maps a blank's id to (from quantity, price) steps."""

    id: str
    title: str
    faces: Mapping[FaceName, tuple[Layer, ...]]
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

    def slots(self, kind: SlotKind) -> tuple[str, ...]:
        """Names of the slots of that kind, in drawing order, once each."""
        names = [
            layer.slot
            for layers in self.faces.values()
            for layer in layers
            if isinstance(layer, PhotoLayer | WordsLayer) and layer.kind == kind
        ]
        return tuple(dict.fromkeys(n for n in names if n))

    def price(self, blank: str, quantity: int) -> Decimal | None:
        """Price of one piece when `quantity` are ordered; None when not offered on that blank."""
        price = None
        for start, amount in sorted(self.offered.get(blank, ())):
            if quantity >= start:
                price = amount
        return price
