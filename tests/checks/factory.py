"""Small shops, orders and layouts built by hand: no file is read and no pixel made."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from proofgen.checks import CheckInput, Twins
from proofgen.errors import Place
from proofgen.geometry import Rect, Size, cover_crop
from proofgen.model import (
    AskedChange,
    Blank,
    Closure,
    Cloth,
    Customer,
    Design,
    Layout,
    Limits,
    Line,
    Order,
    PhotoFacts,
    PhotoLayer,
    PhotoUse,
    Piece,
    Placed,
    PlacedArt,
    PlacedColour,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    PressSetting,
    Rights,
    Settings,
    Shop,
    Variant,
    WordsLayer,
)
from proofgen.signoff import Records
from proofgen.signoff.used import stock_of
from proofgen.store import NoStore
from tests.materials import MATERIALS

NO_RECORDS = Records(Path("no records"))

TODAY = date(2026, 11, 23)
FILE = Path("photos/pier.jpg")
CLOTH = {"white": "#ffffff", "sky": "#6fb7e9", "night": "#1b2a41", "dove": "#e8e6e1"}
MAKER = PressSetting(heat_c=200.0, time_s=60.0, source="maker")


def blank(construction: str = "wrap", **changes: Any) -> Blank:
    """A blank of that construction with the measures of the design's examples."""
    common: dict[str, Any] = {
        "id": f"can-{construction}",
        "name": f"Can {construction}",
        "construction": construction,
        "cloth": Cloth(finish="linen-look", colours=CLOTH, polyester=1.0),
        "bleed_mm": 6.0,
        "safe_mm": 5.0,
        "press": MAKER,
        "place": Place(f"blanks/can-{construction}.yaml", 1),
        "lines": {"press": 11, "press.heat": 12, "length": 4},
    }
    own: dict[str, dict[str, Any]] = {
        "wrap": {
            "width_mm": 240.0,
            "height_mm": 100.0,
            "vessel_mm": 66.1,
            "thickness_mm": 3.0,
            "closure": Closure(width_mm=30.0, shortest_mm=10.0, on_top="right"),
        },
        "fold": {
            "width_mm": 120.0,
            "height_mm": 214.0,
            "seam_mm": 6.0,
            "fold_mm": 4.0,
            "hem_mm": 5.0,
            "base_mm": 8.0,
        },
        "sewn": {"width_mm": 100.0, "height_mm": 110.0, "gap_mm": 4.0},
        "flat": {"width_mm": 90.0, "height_mm": 90.0},
    }
    return Blank(**{**common, **own[construction], **changes})


def cloth(**changes: Any) -> Cloth:
    return replace(blank().cloth, **changes)


def facts(width: int = 4000, height: int = 3000, **changes: Any) -> PhotoFacts:
    given: dict[str, Any] = {
        "file": FILE,
        "sha256": "3f2a1b" + "0" * 58,
        "bytes": 1_000_000,
        "format": "JPEG",
        "width_px": width,
        "height_px": height,
        "mode": "RGB",
    }
    return PhotoFacts(**{**given, **changes})


def words(text: str = "Odalys & Bram", **changes: Any) -> PlacedWords:
    """Words with 60 × 8 mm of ink in the middle of a wrap's way round."""
    given: dict[str, Any] = {
        "face": "round",
        "rect": Rect(70, 40, 80, 20),
        "ink": Rect(80, 46, 60, 8),
        "slot": "name",
        "text": text,
        "colour": "#1b2a41",
        "font": "Caladea",
        "font_file": Path("fonts/Caladea.ttf"),
        "font_sha256": "c0ffee" + "0" * 58,
        "size_mm": 9.0,
        "size_asked_mm": 9.0,
        "letter_mm": 6.0,
        "place": Place("designs/harbour/design.md", 7),
    }
    return PlacedWords(**{**given, **changes})


FACE = Rect(0, 0, 237, 100)


def photo(rect: Rect = FACE, ppi: float | None = None, **changes: Any) -> PlacedPhoto:
    """A photo covering `rect`; with `ppi`, cropped so that it has exactly that."""
    picture = changes.pop("photo", facts())
    crop = None
    if picture is not None and picture.usable:
        size = Size(picture.width_px, picture.height_px)
        crop = cover_crop(size, Size(rect.width, rect.height), changes.get("focus") or (0.5, 0.5))
        if ppi is None:
            ppi = crop.width / rect.width * 25.4
    given: dict[str, Any] = {
        "face": "round",
        "rect": rect,
        "fill": True,
        "slot": "photo",
        "photo": picture,
        "crop": crop,
        "focus": (0.5, 0.5),
        "ppi": ppi,
    }
    return PlacedPhoto(**{**given, **changes})


