"""Rasters: where ink lands on every construction, to the pixel; and the files they are kept in."""

from __future__ import annotations

import gc
import math
import struct
import weakref
import zlib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageFile

from proofgen.artwork.materials import Materials
from proofgen.artwork.painting import paint, paint_by_name
from proofgen.artwork.rasters import (
    kept_rasters,
    pixel_digest,
    raster_name,
    raster_names,
    raster_png,
    read_raster,
)
from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import (
    ArtLayer,
    ColourLayer,
    Layer,
    Layout,
    PatternLayer,
    PhotoLayer,
    PhotoUse,
    Variant,
    WordsLayer,
)
from proofgen.store import NoStore
from tests.artwork.scenes import (
    CAN_WRAP,
    EFF,
    FLAT,
    FOLD,
    SEWN,
    WRAP,
    laid,
    letters,
    mm,
    picture,
    rows,
    saved,
)
from tests.materials import MATERIALS, NO_SHOP

ONE_MM = 25.4  # ppi at which a pixel is a mm


@pytest.fixture
def eff(tmp_path: Path) -> Path:
    return saved(picture(EFF), tmp_path / "eff.png")


def art(file: Path, left: float, top: float) -> tuple[Layer, ...]:
    return (ArtLayer(file=file, at=mm(left, top, 4, 5)),)


def painted(layout: Layout) -> dict[str, str]:
    return {
        panel: letters(image) for panel, image in paint(layout, ONE_MM, MATERIALS).panels.items()
    }


def test_a_wrap_counts_its_face_from_the_end_of_the_closure(eff: Path) -> None:
    # Bleed 1 + hidden 4 + left 2 = column 7; bleed 1 + top 1 = row 2.
    got = painted(laid(WRAP, {"round": art(eff, 2, 1)}))
    assert got == {
        "round": rows(
            """
            __________________________
            __________________________
            _______RRRR_______________
            _______R__________________
            _______RRG________________
            _______R__________________
            _______B__________________
            __________________________
            """
        )
    }


def test_a_wrap_closed_the_other_way_starts_at_its_left_end(eff: Path) -> None:
    assert WRAP.closure is not None
    other = replace(WRAP, closure=replace(WRAP.closure, on_top="left"))
    got = painted(laid(other, {"round": art(eff, 2, 1)}))["round"]
    assert got.split()[2] == "___RRRR___________________"


def test_the_front_of_a_wrap_is_half_the_way_round_about_its_centre(eff: Path) -> None:
    # Front: 10 wide about 4 + 10 = 14, so from 9; in the raster column 10.
    got = painted(laid(WRAP, {"front": art(eff, 0, 1)}))["round"]
    assert got.split()[2] == "__________RRRR____________"


def test_a_fold_shows_its_front_upright_and_its_back_turned(eff: Path) -> None:
    got = painted(laid(FOLD, {"front": art(eff, 1, 0), "back": art(eff, 1, 0)}))
    assert got == {
        "front and back": rows(
            """
            ______________
            ______________
            ___RRRR_______
            ___R__________
            ___RRG________
            ___R__________
            ___B__________
            ______________
            ______________
            ______________
            ______________
            __________B___
            __________R___
            ________GRR___
            __________R___
            _______RRRR___
            ______________
            ______________
            """
        )
    }


def test_round_a_fold_runs_from_the_front_over_the_seam_to_the_turned_back(eff: Path) -> None:
    # Columns 13 to 16 of 20: two on the front, two on the back, one more of each inside the seam.
    got = painted(laid(FOLD, {"round": art(eff, 13, 0)}))["front and back"].split()
    assert got[2:7] == [
        "__________RRR_",
        "__________R___",
        "__________RRG_",
        "__________R___",
        "__________B___",
    ]
    assert got[11:16] == [
        "______________",
        "______________",
        "___________GR_",
        "______________",
        "__________RRR_",
    ]


def test_a_sewn_sleeve_has_two_panels_and_round_crosses_their_seam(eff: Path) -> None:
    got = painted(laid(SEWN, {"round": art(eff, 13, 0)}))
    assert got["front"] == rows(
        """
        ____________
        _________RRR
        _________R__
        _________RRG
        _________R__
        _________B__
        ____________
        ____________
        """
    )
    assert got["back"] == rows(
        """
        ____________
        RRR_________
        ____________
        RG__________
        ____________
        ____________
        ____________
        ____________
        """
    )


def test_each_face_of_a_sewn_sleeve_takes_its_own_drawing(eff: Path) -> None:
    got = painted(laid(SEWN, {"back": art(eff, 3, 1)}))
    assert set(got["front"]) == {"_", "\n"}
    assert got["back"].split()[2] == "____RRRR____"


