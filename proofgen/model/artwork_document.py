"""The shape of proofgen/artwork/1, the document under a fingerprint: all that is pressed.

Lengths in finished mm, crops in px; a rectangle is its left, top, width and height.
"""

from __future__ import annotations

from typing import TypedDict


class RunDocument(TypedDict):
    """A line of text where it stands."""

    text: str
    x: float
    baseline: float
    size: float


class LayerFields(TypedDict, total=False):
    """What a layer has beside its place, by its kind."""

    slot: str
    colour: str
    picture: str | None  # digest of the file
    crop: list[float] | None
    focus: list[float] | None
    zoom: float
    turn: int  # degrees clockwise
    repeat: float
    lay: str
    text: str
    font: str
    font_file: str  # digest
    size: float
    align: str
    runs: list[RunDocument]


class LayerDocument(LayerFields):
    kind: str
    rect: list[float] | None
    fill: bool


class FaceEntry(TypedDict):
    name: str
    panel: str
    rect: list[float] | None
    turn: int


class ZoneEntry(TypedDict):
    kind: str
    panel: str
    rect: list[float] | None
    face: str | None


class PartEntry(TypedDict):
    """A part of a face as it is drawn, and where it lands on a panel."""

    panel: str
    source: list[float] | None
    target: list[float] | None
    turn: int


class GeometryDocument(TypedDict):
    """A blank's plan."""

    panels: dict[str, list[float]]
    faces: list[FaceEntry]
    zones: list[ZoneEntry]
    canvases: dict[str, list[PartEntry]]
    bleed: float
    safe: float
    shape: str
    corner: float
    on_top: str | None
    way_round: float | None


class VariantDocument(TypedDict):
    """Pieces that look alike."""

    pieces: list[int]
    words: dict[str, str]
    geometry: GeometryDocument
    faces: dict[str, list[LayerDocument]]
    drawn: list[str]


class LineDocument(TypedDict):
    line: int
    design: str
    blank: str
    construction: str | None
    cloth: str
    cloth_colour: str | None
    quantity: int
    variants: list[VariantDocument]


class ArtworkDocument(TypedDict):
    """An order's artwork."""

    schema: str
    order: str
    ppi: float
    lines: list[LineDocument]
