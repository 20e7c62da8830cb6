"""Views: faces cut from rasters, the ring rolled up, the end that lies on top, real size."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import pixel_digest
from proofgen.colour import (
    hex_to_rgb8,
    linear_to_srgb,
    rgb8_to_hex,
    srgb_to_linear,
)
from proofgen.colour.basis import cloth_matrix
from proofgen.geometry import CONSTRUCTIONS, Size
from proofgen.model import ArtLayer, Blank, ColourLayer, Layer, Layout, WordsLayer
from proofgen.render.drawing import blank_svg
from proofgen.say.parts import VIEWS
from proofgen.views.cut import (
    face_picture,
    flat_view,
    held_view,
    real_size_crop,
    shown_faces,
)
from proofgen.views.hand.picture import roll
from proofgen.views.inround import round_views
from tests.artwork.scenes import (
    CAN_WRAP,
    COASTER,
    EFF,
    FLAT,
    FOLD,
    SEWN,
    laid,
    letters,
    mm,
    picture,
    rows,
    saved,
)
from tests.materials import MATERIALS, PICTURES

ONE_MM = 25.4
CARD = Size(85, 54)


@pytest.fixture
def eff(tmp_path: Path) -> Path:
    return saved(picture(EFF), tmp_path / "eff.png")


def colour(code: str, left: float, width: float, height: float = 100) -> Layer:
    return ColourLayer(colour=code, at=mm(left, 0, width, height))


@pytest.mark.parametrize(("blank", "face"), [(FOLD, "front"), (FOLD, "back"), (FLAT, "front")])
def test_every_face_is_seen_upright(eff: Path, blank: Blank, face: str) -> None:
    layout = laid(blank, {face: (ArtLayer(file=eff, at=mm(2, 0, 4, 5)),)})
    got = letters(face_picture(paint(layout, ONE_MM, MATERIALS), face))
    assert got == rows("__RRRR____ __R_______ __RRG_____ __R_______ __B_______ __________")


def test_round_a_fold_shows_both_faces_side_by_side(eff: Path) -> None:
    layout = laid(FOLD, {"round": (ArtLayer(file=eff, at=mm(8, 0, 4, 5)),)})
    got = letters(face_picture(paint(layout, ONE_MM, MATERIALS), "round")).split()
    assert got[0] == "________RRRR________"
    assert got[2] == "________RRG_________"


def test_where_no_ink_reaches_a_sewn_face_is_bare_at_both_seams() -> None:
    layout = laid(SEWN, {"round": (ColourLayer(colour="#c80000"),)})
    rasters = paint(layout, ONE_MM, MATERIALS)
    assert set(letters(rasters["front"])) == {"R", "\n"}
    assert letters(face_picture(rasters, "front")).split()[0] == "_RRRRRRRR_"
    assert letters(face_picture(rasters, "round")).split()[0] == "RRRR__RRRRRRRR__RRRR"


def test_a_face_shows_its_cloth_only_when_asked() -> None:
    layout = laid(FLAT, {"front": ()}, cloth="sky")
    rasters = paint(layout, ONE_MM, MATERIALS)
    assert face_picture(rasters, "front").getpixel((3, 3)) == (0x6F, 0xB7, 0xE9)
    assert face_picture(rasters, "front", cloth=False).getpixel((3, 3)) == (255, 255, 255)


def test_a_flat_view_is_the_panel_without_its_bleed(eff: Path) -> None:
    layout = laid(FOLD, {"back": (ArtLayer(file=eff, at=mm(1, 0, 4, 5)),)})
    image = flat_view(paint(layout, ONE_MM, MATERIALS), "front and back")
    assert image.size == (12, 16)
    assert letters(image).split()[14] == "______RRRR__"


def test_the_back_of_a_fold_is_seen_as_it_is_held(eff: Path) -> None:
    # The sheet has it upside down, so what is drawn upside down must look upside down.
    layout = laid(FOLD, {"back": (ArtLayer(file=eff, at=mm(1, 0, 4, 5)),)})
    rasters = paint(layout, ONE_MM, MATERIALS)
    assert letters(held_view(rasters, "back")).split()[1] == "__RRRR______"
    assert set(letters(held_view(rasters, "front"))) == {"_", "\n"}
    assert shown_faces(layout) == ["back"]


def test_both_faces_are_shown_where_both_carry_something(eff: Path) -> None:
    art = (ArtLayer(file=eff, at=mm(13, 0, 4, 5)),)
    assert shown_faces(laid(FOLD, {"round": art})) == ["front", "back"]
    art = (ArtLayer(file=eff, at=mm(8, 0, 4, 5)),)
    assert shown_faces(laid(SEWN, {"front": art})) == ["front"]
    assert shown_faces(laid(CAN_WRAP, {"front": art, "round": art})) == ["round"]


@pytest.mark.parametrize("blank", [CAN_WRAP, COASTER, replace(SEWN, width_mm=106.3, height_mm=99)])
@pytest.mark.parametrize("ppi", [25.4, 72, 150, 299.7])
def test_views_have_the_resolution_that_was_painted(blank: Blank, ppi: float) -> None:
    layout = laid(blank, {})
    rasters = paint(layout, ppi, MATERIALS)
    for panel, size in layout.plan.panels.items():
        sides = (size.width * ppi / 25.4, size.height * ppi / 25.4)
        assert flat_view(rasters, panel).size == pytest.approx(sides, abs=0.5001)
    for face, canvas in layout.plan.canvases.items():
        sides = (canvas.size.width * ppi / 25.4, canvas.size.height * ppi / 25.4)
        assert face_picture(rasters, face).size == pytest.approx(sides, abs=0.5001)


# What is shown of each construction, in the order it is made.
SHOWN = {
    "wrap": (CAN_WRAP, ["front", "left", "right", "closure"]),
    "fold": (FOLD, ["front", "left", "right", "back"]),
    "sewn": (SEWN, ["front", "left", "right", "back"]),
    "flat": (FLAT, ["front"]),
}


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_every_construction_is_seen_from_its_sides(construction: str) -> None:
    blank, sides = SHOWN[construction]
    assert blank.construction == construction
    views = round_views(paint(laid(blank, {}), 50, MATERIALS), 120)
    assert [view.kind for view in views] == sides
    assert set(sides) <= set(VIEWS)
    first = round_views(paint(laid(blank, {}), 50, MATERIALS), 120, most=1)
    assert [view.image.tobytes() for view in first] == [views[0].image.tobytes()]


def ring_rows(ring: np.ndarray) -> np.ndarray:
    """A ring's picture as `roll` takes it: its columns as rows."""
    return np.ascontiguousarray(ring.transpose(1, 0, 2).round(), dtype=np.uint8)