def test_a_flat_piece_is_drawn_as_it_lies(eff: Path) -> None:
    got = painted(laid(FLAT, {"front": art(eff, 5, 1)}))["front"].split()
    assert got[2:7] == [
        "______RRRR__",
        "______R_____",
        "______RRG___",
        "______R_____",
        "______B_____",
    ]


def test_layers_lie_on_each_other_in_order(eff: Path) -> None:
    ground = ColourLayer(colour="#0000dc", at=mm(4, 0, 3, 3))
    got = painted(laid(FLAT, {"front": (ground, *art(eff, 5, 1))}))["front"].split()
    assert got[1:5] == ["_____BBB____", "_____BRRRR__", "_____BR_____", "______RRG___"]


def test_clear_parts_of_a_picture_are_bare_cloth(tmp_path: Path) -> None:
    image = picture(EFF).convert("RGBA")
    image.putalpha(Image.new("L", image.size, 255))
    image.putpixel((0, 0), (200, 0, 0, 0))
    file = saved(image, tmp_path / "clear.png")
    got = painted(laid(FLAT, {"front": art(file, 5, 1)}))["front"].split()
    assert got[2] == "_______RRR__"


def test_a_photo_that_fills_a_wrap_covers_every_pixel_of_its_raster(tmp_path: Path) -> None:
    # 252 mm at 300 ppi are 2976.4 px, so the last column is only partly cloth: it is inked too.
    file = saved(Image.new("RGB", (600, 300), (10, 20, 30)), tmp_path / "dark.png")
    photo = (PhotoLayer(slot="photo"),)
    layout = laid(CAN_WRAP, {"round": photo}, photos={"photo": PhotoUse(file=file)})
    image = paint(layout, 300, MATERIALS)["round"]
    assert image.size == (math.ceil(252 * 300 / 25.4), math.ceil(112 * 300 / 25.4))
    assert image.getextrema() == ((10, 10), (20, 20), (30, 30))


def test_a_photo_at_its_own_size_is_not_touched(tmp_path: Path) -> None:
    rng = np.random.default_rng(5)
    pixels = rng.integers(0, 256, (8, 26, 3), dtype=np.uint8)
    file = saved(Image.fromarray(pixels), tmp_path / "noise.png")
    photo = (PhotoLayer(slot="photo"),)
    layout = laid(WRAP, {"round": photo}, photos={"photo": PhotoUse(file=file)})
    assert np.array_equal(np.asarray(paint(layout, ONE_MM, MATERIALS)["round"]), pixels)


def test_a_zoomed_photo_shows_the_middle_of_what_it_showed(tmp_path: Path) -> None:
    # 24 x 16 px on 12 x 8 mm at zoom 2: the middle 12 x 8 px, one to a mm.
    pixels = np.random.default_rng(6).integers(0, 256, (16, 24, 3), dtype=np.uint8)
    file = saved(Image.fromarray(pixels), tmp_path / "noise.png")
    use = PhotoUse(file=file, focus=(0.5, 0.5), zoom=2)
    layout = laid(FLAT, {"front": (PhotoLayer(slot="p"),)}, photos={"p": use})
    assert np.array_equal(np.asarray(paint(layout, ONE_MM, MATERIALS)["front"]), pixels[4:12, 6:18])


@pytest.mark.parametrize(
    ("turn", "rows"),
    [
        (0, "RG__ B___ ____"),
        (90, "_BR __G ___ ___"),
        (180, "____ ___B __GR"),
        (270, "___ ___ G__ RB_"),
    ],
)
@pytest.mark.parametrize("stored", [1, 6])
def test_a_photo_turned_by_its_order_is_turned_clockwise_before_it_is_cut(
    tmp_path: Path, turn: int, rows: str, stored: int
) -> None:
    upright, tag = picture("RG__ B___ ____"), Image.Exif()
    lain = upright.transpose(Image.Transpose.ROTATE_90) if stored == 6 else upright
    tag[0x0112] = stored
    lain.save(tmp_path / "photo.png", exif=tag)
    wide, high = len(rows.split()[0]), len(rows.split())
    box = mm(1, 1, wide, high)
    uses = {"p": PhotoUse(file=tmp_path / "photo.png", focus=(0.5, 0.5), turn=turn)}
    layout = laid(FLAT, {"front": (PhotoLayer(slot="p", at=box),)}, photos=uses)
    assert layout.layers[0].crop == Rect(0, 0, wide, high)
    got = painted(layout)["front"].split()
    assert [row[2 : 2 + wide] for row in got[2 : 2 + high]] == rows.split()  # 1 mm of bleed


def test_a_slot_without_a_photo_stays_bare() -> None:
    layout = laid(FLAT, {"front": (PhotoLayer(slot="photo"),)})
    assert layout.layers[0].crop is None
    assert paint(layout, ONE_MM, MATERIALS)["front"].getextrema() == ((255, 255),) * 3


