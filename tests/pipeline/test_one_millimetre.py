"""One millimetre in a blank's file moves everything that depends on it, and nothing else; a colour
of the cloth moves what is seen, never what is pressed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import pixel_digest, raster_names
from proofgen.desk.looks import blank_document
from proofgen.pipeline.cards import blank_cards
from proofgen.pipeline.preflight import prepare_all
from proofgen.press.pieces import paper_pieces
from proofgen.press.planning import plan_sheets
from proofgen.render.drawing import blank_svg
from proofgen.render.truesize import Sheet, true_size
from proofgen.reports import blanks_text
from proofgen.views.cut import face_picture, flat_view
from proofgen.views.inround import round_views
from proofgen.views.pictures import jpeg
from proofgen.workshop import open_workshop
from tests.catalogue.season import entry, offer

SHOP = """\
name: Puffin Yard
contact: hello@puffinyard.example
paper: [A3]
printer: {ppi: 72, margin: 5 mm}
today: 2026-11-25
"""
COMMON = """\
bleed: 6 mm
safe: 5 mm
cloth: {finish: foam, polyester: 100 %, colours: {sky: "#6fb7e9"}}
press: {heat: 385 F, time: 50 s}
"""
BLANKS = {
    "wrap": """\
name: A wrap
construction: wrap
vessel: {diameter: 66 mm}
length: 238 mm
height: 100 mm
thickness: 3 mm
closure: {width: 30 mm, shortest: 10 mm, on_top: right}
""",
    "fold": """\
name: A sleeve
construction: fold
width: 120 mm
height: 214 mm
seam: 6 mm
fold: 4 mm
hem: 5 mm
base: 8 mm
""",
    "sewn": """\
name: A sewn sleeve
construction: sewn
width: 108 mm
height: 100 mm
gap: 4 mm
""",
    "flat": """\
name: A mat
construction: flat
shape: rounded
width: 150 mm
height: 110 mm
corner: 8 mm
""",
    "round": """\
name: A coaster
construction: flat
shape: round
diameter: 96 mm
""",
}
FACE = {"wrap": "round", "fold": "front", "sewn": "front", "flat": "front", "round": "front"}
# Front and back; of a wrap the whole way round.
DESIGN = """\
---
title: Snapshot
offered: {thing: 6.00}
faces:
  FACE:
    - photo: {slot: photo, at: fill}
    - words: {slot: name, at: [20 %, 40 %, 60 %, 20 %], size: 9 mm, colour: "#123"}
---
A photo, edge to edge.
"""
ORDER = """\
customer: {name: Odalys Fenn}
due: 2026-12-20
lines:
  - design: snap
    blank: thing
    cloth: sky
    quantity: 1
    photos: {photo: {file: photo.png, focus: [0.4, 0.6]}}
    words: {name: Bram}
"""


@dataclass(frozen=True)
class Outputs:
    """What is made of a blank: each by a name, to be compared with what is made of another."""

    drawings: Mapping[str, Any]
    views: Mapping[str, Any]
    cloth: Mapping[str, Any]
    findings: Mapping[str, Any]
    numbers: Mapping[str, Any]
    ink: Mapping[str, Any]
    sheet: Mapping[str, Any]


KINDS = tuple(Outputs.__dataclass_fields__)


def photo(path: Path) -> None:
    """A slope of colour in both directions: a picture taken anywhere else is another picture."""
    across = Image.linear_gradient("L").rotate(90).resize((480, 360))
    down = Image.linear_gradient("L").resize((480, 360))
    Image.merge("RGB", (across, down, Image.new("L", (480, 360), 90))).save(path)


def shop(folder: Path, kind: str, blank: str) -> Path:
    files = {
        "shop.yaml": SHOP,
        "blanks/thing.yaml": blank,
        "designs/snap/design.md": DESIGN.replace("FACE", FACE[kind]),
        "orders/fenn/order.yaml": ORDER,
    }
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, "utf-8")
    picture = folder / "orders" / "fenn" / "photo.png"
    if not picture.exists():
        photo(picture)
    return folder


def outputs(folder: Path) -> Outputs:
    """Everything that shows a blank or goes to the press, by the functions the commands use."""
    with open_workshop(folder) as workshop:
        assert not workshop.trouble, workshop.trouble
        (prepared,) = prepare_all(workshop, [])
        assert not workshop.trouble, workshop.trouble
        (variant,) = prepared.variants
        layout, plan = variant.layout, variant.layout.plan
        rasters = paint(layout, prepared.ppi, workshop.materials)
    settings = workshop.shop.settings
    # A card takes from a design its name and a picture, which are not compared: drawn by hand.
    shown = entry("snap", "Snapshot", offer("Snapshot", "thing"))
    (card,) = blank_cards(workshop.shop, [shown], workshop.theme_for(None))
    names = raster_names(prepared.variants)[0]
    digests = {names[panel]: pixel_digest(image) for panel, image in rasters.panels.items()}
    sheets = plan_sheets(list(paper_pieces(prepared.order, [variant], settings)), settings)
    first = next(iter(plan.panels))
    true = true_size(
        plan,
        first,
        shrink=layout.blank.shrink,
        scale=(1, 1),
        papers=[Sheet("A3", 297, 420)],
        margin=5,
    )
    return Outputs(
        drawings={
            "proof": blank_svg(layout.plan, first, title="t", desc="d", picture_href="p.jpg"),
            "catalogue": card.drawing,
            "measuring sheet": str(true.pages[0].svg),
        },
        views={
            **{v.kind: jpeg(v.image, 90) for v in round_views(rasters, 240)},
            "flat": jpeg(flat_view(rasters, first), 90),
        },
        cloth={f: jpeg(face_picture(rasters, f), 90) for f in layout.faces},
        findings={f.key: (f.says, f.cure) for f in prepared.findings if f.status != "pass"},
        numbers={"text": blanks_text(blank_document(layout.blank)), "photo": card.good_px},
        ink=digests,
        sheet={"pieces": [[(p.blank, p.ink) for p in s.pieces] for s in sheets], "ink": digests},
    )


def moved(before: Outputs, after: Outputs) -> set[str]:
    """Which kinds of output differ."""
    return {kind for kind in KINDS if getattr(before, kind) != getattr(after, kind)}


@pytest.fixture(scope="module")
def shops(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of shops, one for each kind: a shop whose blank is changed knows its photo."""
    return tmp_path_factory.mktemp("shops")


