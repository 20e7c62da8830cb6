"""Every field of what is laid out and of a blank moves the document under the fingerprint, or
stands here with the reason why it does not. A new field or record joins by itself."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args

import pytest
from PIL import Image

from proofgen.artwork.description import describe
from proofgen.artwork.layout import variants
from proofgen.artwork.materials import Materials
from proofgen.colour import Correction
from proofgen.errors import Place
from proofgen.geometry import CONSTRUCTIONS, Canvas, Face, Hole, Part, Plan, Rect, Size, Zone
from proofgen.model import (
    LAYER_KINDS,
    ArtLayer,
    Blank,
    Closure,
    Cloth,
    ColourLayer,
    Customer,
    Join,
    Layout,
    Line,
    Order,
    PatternLayer,
    PhotoFacts,
    PhotoLayer,
    PhotoUse,
    Piece,
    Placed,
    PressSetting,
    Shop,
    Stock,
    TextRun,
    UnderCan,
    Variant,
    WordsLayer,
)
from proofgen.store import Store
from tests.artwork.scenes import CAN_WRAP, FLAT, FOLD, SEWN, design, mm, saved, shop

PLACED = get_args(Placed)
RECORDS = (
    Variant,
    Layout,
    *PLACED,
    TextRun,
    Join,
    UnderCan,
    PhotoFacts,
    Plan,
    Face,
    Zone,
    Part,
    Canvas,
)
RECORDS = (*RECORDS, Blank, Closure, Cloth, Hole, PressSetting)
VALUES = (Rect, Size, Place, Correction)  # changed as one value

_BYTES = "the digest of the picture's bytes is in the document, and decides it"
_CLOSES = "a blank that does not close is not read; nothing is printed by it"
_ELSEWHERE = "where it was asked for, told with a finding"
_LOOK = "how ink is shown, never what is pressed"
_NOT_INK = "how the blank is bought, named and pressed, not what is printed on it"
_PARTS = "the parts of the canvases, which are in the document, say where everything lands"
_RUNS = "the lines as they are set (runs) are in the document"
_TOLD = "tells people, or a check, of what the document says already"
UNMOVED = {
    "Layout.blank": "its fields are judged one by one below",
    "Layout.cloth": "the line of the document names the cloth",
    "Layout.correction": _LOOK,
    "Plan.overlap": _PARTS,
    "Plan.front_centre": _PARTS,
    "Plan.problems": "a blank with a problem is not read",
    "Canvas.name": "the document has it as the key of the parts",
    "Canvas.size": _PARTS,
    "Canvas.fill": _PARTS,
    "Canvas.aim": "steers a photo's crop, which is in the document",
    **{f"{kind.__name__}.face": "the document has the layer under its face" for kind in PLACED},
    **{f"{kind.__name__}.place": _ELSEWHERE for kind in PLACED},
    "PlacedPattern.repeat_asked_mm": _TOLD,
    "PlacedPattern.repeats_round": _TOLD,
    "PlacedPattern.ppi": _TOLD,
    "PlacedArt.ppi": _TOLD,
    "PlacedPhoto.focus_chosen": _TOLD,
    "PlacedPhoto.ppi": _TOLD,
    "PlacedPhoto.join": _TOLD,
    "PlacedPhoto.under": _TOLD,
    "Closure.on": "which side the strips are on is said on the ticket; nothing is placed by it",
    "PlacedWords.font_file": "the font's digest is in the document; its path is nobody's business",
    "PlacedWords.size_asked_mm": _RUNS,
    "PlacedWords.letter_mm": _RUNS,
    "PlacedWords.ink": _RUNS,
    "PlacedWords.missing": _TOLD,
    "PlacedWords.boxed": _TOLD,
    "PlacedWords.fits": _TOLD,
    **{f"{kind.__name__}.{f.name}": _TOLD for kind in (Join, UnderCan) for f in fields(kind)},
    **{
        f"PhotoFacts.{f.name}": _BYTES
        for f in fields(PhotoFacts)
        # A pattern shows its whole picture, so that its sides stand in the document as its crop.
        if f.name not in ("sha256", "width_px", "height_px", "turn")
    },
    "Blank.id": "the line of the document names the blank",
    **{
        f"Blank.{n}": _NOT_INK
        for n in ("name", "called", "sized", "press", "cost", "stock", "note", "built_in")
    },
    "Blank.place": _ELSEWHERE,
    "Blank.lines": _ELSEWHERE,
    "Closure.width_mm": _CLOSES,
    "Closure.shortest_mm": _CLOSES,
    "Cloth.finish": _NOT_INK,
    "Cloth.polyester": _NOT_INK,
    "Cloth.readings": _LOOK,
    **{f"PressSetting.{f.name}": _NOT_INK for f in fields(PressSetting)},
}

# Words that stand for one of a few things: another of them.
CHOICES = {
    "wrap": "flat",
    "fold": "sewn",
    "sewn": "fold",
    "flat": "sewn",
    "right": "left",
    "rounded": "round",
    "straight": "brick",
    "centre": "left",
}


def other(value: Any) -> Any:
    """Another value of the same kind."""
    match value:
        case bool():
            return not value
        case str() if value.startswith("#"):
            return value[:-1] + ("b" if value.endswith("a") else "a")
        case str():
            return CHOICES.get(value, f"{value}x")
        case Path():
            return value / "other"
        case int() | Decimal():
            return value + 1
        case float():
            return value + 0.25
        case Rect():
            return value.moved(0.5, 0.25)
        case Size():
            return replace(value, width=value.width + 1)
        case Place():
            return Place("elsewhere", 3)
        case Stock():
            return Stock(pieces={"white": 3})
        case Correction():
            return replace(value, curves=tuple(c + 1 for c in value.curves))
        case tuple():
            return (other(value[0]), *value[1:])
        case Mapping():
            key, first = next(iter(value.items()))
            return {**value, key: other(first)}
    raise TypeError(f"say here what another value than {value!r} is")


def changes(value: Any) -> Iterator[tuple[str, Any]]:
    """'Record.field' and the value with that one field changed, for every field of every record
    in it that is not empty. A field that holds records is changed by changing them."""
    match value:
        case Mapping():
            for key, old in value.items():
                yield from ((name, {**value, key: new}) for name, new in changes(old))
        case tuple():
            for at, old in enumerate(value):
                rest = value[at + 1 :]
                yield from ((name, (*value[:at], new, *rest)) for name, new in changes(old))
        case _ if is_dataclass(value) and not isinstance(value, VALUES):
            for field in fields(value):
                old = getattr(value, field.name)
                name, inner = f"{type(value).__name__}.{field.name}", list(changes(old))
                for part, new in inner:
                    changed = replace(value, **{field.name: new})
                    yield part, changed
                    yield name, changed
                if not inner and old not in (None, (), {}):
                    yield name, replace(value, **{field.name: other(old)})


CLOTH = Cloth(
    finish="linen-look",
    colours={"sky": "#6fb7e9"},
    polyester=1.0,
    readings={
        "sky": (
            ("#c80000", "#7a1f2a"),
            ("#00c800", "#1f7a2a"),
            ("#0000c8", "#1f2a7a"),
            ("#c8c800", "#7a7a2a"),
        )
    },
)
MORE: dict[str, Any] = {
    "cloth": CLOTH,
    "press": PressSetting(heat_c=200, time_s=60, heat_f_written=392),
    "cost": Decimal("1.10"),
}
HOLES = (Hole(x=15.0, y=4.0, diameter=3.0),)
BLANKS = (
    replace(CAN_WRAP, thickness_mm=3, **MORE),
    replace(FOLD, width_mm=60, height_mm=80, base_mm=3, **MORE),
    replace(SEWN, width_mm=30, height_mm=30, **MORE),
    replace(FLAT, width_mm=30, height_mm=30, shape="rounded", corner_mm=2, holes=HOLES, **MORE),
)


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A shop with one blank of each construction and a design for it with a layer of each kind."""
    folder = tmp_path_factory.mktemp("shop")
    file = saved(Image.new("RGB", (60, 40), (200, 90, 10)), folder / "tile.png")
    layers = (
        ColourLayer(colour="#6fb7e9"),
        PatternLayer(file=file, repeat_mm=3, at=mm(0, 0, 8, 3)),
        ArtLayer(file=file, at=mm(1, 1, 5, 3)),
        PhotoLayer(slot="photo"),
        WordsLayer(slot="name", size_mm=2, at=mm(1, 1, 8, 4)),
    )
    faces = {b.id: "front" if b.construction == "flat" else "round" for b in BLANKS}
    return replace(
        shop(folder),
        blanks={b.id: b for b in BLANKS},
        designs={name: design({face: layers}) for name, face in faces.items()},
    )