def layer(kind: str, rect: Rect, **changes: Any) -> Placed:
    """A colour, or a picture of the design with pixels enough."""
    common: dict[str, Any] = {
        "face": "round",
        "rect": rect,
        "place": Place("designs/harbour/design.md", 9),
    }
    make, own = {
        "colour": (PlacedColour, {"colour": "#000000"}),
        "art": (PlacedArt, {"picture": facts(), "crop": Rect(0, 0, 4000, 3000), "ppi": 300.0}),
        "pattern": (
            PlacedPattern,
            {"picture": facts(), "repeat_mm": 20.0, "repeat_asked_mm": 20.0, "ppi": 300.0},
        ),
    }[kind]
    return make(**{**common, **own, **changes})


def layout(*layers: Placed, on: Blank | None = None, colour: str = "white") -> Layout:
    use = on or blank()
    plan = use.plan()
    faces: dict[str, tuple[Placed, ...]] = {}
    for placed in layers:
        faces[placed.face] = (*faces.get(placed.face, ()), placed)
    return Layout(
        blank=use,
        plan=plan,
        cloth=colour,
        cloth_hex=use.cloth.colours[colour],
        faces=faces,
    )


def design(slots: tuple[str, ...] = ("name",), photos: tuple[str, ...] = ("photo",)) -> Design:
    layers = [PhotoLayer(slot=slot) for slot in photos]
    layers += [WordsLayer(slot=slot) for slot in slots]
    return Design(
        id="harbour",
        title="Harbour photo",
        faces={"round": tuple(layers)},
        offered={"can-wrap": ((1, Decimal("14.50")),)},
        place=Place("designs/harbour/design.md", 1),
    )


def line(names: list[str] | None = None, first: int = 1, **changes: Any) -> Line:
    """One line of an order; with `names` it has a list, one row per name."""
    rows = names if names is not None else ["Odalys & Bram"]
    pieces = tuple(
        Piece(number=first + i, words={"name": text}, place=Place("orders/fenn/guests.csv", i + 2))
        for i, text in enumerate(rows)
    )
    given: dict[str, Any] = {
        "number": 1,
        "design": "harbour",
        "blank": "can-wrap",
        "cloth": "white",
        "quantity": len(rows),
        "photos": {"photo": PhotoUse(file=FILE)},
        "words": {} if names is not None else {"name": rows[0]},
        "list_file": Path("orders/fenn/guests.csv") if names is not None else None,
        "pieces": pieces,
        "place": Place("orders/fenn/order.yaml", 5),
        "lines": {"photos.photo": 9, "words.name": 10, "quantity": 8, "cloth": 7},
    }
    return Line(**{**given, **changes})


def order(*lines: Line, **changes: Any) -> Order:
    given: dict[str, Any] = {
        "id": "fenn",
        "customer": Customer(name="Odalys Fenn", email="odalys@example.org", language="en"),
        "lines": lines or (line(),),
        "due": date(2026, 12, 24),
        "place": Place("orders/fenn/order.yaml", 1),
        "keys": {"due": 3},
    }
    return Order(**{**given, **changes})


def given(
    *layouts: Layout,
    of: Order | None = None,
    on: Blank | None = None,
    designs: tuple[Design, ...] = (),
    photos: dict[str, PhotoFacts] | None = None,
    limits: Limits | None = None,
    settings: dict[str, Any] | None = None,
    others: tuple[Order, ...] = (),
    names: frozenset[str] | None = None,
    rights: Rights | None = None,
    slip: Any = None,
    changes: tuple[AskedChange, ...] = (),
    remarks: tuple[str, ...] = (),
    written: tuple[str, ...] = (),
) -> CheckInput:
    """An order worked out. Each layout is one variant; pieces are dealt out in order."""
    asked = of or order()
    blanks = {b.id: b for b in [*(lay.blank for lay in layouts), on or blank()]}
    shop = Shop(
        folder=Path("shop"),
        settings=Settings(
            name="Tern Row Press Room",
            contact="hello@ternrow.example",
            limits=limits or Limits(),
            **(settings or {}),
        ),
        blanks=blanks,
        designs={d.id: d for d in designs or (design(),)},
        orders={o.id: o for o in (asked, *others)},
        names=names,
    )
    first = asked.lines[0]
    pieces = [p.number for p in first.pieces] or [1]
    variants = []
    for number, laid in enumerate(layouts):
        own = pieces[number : number + 1] if len(layouts) > 1 else pieces
        texts = {p.slot: p.text for p in laid.layers if isinstance(p, PlacedWords) and p.slot}
        variants.append(Variant(line=first.number, pieces=tuple(own), words=texts, layout=laid))
    return CheckInput(
        shop=shop,
        order=asked,
        variants=variants,
        photos={str(FILE): facts()} if photos is None else photos,
        today=TODAY,
        materials=MATERIALS,
        slip=slip,
        changes=changes,
        remarks=remarks,
        written=written,
        rights=rights or Rights(print=True),
        twins=Twins(shop.orders.values(), NoStore()),
        in_stock=stock_of(shop, NO_RECORDS, sorted(shop.orders)),
    )
