"""The document under a fingerprint: everything that changes what is pressed, except pixels."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias, assert_never

from proofgen.geometry import Plan, Rect
from proofgen.model import (
    Focus,
    Layout,
    Line,
    Order,
    PhotoFacts,
    Placed,
    PlacedArt,
    PlacedColour,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    TextRun,
    Variant,
)
from proofgen.model.artwork_document import (
    ArtworkDocument,
    GeometryDocument,
    LayerDocument,
    LayerFields,
    LineDocument,
    RunDocument,
    VariantDocument,
)

SCHEMA = "proofgen/artwork/1"

PhotoKey: TypeAlias = tuple[object, ...]  # a photo where it is placed, whatever part of it shows
Focuses: TypeAlias = Mapping[PhotoKey, Focus]
_PLACES = 4  # 0.1 µm: far below what a press can do, far above a float's last digit


def rounded(value: float) -> float:
    places = round(float(value), _PLACES)
    return 0.0 if places == 0 else places  # no negative zero


def _rect(rect: Rect | None) -> list[float] | None:
    return [rounded(v) for v in (rect.x, rect.y, rect.width, rect.height)] if rect else None


def geometry_document(plan: Plan) -> GeometryDocument:
    """Panels, faces, zones and how faces land on panels, finished mm."""
    return {
        "panels": {name: [rounded(s.width), rounded(s.height)] for name, s in plan.panels.items()},
        "faces": [
            {"name": f.name, "panel": f.panel, "rect": _rect(f.rect), "turn": f.turn}
            for f in plan.faces
        ],
        "zones": [
            {"kind": z.kind, "panel": z.panel, "rect": _rect(z.rect), "face": z.face}
            for z in plan.zones
        ],
        "canvases": {
            name: [
                {
                    "panel": p.panel,
                    "source": _rect(p.source),
                    "target": _rect(p.target),
                    "turn": p.turn,
                }
                for p in canvas.parts
            ]
            for name, canvas in plan.canvases.items()
        },
        "bleed": rounded(plan.bleed),
        "safe": rounded(plan.safe),
        "shape": plan.shape,
        "corner": rounded(plan.corner),
        "on_top": plan.on_top,
        "way_round": None if plan.way_round is None else rounded(plan.way_round),
    }


def _run(run: TextRun) -> RunDocument:
    return {
        "text": run.text,
        "x": rounded(run.x_mm),
        "baseline": rounded(run.baseline_mm),
        "size": rounded(run.size_mm),
    }


def _picture(facts: PhotoFacts | None) -> LayerFields:
    fields: LayerFields = {"picture": facts.sha256 or None if facts else None}
    # Left out otherwise: proofs signed before it existed hold.
    return {**fields, "turn": facts.turn} if facts and facts.turn else fields


def _own(placed: Placed) -> LayerFields:
    """What a layer of its kind puts on the cloth."""
    match placed:
        case PlacedColour():
            return {"colour": placed.colour.lower()}
        case PlacedArt():
            return {**_picture(placed.picture), "crop": _rect(placed.crop)}
        case PlacedPattern():
            fields: LayerFields = {
                **_picture(placed.picture),
                "crop": _rect(placed.picture.size_px.rect),
                "repeat": rounded(placed.repeat_mm),
            }
            # Left out otherwise: proofs signed before it existed hold.
            return fields if placed.lay == "straight" else {**fields, "lay": placed.lay}
        case PlacedPhoto():
            return {
                **_picture(placed.photo),
                "crop": _rect(placed.crop),
                "slot": placed.slot,
                "zoom": rounded(placed.zoom),
                "focus": [rounded(v) for v in placed.focus] if placed.focus else None,
            }
        case PlacedWords():
            return {
                "slot": placed.slot,
                "text": placed.text,
                "font": placed.font,
                "font_file": placed.font_sha256,
                "size": rounded(placed.size_mm),
                "align": placed.align,
                "colour": placed.colour.lower(),
                "runs": [_run(run) for run in placed.runs],
            }
        case _:
            assert_never(placed)


def layer_document(placed: Placed) -> LayerDocument:
    """What a layer puts on the cloth. Files are named by their digests only."""
    rect = _rect(placed.rect)
    return {"kind": placed.kind, "rect": rect, "fill": placed.fill, **_own(placed)}


def photo_key(face: str, layer: LayerDocument) -> PhotoKey:
    """What must be the same of a placed photo so that its focus means the same."""
    rect = tuple(layer["rect"] or ())
    picture = layer["picture"], layer.get("turn", 0)
    return face, layer["slot"], *picture, layer["zoom"], layer["fill"], *rect


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What a proof shows of a line and is not chosen anew, though a new order would be laid
    otherwise: focuses that the tool chose; pictures all round two faces that begin in a seam; and
    boxes of words, as face and rectangle."""

    focuses: Focuses = field(default_factory=dict)
    from_seam: bool = False
    boxes: frozenset[tuple[object, ...]] = frozenset()

    def has_box(self, face: str, rect: Rect) -> bool:
        return (face, *(_rect(rect) or ())) in self.boxes


def kept_choices(document: ArtworkDocument) -> dict[int, Kept]:
    """What a proof shows already, by the number of the line."""
    return {line["line"]: _kept(line["variants"]) for line in document["lines"]}


def _kept(looks: Sequence[VariantDocument]) -> Kept:
    shown = [
        (face, layer) for look in looks for face, some in look["faces"].items() for layer in some
    ]
    return Kept(
        focuses={
            photo_key(face, layer): (focus[0], focus[1])
            for face, layer in shown
            if layer["kind"] == "photo" and (focus := layer.get("focus"))
        },
        from_seam=any(len(look["geometry"]["canvases"].get("round", ())) == 2 for look in looks),
        boxes=frozenset(
            (face, *(layer["rect"] or ())) for face, layer in shown if layer["kind"] == "words"
        ),
    )


def content_key(layout: Layout, *more: object) -> str:
    """Everything of a layout that changes its pixels, as text for a key, and `more` that JSON can
    say. Files are named by their digests only."""
    faces = [[face, [layer_document(p) for p in some]] for face, some in layout.faces.items()]
    return json.dumps([geometry_document(layout.plan), faces, *more], sort_keys=True)


def _variant(variant: Variant) -> VariantDocument:
    layout = variant.layout
    return {
        "pieces": list(variant.pieces),
        "words": dict(variant.words),
        "geometry": geometry_document(layout.plan),
        "faces": {
            face: [layer_document(p) for p in layers] for face, layers in layout.faces.items()
        },
        # The order faces are drawn in decides which lies on top; a JSON object keeps none.
        "drawn": list(layout.faces),
    }


def _line(line: Line, variants: Sequence[Variant]) -> LineDocument:
    layouts: Mapping[int, Layout] = {i: v.layout for i, v in enumerate(variants)}
    first = layouts.get(0)
    return {
        "line": line.number,
        "design": line.design,
        "blank": line.blank,
        "construction": first.plan.construction if first else None,
        "cloth": line.cloth,
        "cloth_colour": first.cloth_hex.lower() if first else None,
        "quantity": line.quantity,
        "variants": [_variant(v) for v in variants],
    }


def describe(order: Order, variants: Sequence[Variant], ppi: float) -> ArtworkDocument:
    """The order's artwork as a JSON-able document (schema proofgen/artwork/1); lengths in mm
    rounded to 0.0001, crops in px. No file name, price or customer is in it."""
    return {
        "schema": SCHEMA,
        "order": order.id,
        "ppi": rounded(ppi),
        "lines": [
            _line(line, [v for v in variants if v.line == line.number]) for line in order.lines
        ],
    }