def order_on(ours: Shop, blank: str) -> Order:
    use = PhotoUse(file=ours.folder / "tile.png", focus=(0.4, 0.5), place=Place("order.yaml", 9))
    line = Line(
        number=1,
        design=blank,
        blank=blank,
        cloth="sky",
        quantity=1,
        photos={"photo": use},
        words={"name": "Ada"},
        pieces=(Piece(number=1, words={}),),
    )
    return Order(id="fenn", customer=Customer(name="Odalys Fenn"), lines=(line,))


@pytest.fixture(scope="module")
def moved(ours: Shop) -> dict[str, list[bool]]:
    """For every field that was changed: whether the document moved, each time."""
    answers: dict[str, list[bool]] = defaultdict(list)
    with Materials(ours.folder, Store(ours.folder / "store")) as materials:
        for blank in BLANKS:
            try_changes(ours, blank, materials, answers)
    return answers


def try_changes(
    ours: Shop, blank: Blank, materials: Materials, answers: dict[str, list[bool]]
) -> None:
    order = order_on(ours, blank.id)
    (variant,) = variants(ours, order, materials)
    before = describe(order, [variant], 300)
    for name, changed in changes(variant):
        answers[name].append(describe(order, [changed], 300) != before)
    for name, changed in changes(blank):
        known = replace(ours, blanks={**ours.blanks, blank.id: changed})
        laid = variants(known, order, materials)
        answers[name].append(describe(order, laid, 300) != before)


@pytest.mark.parametrize(
    "name", [f"{record.__name__}.{field.name}" for record in RECORDS for field in fields(record)]
)
def test_it_moves_the_document_or_has_a_reason_not_to(
    moved: dict[str, list[bool]], name: str
) -> None:
    if name in UNMOVED:
        assert not any(moved[name]), "it does move the document: take it out of UNMOVED"
    else:
        assert moved[name], "empty in every sample: give it a value in one of them"
        assert any(moved[name]), "put it into the document, or into UNMOVED with the reason"


def test_nothing_was_left_out(moved: dict[str, list[bool]], ours: Shop) -> None:
    """Every record, every construction, every kind of layer is tried."""
    assert {blank.construction for blank in BLANKS} == set(CONSTRUCTIONS)
    for design_of in ours.designs.values():
        ((_, layers),) = design_of.faces.items()
        assert [layer.kind for layer in layers] == list(LAYER_KINDS)
    assert {kind.kind for kind in PLACED} == set(LAYER_KINDS)
    known = {record.__name__ for record in RECORDS}
    assert {name.split(".")[0] for name in moved} <= known
    assert {name.split(".")[0] for name in UNMOVED} <= known