def arcs(width: int) -> np.ndarray:
    """asin(x / R) of column edges, as shares of the way round."""
    return np.arcsin(np.linspace(-1, 1, width + 1)) / (2 * math.pi)


def test_a_rolled_ramp_follows_the_formula_column_by_column() -> None:
    width, centre = 300, 0.5
    ramp = np.repeat(np.tile(np.linspace(0, 255, 2000), (4, 1))[..., None], 3, axis=2)
    got = np.asarray(roll(ring_rows(ramp), centre, arcs(width)))[:, 1, 0].astype(float)
    x = (np.arange(width) + 0.5) / width * 2 - 1
    expected = 255 * (centre + np.arcsin(x) / (2 * math.pi))
    assert np.abs(got - expected)[5:-5].max() < 1.2
    assert np.abs(got - expected).max() < 4  # the limb's columns are wide arcs, so their mean


def test_the_four_views_close_the_ring() -> None:
    # Each view ends where the middle of the next one is, so nothing is left out.
    inks = [(200, 0, 0), (0, 160, 0), (0, 0, 220), (120, 120, 0)]
    ring = np.zeros((4, 800, 3))
    for i, ink in enumerate(inks):  # each colour about its own quarter: 0, 1/4, 1/2, 3/4
        ring[:, np.arange(i * 200 - 100, i * 200 + 100) % 800] = ink
    for i, ink in enumerate(inks):
        view = roll(ring_rows(ring), i / 4, arcs(200))  # a row for each column
        assert view.getpixel((1, 100)) == ink
        assert view.getpixel((1, 0)) == inks[(i - 1) % 4]
        assert view.getpixel((1, 199)) == inks[(i + 1) % 4]


