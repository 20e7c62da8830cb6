"""Layout: crops, resolution, aim, patterns that meet, and errors that name their line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from proofgen.artwork.description import Kept, content_key, describe, kept_choices
from proofgen.artwork.layout import lay_out, variants
from proofgen.artwork.materials import Materials
from proofgen.artwork.painting import paint
from proofgen.errors import Place, ShopError
from proofgen.geometry import Rect, from_the_seam
from proofgen.model import (
    ArtLayer,
    Blank,
    Box,
    ColourLayer,
    Customer,
    Layout,
    Line,
    Order,
    PatternLayer,
    PhotoLayer,
    PhotoUse,
    Piece,
    PlacedPhoto,
    Variant,
    WordsLayer,
)
from proofgen.photo.opening import Pictures
from proofgen.render.fonts import find_font
from proofgen.store import NoStore, Store
from tests.artwork.scenes import (
    CAN_WRAP,
    COASTER,
    FLAT,
    FOLD,
    SEWN,
    WRAP,
    design,
    filling,
    laid,
    mm,
    picture,
    saved,
    share,
    shop,
)
from tests.materials import MATERIALS

PHOTO = (PhotoLayer(slot="photo", place=Place("designs/harbour/design.md", 9)),)


@pytest.fixture
def wide(tmp_path: Path) -> Path:
    return saved(Image.new("RGB", (2000, 1000), (90, 120, 150)), tmp_path / "wide.png")


def placed(file: Path, focus: tuple[float, float], zoom: float = 1.0) -> PlacedPhoto:
    use = PhotoUse(file=file, focus=focus, zoom=zoom)
    return laid(COASTER, {"front": PHOTO}, photos={"photo": use}).layers[0]


# 2000 x 1000 px on 100 x 100 mm: 1000 px cover the height, so 1000 px on 100 mm = 254 ppi.
@pytest.mark.parametrize(
    ("focus", "zoom", "crop", "ppi"),
    [
        ((0.5, 0.5), 1.0, Rect(500, 0, 1000, 1000), 254.0),
        ((0.5, 0.5), 2.0, Rect(750, 250, 500, 500), 127.0),
        ((0.0, 0.5), 1.0, Rect(0, 0, 1000, 1000), 254.0),
        ((0.9, 0.1), 2.0, Rect(1500, 0, 500, 500), 127.0),
        ((0.4, 0.5), 4.0, Rect(675, 375, 250, 250), 63.5),
    ],
)
def test_crop_and_resolution_worked_by_hand(
    wide: Path, focus: tuple[float, float], zoom: float, crop: Rect, ppi: float
) -> None:
    got = placed(wide, focus, zoom)
    assert got.crop == crop
    assert got.ppi == pytest.approx(ppi)
    assert not got.focus_chosen


def test_resolution_counts_the_finished_piece_with_its_bleed(tmp_path: Path) -> None:
    # Way round 217.084; cloth 240 x 100, bleed 6: 252 x 112 mm. 2520 x 1120 px: 10 px a mm.
    file = saved(Image.new("RGB", (2520, 1120)), tmp_path / "fit.png")
    use = PhotoUse(file=file, focus=(0.5, 0.5))
    got = laid(CAN_WRAP, {"round": PHOTO}, photos={"photo": use}).layers[0]
    assert got.ppi == pytest.approx(254)
    assert (got.rect.width, got.rect.height) == pytest.approx((252, 112))


def test_shrink_makes_the_piece_smaller_and_the_photo_sharper(tmp_path: Path) -> None:
    file = saved(Image.new("RGB", (2520, 1120)), tmp_path / "fit.png")
    use = PhotoUse(file=file, focus=(0.5, 0.5))
    shrunk = replace(CAN_WRAP, shrink=(0.02, 0.0))
    got = laid(shrunk, {"round": PHOTO}, photos={"photo": use}).layers[0]
    assert got.rect.width == pytest.approx(240 * 0.98 + 12)
    # Now the height decides: still 1120 px on 112 mm.
    assert got.ppi == pytest.approx(254)
    assert got.crop is not None and got.crop.height == pytest.approx(1120)


def test_the_focus_of_a_fill_goes_to_the_middle_of_the_front(tmp_path: Path) -> None:
    # 100 px a mm at zoom 1. Front centre is 14 mm from the cloth's end, 15 with bleed.
    file = saved(Image.new("RGB", (2600, 800)), tmp_path / "long.png")
    use = PhotoUse(file=file, focus=(0.5, 0.5), zoom=2.0)
    got = laid(WRAP, {"round": PHOTO}, photos={"photo": use}).layers[0]
    assert got.crop is not None
    # zoom 2: 26 mm show 1300 px, 50 px a mm; the focus, px 1300, lies 15 mm from the left.
    assert got.crop.x == pytest.approx(1300 - 15 * 50)
    assert got.crop.width == pytest.approx(1300)


def test_a_photo_in_a_box_has_its_focus_in_the_middle_of_the_box(tmp_path: Path) -> None:
    file = saved(Image.new("RGB", (1000, 1000)), tmp_path / "square.png")
    layer = PhotoLayer(slot="photo", at=share(0.1, 0.2, 0.4, 0.2))
    use = PhotoUse(file=file, focus=(0.5, 0.3))
    got = laid(COASTER, {"front": (layer,)}, photos={"photo": use}).layers[0]
    assert got.rect == Rect(10, 20, 40, 20)
    assert got.crop == Rect(0, 50, 1000, 500)
    assert got.ppi == pytest.approx(1000 / 40 * 25.4)


def test_a_chosen_focus_keeps_what_is_busy_in_the_crop(tmp_path: Path) -> None:
    image = Image.new("RGB", (900, 300), (200, 200, 205))
    for i in range(40):
        box = (640 + (i % 8) * 20, 60 + (i // 8) * 34)
        image.paste((i * 6, 200 - i * 5, 40), (*box, box[0] + 10, box[1] + 20))
    file = saved(image, tmp_path / "busy.png")
    got = laid(COASTER, {"front": PHOTO}, photos={"photo": PhotoUse(file=file)}).layers[0]
    assert got.focus_chosen and got.crop is not None
    assert got.crop.x < 640 and got.crop.right > 800


def test_a_chosen_focus_stays_out_of_the_hidden_strip(tmp_path: Path) -> None:
    # One busy spot; at zoom 2 it could land anywhere on the cloth, also under the overlap.
    image = Image.new("RGB", (1200, 500), (200, 200, 205))
    for i in range(24):
        box = (120 + (i % 6) * 14, 200 + (i // 6) * 22)
        image.paste((10, 60, 40), (*box, box[0] + 7, box[1] + 11))
    file = saved(image, tmp_path / "spot.png")
    use = PhotoUse(file=file, zoom=2.0)
    layout = laid(CAN_WRAP, {"round": PHOTO}, photos={"photo": use})
    got = layout.layers[0]
    assert got.crop is not None
    k = got.rect.width / got.crop.width
    spot = Rect(
        got.rect.x + (120 - got.crop.x) * k, got.rect.y + (200 - got.crop.y) * k, 84 * k, 88 * k
    )
    [(panel, on_panel)] = layout.on_panel(got, spot)
    hidden = layout.plan.zones_on(panel)[0].rect
    assert on_panel.overlap(hidden) is None
    assert on_panel.overlap(layout.plan.face("round").rect) is not None


def test_a_choice_is_remembered_by_the_photos_content(
    tmp_path: Path, wide: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def laid_by(materials: Materials) -> Layout:
        return lay_out(
            design({"front": PHOTO}),
            COASTER,
            filling({"photo": PhotoUse(file=wide)}, {}),
            cloth="white",
            materials=materials,
            place=Place("order.yaml", 1),
        )

    with Materials(tmp_path, Store(tmp_path / "store")) as materials:
        first = laid_by(materials)

    def never(*_: object, **__: object) -> Image.Image:
        raise AssertionError("the photo was opened again")

    monkeypatch.setattr(Pictures, "open_pixels", never)
    again = laid_by(Materials(tmp_path, Store(tmp_path / "store")))
    assert again.layers[0].focus == first.layers[0].focus


@pytest.mark.parametrize("content", [b"", b"not a picture at all", b"\xff\xd8\xff\xe0 cut"])
def test_a_bad_photo_is_placed_without_a_crop_and_left_bare(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "bad.jpg"
    file.write_bytes(content)
    layout = laid(COASTER, {"front": PHOTO}, photos={"photo": PhotoUse(file=file)})
    got = layout.layers[0]
    assert got.photo is not None and got.photo.problem
    assert got.crop is None and got.ppi is None
    assert paint(layout, 25.4, MATERIALS)["front"].getextrema() == ((255, 255),) * 3


def test_a_pattern_round_a_can_becomes_whole_repeats(tmp_path: Path) -> None:
    file = saved(picture("RG__ B___"), tmp_path / "tile.png")
    fill = PatternLayer(file=file, repeat_mm=20)
    boxed = replace(fill, at=mm(10, 10, 50, 20))
    got = laid(CAN_WRAP, {"round": (fill, boxed), "front": (fill,)}).layers
    # 217.084 / 20 = 10.85, so eleven repeats of 19.735.
    assert got[0].repeat_mm == pytest.approx(217.0840529 / 11)
    assert got[0].repeat_asked_mm == 20
    assert [p.repeat_mm for p in got[1:]] == [20, 20]
    assert [p.repeats_round for p in got] == [11, 0, 0]
    assert laid(FOLD, {"front": (fill,)}).layers[0].repeat_mm == 20
    band = replace(fill, at=share(0, 0.7, 1, 0.2))
    assert laid(CAN_WRAP, {"round": (band,)}).layers[0].repeats_round == 11
    # Two faces of 10 mm, side by side: 20 mm round the side seams.
    assert laid(FOLD, {"round": (replace(fill, repeat_mm=3),)}).layers[0].repeats_round == 7


@pytest.mark.parametrize(
    ("lay", "repeats"), [("straight", 11), ("brick", 11), ("mirrored", 10), ("half-drop", 10)]
)
def test_every_other_column_needs_an_even_number(tmp_path: Path, lay: str, repeats: int) -> None:
    file = saved(picture("RG__ B___"), tmp_path / "tile.png")
    layer = PatternLayer(file=file, repeat_mm=20, lay=lay)
    got = laid(CAN_WRAP, {"round": (layer,)}).layers[0]
    assert (got.repeats_round, got.lay) == (repeats, lay)
    assert got.repeat_mm == pytest.approx(217.0840529 / repeats)


def test_art_in_a_box_shows_whole_and_undistorted(tmp_path: Path) -> None:
    file = saved(Image.new("RGB", (200, 100)), tmp_path / "art.png")
    layer = ArtLayer(file=file, at=mm(10, 10, 40, 40))
    got = laid(COASTER, {"front": (layer, replace(layer, at=None))}).layers
    assert got[0].rect == Rect(10, 20, 40, 20)
    assert got[0].crop == Rect(0, 0, 200, 100)
    assert got[1].crop == Rect(50, 0, 100, 100)


def test_a_face_the_blank_lacks_is_named_with_the_designs_line() -> None:
    with pytest.raises(ShopError) as caught:
        laid(FLAT, {"front": (), "back": (ColourLayer(colour="#000000"),)})
    assert str(caught.value.place) == "designs/harbour/design.md:8"
    assert "“back”" in caught.value.problem and "Small coaster" in caught.value.problem
    assert caught.value.exit_code == 3


def test_an_order_leaves_out_a_face_its_blank_lacks_for_a_check_to_stop(tmp_path: Path) -> None:
    own = design(
        {"front": (ColourLayer(colour="#000000"),), "back": (ColourLayer(colour="#000000"),)}
    )
    ours = replace(shop(tmp_path), designs={"harbour": own}, blanks={FLAT.id: FLAT})
    asked = order_of(["Ada"], blank=FLAT.id)
    (found,) = variants(ours, asked, MATERIALS)
    assert list(found.layout.faces) == ["front"]


def test_an_unknown_font_gets_a_suggestion_at_the_layers_line() -> None:
    layer = WordsLayer(text="Hello", font="Calaeda", size_mm=5, place=Place("design.md", 14))
    with pytest.raises(ShopError) as caught:
        laid(COASTER, {"front": (layer,)})
    assert str(caught.value.place) == "design.md:14"
    assert "did you mean “Caladea”?" in caught.value.cure


def test_a_broken_font_of_the_shop_is_named_with_its_file(tmp_path: Path) -> None:
    fonts = tmp_path / "fonts"
    fonts.mkdir()
    whole = find_font("Caladea")
    assert whole is not None
    (fonts / "Puffin.ttf").write_bytes(whole.read_bytes()[:-400])
    with Materials(tmp_path, NoStore()) as materials:
        (name,) = {name for name, file in materials.fonts.files.items() if file.parent == fonts}
        layer = WordsLayer(text="Hello", font=name, size_mm=5, place=Place("design.md", 14))
        with pytest.raises(ShopError) as caught:
            lay_out(
                design({"front": (layer,)}), COASTER, filling({}, {}),
                cloth="white", materials=materials, place=Place("order.yaml", 5),
            )  # fmt: skip
    assert str(caught.value.place) == "design.md:14"
    assert "(fonts/Puffin.ttf) cannot be used: " in caught.value.problem
    assert "put another copy" in caught.value.cure


@pytest.mark.parametrize("box", [mm(10, 20, 0, 20), mm(10, 20, 40, 0)])
def test_a_layer_without_width_or_height_is_the_designs_fault(box: Box) -> None:
    layer = ColourLayer(colour="#000000", at=box, place=Place("design.md", 14))
    with pytest.raises(ShopError, match="no width or no height") as caught:
        laid(COASTER, {"front": (layer,)})
    assert str(caught.value.place) == "design.md:14"


def test_an_unknown_cloth_gets_a_suggestion_at_the_orders_line() -> None:
    with pytest.raises(ShopError) as caught:
        laid(COASTER, {"front": ()}, cloth="skye")
    assert str(caught.value.place) == "orders/fenn/order.yaml:5"
    assert "did you mean “sky”?" in caught.value.cure


def test_missing_art_is_the_designs_fault_at_its_line(tmp_path: Path) -> None:
    layer = ArtLayer(file=tmp_path / "gone.png", place=Place("design.md", 21))
    with pytest.raises(ShopError) as caught:
        laid(COASTER, {"front": (layer,)})
    assert str(caught.value.place) == "design.md:21"
    assert "gone.png" in caught.value.problem


def order_of(names: list[str], blank: str = "coaster") -> Order:
    pieces = tuple(
        Piece(number=i + 1, words={"name": name, "table": str(i)}) for i, name in enumerate(names)
    )
    line = Line(
        number=1,
        design="harbour",
        blank=blank,
        cloth="white",
        quantity=len(names),
        words={"date": "Saturday 12 June 2027"},
        pieces=pieces,
        place=Place("order.yaml", 4),
        lines={"blank": 6},
    )
    return Order(id="fenn", customer=Customer(name="Odalys Fenn"), lines=(line,))


def test_pieces_with_the_same_words_share_a_variant(tmp_path: Path) -> None:
    layers = tuple(
        WordsLayer(slot=slot, size_mm=6, at=mm(5, y, 90, 20))
        for slot, y in (("name", 10), ("date", 50))
    )
    known = replace(
        shop(tmp_path), designs={"harbour": design({"front": layers})}, blanks={"coaster": COASTER}
    )
    # é composed and é in two parts are the same name; the table number has no slot here.
    made = variants(known, order_of(["Zoé", "Bram", "Zoe\u0301", "Ada"]), MATERIALS)
    assert [(v.pieces, v.words["name"]) for v in made] == [
        ((1, 3), "Zoé"),
        ((2,), "Bram"),
        ((4,), "Ada"),
    ]
    assert all(v.words["date"] == "Saturday 12 June 2027" for v in made)
    assert [p.text for p in made[1].layout.layers] == ["Bram", "Saturday 12 June 2027"]


def test_a_blank_the_shop_lacks_is_named_at_its_line(tmp_path: Path) -> None:
    known = replace(shop(tmp_path), designs={"harbour": design({})}, blanks={"coaster": COASTER})
    with pytest.raises(ShopError) as caught:
        variants(known, order_of(["Ada"], blank="coster"), MATERIALS)
    assert str(caught.value.place) == "order.yaml:6"
    assert "did you mean “coaster”?" in caught.value.cure


# What is laid otherwise today, and what a proof keeps

UNDER = replace(FOLD, width_mm=120, height_mm=274, seam_mm=6, hem_mm=5, base_mm=30, safe_mm=5)
GAPS = replace(SEWN, width_mm=108, height_mm=100, gap_mm=4, safe_mm=5)
HELLO = (WordsLayer(text="Hello", size_mm=6),)


def kept_of(layout: Layout) -> Kept:
    """What a proof of one piece that looks so keeps of it."""
    line = Line(number=1, design="d", blank=layout.blank.id, cloth="white", quantity=1)
    order = Order(id="fenn", customer=Customer(name="Odalys"), lines=(line,))
    look = Variant(line=1, pieces=(1,), words={}, layout=layout)
    return kept_choices(describe(order, [look], 300))[1]


def laid_again(layout: Layout, layers: tuple[WordsLayer, ...], kept: Kept) -> Layout:
    return lay_out(
        design(dict.fromkeys(layout.faces, layers)),
        layout.blank,
        replace(filling({}, {}), kept=kept),
        cloth="white",
        materials=MATERIALS,
        place=Place("orders/fenn/order.yaml", 5),
    )


@pytest.mark.parametrize(
    ("blank", "face", "free"),
    [
        (UNDER, "front", Rect(5, 5, 98, 91)),  # a face of 108 × 131, 30 of it under the can
        (UNDER, "back", Rect(5, 5, 98, 91)),  # upright, its foot is under the can too
        (UNDER, "round", Rect(59, 5, 98, 91)),  # between the seams at 54 and 162
        (GAPS, "back", Rect(9, 5, 90, 90)),
        (FLAT, "front", Rect(1, 1, FLAT.width_mm - 2, FLAT.height_mm - 2)),
    ],
)
def test_words_without_a_place_lie_where_they_are_seen(blank: Blank, face: str, free: Rect) -> None:
    layout = laid(blank, {face: HELLO})
    ((words,),) = layout.faces.values()
    assert words.rect.x == pytest.approx(free.x) and words.rect.y == pytest.approx(free.y)
    assert words.rect.width == pytest.approx(free.width)
    assert words.rect.height == pytest.approx(free.height)


def test_words_of_a_proof_that_was_laid_before_stay() -> None:
    layout = laid(UNDER, {"front": HELLO})
    (words,) = layout.faces["front"]
    before = replace(words, rect=layout.plan.canvases["front"].size.rect.inset(5))
    kept = kept_of(replace(layout, faces={"front": (before,)}))
    (again,) = laid_again(layout, HELLO, kept).faces["front"]
    assert again.rect == before.rect != words.rect
    (new,) = laid_again(layout, HELLO, kept_of(layout)).faces["front"]
    assert new.rect == words.rect


@pytest.mark.parametrize("blank", [UNDER, GAPS])
def test_pictures_all_round_of_a_proof_that_began_in_a_seam_stay(blank: Blank) -> None:
    """Its description, which is what was signed, is the same to the letter."""
    at = (replace(HELLO[0], at=mm(10, 10, 60, 20)),)
    new = laid(blank, {"round": at})
    old = replace(new, plan=from_the_seam(new.plan))
    assert not kept_of(new).from_seam and kept_of(old).from_seam
    again = laid_again(new, at, kept_of(old))
    assert again.plan.canvases == old.plan.canvases != new.plan.canvases
    assert content_key(again) == content_key(old)