def test_a_pattern_keeps_its_step_and_starts_at_the_face(tmp_path: Path) -> None:
    file = saved(picture("RG__ B___"), tmp_path / "tile.png")
    repeat = (PatternLayer(file=file, repeat_mm=4),)
    got = painted(laid(WRAP, {"round": repeat}))["round"].split()
    # The face starts at column 5; 20 mm are five repeats, so the hidden end goes on in step.
    assert got[1] == "_RG__RG__RG__RG__RG__RG__R"
    assert got[2] == "_B___B___B___B___B___B___B"


def test_a_pattern_on_a_turned_back_is_upside_down_with_it(tmp_path: Path) -> None:
    file = saved(picture("RG__ B___"), tmp_path / "tile.png")
    repeat = (PatternLayer(file=file, repeat_mm=4, at=mm(0, 0, 10, 6)),)
    got = painted(laid(FOLD, {"back": repeat}))["front and back"].split()
    assert got[15] == "__GR__GR__GR__"
    assert got[14] == "___B___B___B__"


@pytest.mark.parametrize("ppi", [300, 600])
def test_words_are_inked_where_the_layout_says(ppi: float) -> None:
    layer = WordsLayer(text="Odalys & Bram", size_mm=9, colour="#000000", at=mm(10, 20, 80, 30))
    layout = laid(CAN_WRAP, {"round": (layer,)})
    ink = layout.layers[0].ink
    assert ink is not None
    dark = np.asarray(paint(layout, ppi, MATERIALS)["round"].convert("L")) < 128
    down, across = np.nonzero(dark)
    mm_px = 25.4 / ppi
    start = 6 + layout.plan.face("round").rect.x
    assert across.min() * mm_px - start == pytest.approx(ink.x, abs=0.1)
    assert (across.max() + 1) * mm_px - start == pytest.approx(ink.right, abs=0.1)
    assert down.min() * mm_px - 6 == pytest.approx(ink.y, abs=0.1)
    assert (down.max() + 1) * mm_px - 6 == pytest.approx(ink.bottom, abs=0.1)


def test_words_on_a_turned_back_are_the_front_turned() -> None:
    layer = WordsLayer(text="Fé", size_mm=4, colour="#000000", at=mm(1, 0, 8, 6))
    fold = replace(FOLD, width_mm=14, seam_mm=2)
    image = paint(laid(fold, {"front": (layer,), "back": (layer,)}), 254, MATERIALS)[
        "front and back"
    ]
    front, back = image.crop((30, 20, 130, 80)), image.crop((30, 100, 130, 160))
    assert front.convert("L").getextrema()[0] < 40
    turned = np.asarray(back.transpose(Image.Transpose.ROTATE_180), dtype=int)
    assert np.abs(turned - np.asarray(front, dtype=int)).max() <= 2


def test_every_reader_gets_back_the_very_pixels() -> None:
    pixels = np.random.default_rng(1).integers(0, 256, (37, 53, 3), dtype=np.uint8)
    image = Image.fromarray(pixels)
    png = raster_png(image)
    assert np.array_equal(np.asarray(read_raster(png)), pixels)
    assert np.array_equal(unpacked(png), pixels)


