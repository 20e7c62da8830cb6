"""The part of a photo shown at its real size: a face where one is known, else what is busy and
fine in the photo, beside what later layers hide."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageFilter

from proofgen.artwork.painting import paint
from proofgen.geometry import Rect, Size
from proofgen.model import (
    ColourLayer,
    Layer,
    Layout,
    PhotoLayer,
    PhotoUse,
    PlacedWords,
    WordsLayer,
)
from proofgen.photo.faces import Face
from proofgen.views import spot
from proofgen.views.cut import real_size_crop, shows_words, words_crop
from proofgen.views.prints import photo_print
from tests.artwork.scenes import CAN_WRAP, COASTER, FOLD, laid, mm, saved
from tests.artwork.test_focus import spotted
from tests.materials import MATERIALS, PICTURES

PHOTO = PhotoLayer(slot="photo")
PART = Size(40, 24)
PLATE: tuple[Layer, ...] = (
    ColourLayer(colour="#fdf6e6", at=mm(10, 60, 80, 34)),
    WordsLayer(text="Odalys & Bram", size_mm=9, at=mm(12, 62, 76, 30)),
)


def coaster(file: Path, *above: Layer) -> Layout:
    use = {"photo": PhotoUse(file=file, focus=(0.5, 0.5))}
    return laid(COASTER, {"front": (PHOTO, *above)}, photos=use)


def on_page(layout: Layout, face: str = "front") -> Rect:
    return real_size_crop(paint(layout, 100, MATERIALS), face, PART, PICTURES)[1]


def found(monkeypatch: pytest.MonkeyPatch, *boxes: Rect) -> None:
    faces = tuple(Face(box, 0.9, 0.0) for box in boxes)
    monkeypatch.setattr(spot, "find_faces", lambda *_: faces)


def test_a_face_is_shown_in_the_middle_and_not_the_name_plate(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((1000, 1000), (100, 850)), tmp_path / "photo.png")
    found(monkeypatch, Rect(400, 300, 160, 200), Rect(700, 300, 100, 120))
    shown = on_page(coaster(file, *PLATE))
    assert (shown.centre_x, shown.centre_y) == pytest.approx((48, 40), abs=1.5)


def test_words_beyond_the_photo_s_part_have_a_part_of_their_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((1000, 1000), (100, 850)), tmp_path / "photo.png")
    found(monkeypatch, Rect(400, 300, 160, 200))
    layout = coaster(file, *PLATE)
    (words,) = (rect for placed in layout.layers if (rect := getattr(placed, "ink", None)))
    rasters = paint(layout, 100, MATERIALS)
    _, photo = real_size_crop(rasters, "front", PART, PICTURES)
    assert not shows_words(rasters, "front", photo, ())
    cut = words_crop(rasters, "front", Size(60, 30), ())
    assert cut and cut[1].holds(words) and shows_words(rasters, "front", cut[1], ())


def test_the_words_of_one_piece_are_shown_before_those_of_all() -> None:
    layers = tuple(
        WordsLayer(slot=slot, size_mm=9, at=mm(12, top, 76, 20))
        for slot, top in (("day", 10), ("name", 70))
    )
    said = {"day": "12 June", "name": "Odalys"}
    layout = laid(COASTER, {"front": layers}, words=said)
    day, name = (placed.ink for placed in layout.layers if isinstance(placed, PlacedWords))
    rasters = paint(layout, 100, MATERIALS)
    for own, ink in (({"name"}, name), ({"day"}, day)):
        cut = words_crop(rasters, "front", PART, own)
        assert cut and ink and cut[1].holds(ink)


def test_beside_a_face_what_is_laid_over_it_stays_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((1000, 1000), (100, 850)), tmp_path / "photo.png")
    found(monkeypatch, Rect(450, 450, 120, 150))
    shown = on_page(coaster(file, *PLATE))
    assert shown.holds(Rect(45, 45, 12, 15), slack=0.5)
    assert shown.bottom < 62


def test_of_two_faces_the_one_that_is_seen_is_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((1000, 1000), (100, 850)), tmp_path / "photo.png")
    found(monkeypatch, Rect(400, 650, 200, 240), Rect(300, 200, 120, 150))
    shown = on_page(coaster(file, *PLATE))
    assert shown.holds(Rect(30, 20, 12, 15), slack=0.5)


def test_without_faces_what_is_fine_is_shown_and_not_what_is_out_of_focus(tmp_path: Path) -> None:
    picture = spotted((1000, 1000), (200, 150), (700, 300))
    picture.paste(picture.crop((0, 0, 500, 500)).filter(ImageFilter.GaussianBlur(7)), (0, 0))
    shown = on_page(coaster(saved(picture, tmp_path / "photo.png"), *PLATE))
    assert shown.holds(Rect(70, 30, 8, 8))


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_photo_all_round_shows_each_face_its_own_part(tmp_path: Path, side: str) -> None:
    blank = replace(FOLD, width_mm=120, height_mm=214, seam_mm=6, hem_mm=5)
    picture = spotted((2160, 900), (800, 150), (200, 500))
    use = {"photo": PhotoUse(file=saved(picture, tmp_path / "photo.png"), focus=(0.5, 0.5))}
    layout = laid(blank, {"round": (PHOTO,)}, photos=use)
    image, _ = real_size_crop(paint(layout, 100, MATERIALS), side, PART, PICTURES)
    assert min(low for low, _ in image.getextrema()) < 20  # the dark squares, not the plain wall


def test_the_print_beside_a_finding_is_of_the_same_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((2400, 1000), (100, 850)), tmp_path / "photo.png")
    found(monkeypatch, Rect(1300, 250, 160, 200))
    use = {"photo": PhotoUse(file=file, focus=(0.5, 0.5))}
    layout = laid(CAN_WRAP, {"round": (PHOTO, *PLATE)}, photos=use)
    placed = layout.layers[0]
    printed = photo_print(layout, placed, PICTURES)
    assert printed is not None
    window = printed[1].moved(placed.rect.x, placed.rect.y)
    page = real_size_crop(paint(layout, 100, MATERIALS), "round", spot.REAL_SIZE, PICTURES)[1]
    face = placed.on_face(Rect(1300, 250, 160, 200))
    assert face is not None and window.holds(face) and page.holds(face)
    assert (window.centre_x, window.centre_y) == pytest.approx(
        (page.centre_x, page.centre_y), abs=5
    )


def test_a_photo_that_is_no_longer_there_is_shown_about_its_focus(tmp_path: Path) -> None:
    file = saved(spotted((1000, 1000), (100, 100)), tmp_path / "photo.png")
    layout = coaster(file)
    rasters = paint(layout, 100, MATERIALS)
    Image.new("RGB", (9, 9)).save(file)
    shown = real_size_crop(rasters, "front", PART, PICTURES)[1]
    assert (shown.centre_x, shown.centre_y) == pytest.approx((50, 50), abs=0.5)