def closed(on_top: str) -> Layout:
    """Green at the end on top, blue where the other end comes out, red where nobody can see."""
    assert CAN_WRAP.closure is not None
    blank = replace(CAN_WRAP, closure=replace(CAN_WRAP.closure, on_top=on_top))
    around = 217.0840529
    if on_top == "right":
        layers = (
            colour("#c80000", -22.91, 22.9),
            colour("#0000dc", 0, 20),
            colour("#00a000", around - 20, 20),
        )
    else:
        layers = (
            colour("#00a000", 0, 20),
            colour("#0000dc", around - 20, 20),
            colour("#c80000", around + 0.01, 22.9),
        )
    return laid(blank, {"round": layers})


@pytest.mark.parametrize("on_top", ["right", "left"])
def test_at_the_join_the_end_on_top_is_seen(on_top: str) -> None:
    layout = closed(on_top)
    rasters = paint(layout, 100, MATERIALS)
    assert (200, 0, 0) in {c for _, c in rasters["round"].getcolors(1000) or ()}
    views = {v.kind: np.asarray(v.image).astype(int) for v in round_views(rasters, 300)}
    assert list(views) == ["front", "left", "right", "closure"]
    middle = views["closure"].shape[0] * 2 // 3
    left, right = (views["closure"][middle, 150 + dx] for dx in (-15, 15))
    green, blue = (left, right) if on_top == "right" else (right, left)
    assert green.argmax() == 1 and green[1] > 3 * green[0]
    assert blue.argmax() == 2 and blue[2] > 3 * blue[0]
    for image in views.values():
        red = (image[..., 0] > 90) & (image[..., 1] < 30) & (image[..., 2] < 30)
        assert not red.any()