def unpacked(png: bytes) -> np.ndarray:
    """PNG read by the standard alone (chunks, checksums, filter 2), without the tool's reader."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    at, chunks = 8, {}
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        kind, body = png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        assert struct.unpack(">I", png[at + 8 + length : at + 12 + length])[0] == zlib.crc32(
            kind + body
        )
        chunks[kind] = body
        at += 12 + length
    assert list(chunks) == [b"IHDR", b"IDAT", b"IEND"]
    wide, high, depth, colour = struct.unpack(">IIBB", chunks[b"IHDR"][:10])
    assert (depth, colour) == (8, 2)
    lines = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), np.uint8).reshape(high, 1 + wide * 3)
    assert set(lines[:, 0]) == {2}
    total = np.cumsum(lines[:, 1:].astype(np.int64), axis=0) % 256
    return total.astype(np.uint8).reshape(high, wide, 3)


def test_fine_detail_is_deflated_by_runs_and_what_repeats_is_not() -> None:
    dice = np.random.default_rng(4)
    grain = dice.normal(120, 9, (300, 200, 3)).astype(np.uint8)
    tiles = np.tile(dice.integers(0, 256, (30, 20, 3), dtype=np.uint8), (10, 10, 1))
    for pixels, runs in ((grain, True), (tiles, False)):
        png = raster_png(Image.fromarray(pixels))
        assert np.array_equal(unpacked(png), pixels)
        at = png.index(b"IDAT")
        (length,) = struct.unpack(">I", png[at - 4 : at])
        lines = zlib.decompress(png[at + 4 : at + 4 + length])
        of_runs = zlib.compressobj(1, memLevel=9, strategy=zlib.Z_RLE)
        by_runs = len(of_runs.compress(lines) + of_runs.flush())
        assert length == by_runs if runs else length < by_runs / 4
        assert length <= 1.02 * len(zlib.compress(lines, 1))


def test_half_a_raster_is_refused_whatever_another_library_has_set(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    pixels = np.random.default_rng(2).integers(0, 256, (90, 90, 3), dtype=np.uint8)
    png = raster_png(Image.fromarray(pixels))
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    for cut in (len(png) // 2, len(png) - 40, 20, 0):
        with pytest.raises(ProofgenError, match="damaged"):
            read_raster(png[:cut])
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


def test_the_digest_is_of_pixels_mode_and_size() -> None:
    image = picture("RG BR")
    same = Image.frombytes("RGB", image.size, image.tobytes())
    other = Image.frombytes("RGB", (4, 1), image.tobytes())
    assert pixel_digest(image) == pixel_digest(same) == pixel_digest(read_raster(raster_png(image)))
    assert pixel_digest(image) != pixel_digest(other)
    assert pixel_digest(image) != pixel_digest(picture("RG BG"))


def test_names_of_rasters_are_safe_and_tell_line_variant_and_panel() -> None:
    assert raster_name(1, 0, "round") == "line1-a-round.png"
    assert raster_name(2, 27, "front and back") == "line2-ab-both.png"
    layouts = [laid(SEWN, {}), laid(FLAT, {}), laid(FLAT, {})]
    made = [
        Variant(line=line, pieces=(1,), words={}, layout=layout)
        for line, layout in zip((1, 2, 2), layouts, strict=True)
    ]
    assert raster_names(made) == [
        {"front": "line1-a-front.png", "back": "line1-a-back.png"},
        {"front": "line2-a-front.png"},
        {"front": "line2-b-front.png"},
    ]


def test_kept_pictures_come_back_to_their_panels() -> None:
    red = {"front": (ColourLayer(colour="#c80000", at=mm(2, 2, 4, 2)),)}
    made = [
        Variant(line=line, pieces=(1,), words={}, layout=laid(blank, red))
        for line, blank in ((1, SEWN), (2, FLAT))
    ]
    kept = dict(paint_by_name(made, 72, MATERIALS))
    assert list(kept) == ["line1-a-front.png", "line1-a-back.png", "line2-a-front.png"]
    for of, variant in zip(kept_rasters(made, 72, kept), made, strict=True):
        assert of.panels == paint(variant.layout, 72, MATERIALS).panels
    with pytest.raises(KeyError):
        kept_rasters(made, 72, {"line1-a-front.png": kept["line1-a-front.png"]})


def test_painting_is_the_same_whatever_was_painted_before(tmp_path: Path) -> None:
    """In another run, after the same at other sizes, and again in one run."""
    photo, tile = tmp_path / "photo.jpg", tmp_path / "tile.png"
    speckled(1200, 900).save(photo, quality=95)
    speckled(90, 60).save(tile)
    layers = (
        PatternLayer(file=tile, repeat_mm=7, lay="brick"),
        PhotoLayer(slot="photo", at=mm(1, 1, 12, 6)),
        WordsLayer(text="Ada", size_mm=3, at=mm(1, 1, 10, 4)),
    )
    layout = laid(FOLD, {"round": layers}, photos={"photo": PhotoUse(file=photo, zoom=1.3)})

    def painted(materials: Materials, ppi: float = 300) -> dict[str, str]:
        return {p: pixel_digest(i) for p, i in paint(layout, ppi, materials).panels.items()}

    with Materials(NO_SHOP, NoStore()) as first, Materials(NO_SHOP, NoStore()) as second:
        once = painted(first)
        others = [painted(second, ppi) for ppi in (60, 1200)]
        assert painted(second) == once == painted(first)
        assert once not in others


def speckled(width: int, height: int) -> Image.Image:
    grains = np.random.default_rng(5).integers(0, 255, (height, width, 3), dtype=np.uint8)
    return Image.fromarray(grains)


def test_of_a_long_list_one_look_at_a_time_is_in_memory() -> None:
    red = {"front": (ColourLayer(colour="#c80000", at=mm(2, 2, 4, 2)),)}
    made = [Variant(line=1, pieces=(n,), words={}, layout=laid(FLAT, red)) for n in range(1, 7)]
    seen = [weakref.ref(image) for image in paint_by_name(made, 72, MATERIALS).values()]
    gc.collect()
    assert len(seen) == 6
    assert sum(one() is not None for one in seen) <= 1