@pytest.fixture(scope="module")
def before(shops: Path) -> dict[str, Outputs]:
    return {k: outputs(shop(shops / k, k, text + COMMON)) for k, text in BLANKS.items()}


ALL = set(KINDS)
# construction, what is written, one millimetre on, what does not move (and why)
STEPS = [
    ("wrap", "length: 238 mm", "length: 239 mm", set()),
    ("wrap", "height: 100 mm", "height: 101 mm", set()),
    ("wrap", "diameter: 66 mm", "diameter: 67 mm", set()),
    ("wrap", "thickness: 3 mm", "thickness: 4 mm", set()),
    ("fold", "width: 120 mm", "width: 121 mm", set()),
    ("fold", "height: 214 mm", "height: 215 mm", set()),
    ("fold", "seam: 6 mm", "seam: 7 mm", set()),
    # The face loses at the strip what its bleed gains there: the photo stays as large.
    ("fold", "fold: 4 mm", "fold: 5 mm", {"findings"}),
    ("fold", "hem: 5 mm", "hem: 6 mm", set()),
    # A strip under the can is a line on the drawings, and no other ink.
    ("fold", "base: 8 mm", "base: 9 mm", {"views", "cloth", "ink", "sheet", "findings"}),
    ("sewn", "width: 108 mm", "width: 109 mm", set()),
    ("sewn", "height: 100 mm", "height: 101 mm", set()),
    # Ink is laid down all the same where the press does not reach.
    ("sewn", "gap: 4 mm", "gap: 5 mm", {"ink", "sheet", "findings"}),
    ("flat", "width: 150 mm", "width: 151 mm", set()),
    ("flat", "height: 110 mm", "height: 111 mm", set()),
    # A rounder corner cuts the same ink.
    ("flat", "corner: 8 mm", "corner: 9 mm", {"ink", "sheet", "findings", "numbers", "cloth"}),
    ("round", "diameter: 96 mm", "diameter: 97 mm", set()),
]


@pytest.mark.parametrize(("kind", "old", "new", "stays"), STEPS)
def test_a_millimetre_moves_all_that_depends_on_it(
    before: dict[str, Outputs], shops: Path, kind: str, old: str, new: str, stays: set[str]
) -> None:
    text = BLANKS[kind] + COMMON
    assert text.count(old) == 1
    after = outputs(shop(shops / kind, kind, text.replace(old, new)))
    changed = moved(before[kind], after)
    assert changed >= ALL - stays - {"findings"}, (changed, ALL - stays)
    assert not changed & {"ink", "sheet"} & stays
    # Every drawing moves, not one of them.
    for name, drawing in after.drawings.items():
        assert drawing != before[kind].drawings[name], name
    if "findings" not in stays:
        told = before[kind].findings
        assert any("mm" in says for says, _ in told.values()), told
        assert "findings" in changed, told


def test_the_middle_of_a_wrap_moves_by_half_of_pi(before: dict[str, Outputs], shops: Path) -> None:
    """A millimetre of cloth: 1.57 mm at the front, which a picture must follow."""
    text = BLANKS["wrap"] + COMMON
    after = outputs(
        shop(shops / "wrap", "wrap", text.replace("thickness: 3 mm", "thickness: 4 mm"))
    )
    # 238 - pi x 69 / 2 = 129.615; with 4 mm: 238 - pi x 70 / 2 = 128.044
    assert "centre 129.6 mm" in before["wrap"].numbers["text"]
    assert "centre 128 mm" in after.numbers["text"]


@pytest.mark.parametrize("kind", BLANKS)
def test_another_colour_of_cloth_is_seen_but_presses_the_same_ink(
    before: dict[str, Outputs], shops: Path, kind: str
) -> None:
    text = (BLANKS[kind] + COMMON).replace("#6fb7e9", "#8fb7e9")
    changed = moved(before[kind], outputs(shop(shops / kind, kind, text)))
    assert {"views", "cloth"} <= changed
    assert not changed & {"ink", "sheet", "drawings", "numbers"}


@pytest.mark.parametrize("kind", BLANKS)
def test_shrink_moves_the_sheet_but_not_the_measures_of_the_new_blank(
    before: dict[str, Outputs], shops: Path, kind: str
) -> None:
    text = BLANKS[kind] + COMMON + "shrink: {x: 1 %, y: 1 %}\n"
    after = outputs(shop(shops / kind, kind, text))
    assert moved(before[kind], after) >= {"drawings", "views", "numbers", "ink", "sheet"}
    # The blank on paper is as large as the new blank was measured, whatever it becomes.
    for a, b in zip(before[kind].sheet["pieces"][0], after.sheet["pieces"][0], strict=True):
        assert (a[0].width, a[0].height) == pytest.approx((b[0].width, b[0].height))
