"""The colour report: main colours, what a cloth does to them, and what stands out on what."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from proofgen.artwork.materials import Materials
from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import Rasters
from proofgen.colour import contrast_ratio, hex_to_rgb8, plain_name
from proofgen.model import ArtLayer, ColourLayer, Layer, Layout, PhotoLayer, PhotoUse, WordsLayer
from proofgen.store import Store
from proofgen.views.colours import colour_report, dominant, kept_report
from proofgen.views.grounds import contrast_on, ground_of, small_rasters
from tests.artwork.scenes import CAN_WRAP, COASTER, laid, mm, saved
from tests.materials import MATERIALS, NO_SHOP

CLOTHS = {"white": "#ffffff", "sky": "#6fb7e9", "charcoal": "#33363b", "natural": "#efe6d2"}
COASTER_OF = replace(COASTER, cloth=replace(COASTER.cloth, colours=CLOTHS))
NAVY, CREAM, MADDER = "#1d2f4f", "#fbeed3", "#9a3324"


def ground(colour: str, left: float = 0, width: float = 100) -> Layer:
    return ColourLayer(colour=colour, at=mm(left, 0, width, 100))


def name(colour: str = NAVY) -> Layer:
    return WordsLayer(slot="name", colour=colour, size_mm=14, at=mm(5, 40, 90, 20))


def layout_of(*layers: Layer, cloth: str = "sky", **given: PhotoUse) -> Layout:
    words = {"name": "Odalys & Bram"}
    return laid(COASTER_OF, {"front": layers}, cloth=cloth, words=words, photos=given)


def test_plain_colours_and_words_with_their_shares() -> None:
    layout = layout_of(ground(CREAM), ground(MADDER, 0, 25), name())
    report = colour_report(layout, paint(layout, 100, MATERIALS), MATERIALS)
    assert [(i.ink, i.source, i.slot) for i in report.inks] == [
        (CREAM, "colour", ""),
        (MADDER, "colour", ""),
        (NAVY, "words", "name"),
    ]
    cream, madder, navy = report.inks
    assert cream.share == pytest.approx(0.74, abs=0.03) and 0.2 < madder.share < 0.27
    assert cream.share + madder.share + navy.share == pytest.approx(1)
    # Cream is bluer and darker on sky than on white; navy hardly moves.
    assert cream.fate == "turns" and plain_name(cream.on_cloth) == "blue"
    assert cream.lightness_lost > 20 and cream.difference > 25
    assert navy.fate == "shifts" and navy.difference < 8


def test_words_tell_their_contrast_on_the_cloth_and_on_white() -> None:
    layout = layout_of(ground(CREAM), name())
    nothing = Rasters(layout=layout, ppi=100, panels={})
    report = colour_report(layout, nothing, MATERIALS)
    navy = next(i for i in report.inks if i.source == "words")
    assert navy.contrast_on_white == pytest.approx(
        contrast_ratio(hex_to_rgb8(NAVY), hex_to_rgb8(CREAM)), rel=1e-6
    )
    there = contrast_ratio(hex_to_rgb8(navy.on_cloth), (111, 171, 194))
    assert navy.contrast == pytest.approx(there, abs=0.1)


def test_white_cloth_changes_nothing() -> None:
    layout = layout_of(ground(CREAM), name(), cloth="white")
    report = colour_report(layout, paint(layout, 50, MATERIALS), MATERIALS)
    assert {i.difference for i in report.inks} == {0.0}
    assert {i.fate for i in report.inks} == {"keeps"}
    assert report.fit.suits and report.fit.difference == 0


def test_cloths_are_told_best_first_and_words_must_stay_readable() -> None:
    layout = layout_of(ground(NAVY, 0, 30), name(NAVY), cloth="charcoal")
    report = colour_report(layout, paint(layout, 50, MATERIALS), MATERIALS)
    assert [(f.name, f.suits) for f in report.cloths] == [
        ("white", True),
        ("natural", True),
        ("sky", True),
        ("charcoal", False),
    ]
    assert report.fit.name == "charcoal"
    # Navy on navy and bare charcoal: no better than its worst place.
    assert report.fit.contrast is not None and report.fit.contrast < 1.1


def test_weak_words_are_no_fault_of_the_cloth() -> None:
    layout = layout_of(name("#b0b8c0"), cloth="natural")
    report = colour_report(layout, paint(layout, 50, MATERIALS), MATERIALS)
    white = next(f for f in report.cloths if f.name == "white")
    assert white.contrast is not None and white.contrast < 3 and white.suits


def test_pale_ink_vanishes_on_a_cloth_of_its_own_colour() -> None:
    layout = layout_of(ground("#6fb7e9"), cloth="charcoal")
    cloths = replace(COASTER.cloth, colours={"dusk": "#1b2a41"})
    dusk = laid(replace(COASTER, cloth=cloths), {"front": (ground("#c0d8f0"),)}, cloth="dusk")
    assert colour_report(layout, paint(layout, 50, MATERIALS), MATERIALS).inks[0].fate == "turns"
    assert colour_report(dusk, paint(dusk, 50, MATERIALS), MATERIALS).inks[0].fate == "vanishes"


def test_the_main_colours_of_a_picture(tmp_path: Path) -> None:
    image = Image.new("RGB", (600, 600), (44, 110, 142))
    image.paste((217, 231, 223), (0, 0, 600, 180))
    image.paste((122, 64, 51), (0, 500, 600, 600))
    file = saved(image, tmp_path / "sea.png")
    layout = layout_of(PhotoLayer(slot="photo"), photo=PhotoUse(file=file))
    report = colour_report(layout, paint(layout, 100, MATERIALS), MATERIALS)
    assert [i.source for i in report.inks] == ["picture"] * 3
    told = [np.array(Image.new("RGB", (1, 1), i.ink).getpixel((0, 0))) for i in report.inks]
    for got, want in zip(told, [(44, 110, 142), (217, 231, 223), (122, 64, 51)], strict=True):
        assert np.abs(got - want).max() <= 3


def test_colours_that_look_alike_are_told_once_and_never_more_than_six() -> None:
    rng = np.random.default_rng(2)
    near = rng.integers(100, 104, (500, 3), dtype=np.uint8)
    assert len(dominant(near)) == 1
    wild = rng.integers(0, 256, (5000, 3), dtype=np.uint8)
    assert len(dominant(wild)) == 6
    assert dominant(np.empty((0, 3), np.uint8)) == []


def test_bare_cloth_and_mixed_edges_are_no_colours(tmp_path: Path) -> None:
    # Thin navy stripes on clear ground, brought down: their edges are mixtures.
    art = Image.new("RGBA", (1000, 1000), (0, 0, 0, 0))
    for x in range(0, 1000, 50):
        art.paste((29, 47, 79, 255), (x, 0, x + 23, 1000))
    layer = ArtLayer(file=saved(art, tmp_path / "stripes.png"), at=mm(0, 0, 100, 100))
    layout = layout_of(layer)
    report = colour_report(layout, paint(layout, 127, MATERIALS), MATERIALS)
    assert len(report.inks) == 1 and report.inks[0].share == 1
    assert report.inks[0].fate == "shifts" and report.fit.suits


def test_nothing_inked_suits_everything() -> None:
    layout = layout_of()
    report = colour_report(layout, paint(layout, 25.4, MATERIALS), MATERIALS)
    assert report.inks == () and all(f.suits for f in report.cloths)


def test_what_lies_behind_words_is_the_picture_below_them_alone(tmp_path: Path) -> None:
    image = Image.new("RGB", (500, 500), (200, 210, 220))
    image.paste((20, 30, 40), (0, 0, 250, 500))
    use = PhotoUse(file=saved(image, tmp_path / "half.png"), focus=(0.5, 0.5))
    board = ColourLayer(colour="#ff0000", at=mm(0, 0, 100, 100))
    layout = layout_of(PhotoLayer(slot="photo"), name(), board, photo=use)
    behind = ground_of(layout, layout.layers[1], MATERIALS)
    assert behind is not None
    dark = (behind < 60).all(axis=1).mean()
    pale = (behind > 180).all(axis=1).mean()
    assert 0.4 < dark < 0.6 and dark + pale > 0.97

    seen = contrast_on("#ffffff", behind, "#ffffff")
    assert seen.low == pytest.approx(contrast_ratio((255, 255, 255), (0xC8, 0xD2, 0xDC)), abs=0.02)


def test_round_a_can_words_are_looked_for_on_the_cloth() -> None:
    layer = WordsLayer(text="Odalys", size_mm=9, at=mm(10, 20, 80, 30))
    under = ColourLayer(colour="#22334d", at=mm(10, 20, 80, 30))
    layout = laid(CAN_WRAP, {"round": (), "front": (under, layer)})
    behind = ground_of(layout, layout.layers[1], MATERIALS)
    assert behind is not None and (behind == (0x22, 0x33, 0x4D)).all()


def test_a_report_is_kept_by_what_is_on_the_piece(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    materials, layout = Materials(NO_SHOP, Store(tmp_path)), layout_of(ground(CREAM), name())
    first = kept_report(layout, materials)
    assert first == colour_report(layout, small_rasters(layout, MATERIALS), MATERIALS)

    def never(*_: object, **__: object) -> None:
        raise AssertionError("the report was worked out again")

    monkeypatch.setattr("proofgen.views.colours.colour_report", never)
    assert kept_report(layout, Materials(NO_SHOP, Store(tmp_path))) == first
    with pytest.raises(AssertionError, match="again"):
        kept_report(replace(layout, cloth="natural", cloth_hex="#efe6d2"), materials)


def test_small_pictures_are_kept_without_their_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    materials = Materials(NO_SHOP, Store(tmp_path))
    layout, other = layout_of(ground(CREAM), name()), layout_of(ground(CREAM), name(MADDER))
    first = small_rasters(layout, materials)
    assert first["front"].getextrema() == ((251, 251), (238, 238), (211, 211))
    monkeypatch.setattr("proofgen.views.grounds.paint", lambda *_: pytest.fail("painted again"))
    for kept in (materials, Materials(NO_SHOP, Store(tmp_path))):  # in this run and the next
        assert small_rasters(other, kept)["front"].tobytes() == first["front"].tobytes()