def test_the_join_is_drawn_as_a_line_at_its_place_and_only_there() -> None:
    layout = laid(CAN_WRAP, {"round": (ColourLayer(colour="#b0b0b0"),)})
    views = {v.kind: v.image for v in round_views(paint(layout, 60, MATERIALS), 400)}
    row = {k: np.asarray(v.convert("L"))[v.height * 2 // 3].astype(int) for k, v in views.items()}
    assert row["closure"][199:201].min() < 0.7 * row["front"][199:201].min()
    # On the other end (right of the line) lies the shade of the end on top.
    assert row["closure"][205:209].mean() < row["front"][205:209].mean() - 10
    assert row["closure"][205:209].mean() < row["closure"][186:195].mean() - 8


def test_the_front_of_a_fold_is_in_the_middle_of_its_view() -> None:
    can_fold = replace(FOLD, width_mm=120, height_mm=214, seam_mm=6, fold_mm=4, hem_mm=5)
    layers = {"front": (colour("#c80000", 0, 108),), "back": (colour("#0000dc", 0, 108),)}
    layout = laid(can_fold, layers)
    views = {v.kind: v.image for v in round_views(paint(layout, 60, MATERIALS), 300)}
    assert list(views) == ["front", "left", "right", "back"]
    middle = {k: v.getpixel((150, v.height * 2 // 3)) for k, v in views.items()}
    assert middle["front"] == pytest.approx((194, 0, 0), abs=9)
    assert middle["back"] == pytest.approx((0, 0, 214), abs=9)
    y = views["right"].height * 2 // 3
    right, left = views["right"], views["left"]
    # Seen from the right, the front lies to the left of the seam; from the left, to its right.
    assert right.getpixel((110, y))[0] > 100 and right.getpixel((190, y))[2] > 100
    assert left.getpixel((190, y))[0] > 100 and left.getpixel((110, y))[2] > 100


def test_what_lies_under_the_can_is_not_in_its_views() -> None:
    can_fold = replace(FOLD, width_mm=120, height_mm=214, seam_mm=6, fold_mm=4, hem_mm=5, base_mm=9)
    strip = ColourLayer(colour="#c80000", at=mm(0, 91, 108, 9))
    layout = laid(can_fold, {"front": (strip,)})
    rasters = paint(layout, 60, MATERIALS)
    assert "R" in letters(face_picture(rasters, "front"))
    front = np.asarray(round_views(rasters, 300)[0].image).astype(int)
    assert not ((front[..., 0] - front[..., 1]) > 60).any()


def test_flat_things_are_cut_to_their_shape() -> None:
    coaster = replace(COASTER, shape="round")
    layout = laid(coaster, {"front": (ColourLayer(colour="#c80000"),)})
    [view] = round_views(paint(layout, 60, MATERIALS), 300, background="#0000dc")
    assert view.kind == "front"
    wide, high = view.image.size
    assert view.image.getpixel((wide // 2, high // 2)) == pytest.approx((194, 0, 0), abs=8)
    # A square's corner would be red here, a little way in from its edges.
    assert view.image.getpixel((wide // 6, high // 6))[0] < 30


@pytest.mark.parametrize("width", [240, 701])
def test_views_have_the_width_that_was_asked(width: int) -> None:
    layout = laid(CAN_WRAP, {})
    for view in round_views(paint(layout, 50, MATERIALS), width):
        assert view.image.width == width and view.image.mode == "RGB"
        assert view.kind in VIEWS


def test_the_real_size_crop_is_about_the_words_in_whole_pixels() -> None:
    words = WordsLayer(text="Odalys & Bram", size_mm=9, at=mm(70, 60, 80, 30))
    layout = laid(CAN_WRAP, {"round": (words,)})
    image, lies = real_size_crop(paint(layout, 300, MATERIALS), "round", CARD, PICTURES)
    ink = layout.layers[0].ink
    assert ink is not None and lies.holds(ink)
    assert image.width == pytest.approx(85 / 25.4 * 300, abs=1)
    assert lies.width == pytest.approx(image.width / 300 * 25.4)
    # The words' own dark pixels are in the picture where the rectangle says.
    dark = np.argwhere(np.asarray(image.convert("L")) < 100)
    assert lies.x + dark[:, 1].min() / 300 * 25.4 == pytest.approx(ink.x, abs=0.15)
    assert lies.y + dark[:, 0].min() / 300 * 25.4 == pytest.approx(ink.y, abs=0.15)


def test_the_real_size_crop_stays_on_a_small_face() -> None:
    layout = laid(FLAT, {"front": ()})
    image, lies = real_size_crop(paint(layout, ONE_MM, MATERIALS), "front", CARD, PICTURES)
    assert image.size == (10, 6)
    assert (lies.x, lies.y, lies.width, lies.height) == pytest.approx((0, 0, 10, 6))


def test_the_flat_drawing_carries_the_picture_and_its_words() -> None:
    layout = laid(CAN_WRAP, {})
    named = {"title": "Ours & yours", "desc": "Flat", "picture_href": "flat.jpg"}
    svg = blank_svg(layout.plan, "round", **named, prefix="p1")
    assert 'href="flat.jpg"' in svg and "Ours &amp; yours" in svg and "p1-title" in svg
    assert "non-scaling-stroke" in svg
    paper = blank_svg(layout.plan, "round", **named, line_mm=0.35)
    assert "non-scaling-stroke" not in paper and 'stroke-width="0.35"' in paper


def test_a_cloth_whose_swatches_were_read_is_shown_as_it_was_read() -> None:
    # A press whose dye reaches half way from the bare cloth to what the plain law says.
    asked = ("#c80000", "#00a000", "#0000dc", "#202020", "#f0c020")
    bare = srgb_to_linear(np.array(hex_to_rgb8("#6fb7e9")) / 255)
    inks = srgb_to_linear(np.array([hex_to_rgb8(c) for c in asked]) / 255)
    half = linear_to_srgb(np.clip(bare + 0.5 * (inks - 1) @ cloth_matrix("#6fb7e9").T, 0, 1))
    read = [rgb8_to_hex(np.rint(colour * 255)) for colour in half]
    pairs = tuple(zip(asked, read, strict=True))
    cloth = replace(FLAT.cloth, readings={"sky": pairs})
    red = {"front": (ColourLayer(colour="#c80000", at=mm(2, 2, 4, 2)),)}
    plain, real = (laid(replace(FLAT, cloth=c), red, cloth="sky") for c in (FLAT.cloth, cloth))
    rasters = paint(real, ONE_MM, MATERIALS)
    for view in (face_picture, flat_view):
        shown = [view(replace(rasters, layout=layout), "front") for layout in (plain, real)]
        for image in shown:
            assert image.getpixel((0, 0)) == (0x6F, 0xB7, 0xE9)  # bare cloth is bare cloth
        got, law = (np.array(image.getpixel((3, 3))) for image in reversed(shown))
        assert np.abs(got - np.array(hex_to_rgb8(read[0]))).max() <= 6
        assert np.abs(law - got).max() > 20
    # What is pressed does not change: a correction only shows what comes of it.
    assert pixel_digest(paint(plain, ONE_MM, MATERIALS)["front"]) == pixel_digest(rasters["front"])
