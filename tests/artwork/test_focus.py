"""Where a photo is put when nobody said: away from join and hidden strip, not under a board."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from proofgen.artwork import focus
from proofgen.artwork.covering import cover_map
from proofgen.geometry import Rect
from proofgen.model import (
    ArtLayer,
    ColourLayer,
    Layout,
    PatternLayer,
    PhotoLayer,
    PhotoUse,
    PlacedPhoto,
    WordsLayer,
)
from proofgen.photo.faces import Face
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.artwork.scenes import CAN_WRAP, COASTER, FOLD, laid, mm, saved
from tests.materials import PICTURES

PHOTO = PhotoLayer(slot="photo")
WALL = (206, 203, 198)


def spotted(size: tuple[int, int], *spots: tuple[int, int]) -> Image.Image:
    """A plain wall with busy chequered spots of 80 × 80 px, by their top left corners."""
    image = Image.new("RGB", size, WALL)
    for left, top in spots:
        for i in range(64):
            x, y = left + i % 8 * 10, top + i // 8 * 10
            image.paste(
                (10, 60, 40) if (i + i // 8) % 2 else (230, 120, 30), (x, y, x + 10, y + 10)
            )
    return image


def lies(layout: Layout, index: int, left: int, top: int) -> Rect:
    """Where a spot of the photo comes to lie, in its face's frame, mm."""
    placed = layout.layers[index]
    crop, rect = placed.crop, placed.rect
    assert crop is not None
    k = rect.width / crop.width
    return Rect(rect.x + (left - crop.x) * k, rect.y + (top - crop.y) * k, 80 * k, 80 * k)


def use(file: Path, zoom: float = 1.0) -> dict[str, PhotoUse]:
    return {"photo": PhotoUse(file=file, zoom=zoom)}


def test_a_board_drawn_later_is_kept_clear_of_what_is_busy(tmp_path: Path) -> None:
    file = saved(spotted((900, 900), (420, 420)), tmp_path / "spot.png")
    board = ColourLayer(colour="#fdf6e6", at=mm(10, 40, 80, 50))
    plain = laid(COASTER, {"front": (PHOTO,)}, photos=use(file, 2.0))
    under = laid(COASTER, {"front": (PHOTO, board)}, photos=use(file, 2.0))
    covered = Rect(10, 40, 80, 50)
    assert lies(plain, 0, 420, 420).overlap(covered) is not None
    assert lies(under, 0, 420, 420).overlap(covered) is None


@pytest.mark.parametrize("kind", ["pattern", "art", "photo"])
def test_whatever_is_drawn_later_is_kept_clear_of_what_is_busy(tmp_path: Path, kind: str) -> None:
    file = saved(spotted((900, 900), (420, 420)), tmp_path / "spot.png")
    above = saved(Image.new("RGB", (400, 250), (253, 246, 230)), tmp_path / "above.png")
    box = mm(10, 40, 80, 50)
    layer = {
        "pattern": PatternLayer(file=above, repeat_mm=20, at=box),
        "art": ArtLayer(file=above, at=box),
        "photo": PhotoLayer(slot="other", at=box),
    }[kind]
    photos = {**use(file, 2.0), "other": PhotoUse(file=above)}
    layout = laid(COASTER, {"front": (PHOTO, layer)}, photos=photos)
    assert lies(layout, 0, 420, 420).overlap(Rect(10, 40, 80, 50)) is None
    # A place that waits for its photo covers nothing yet.
    if kind == "photo":
        bare = laid(COASTER, {"front": (PHOTO, layer)}, photos=use(file, 2.0))
        assert lies(bare, 0, 420, 420).overlap(Rect(10, 40, 80, 50)) is not None


def test_a_picture_with_a_layer_for_what_is_clear_may_have_nothing_clear(tmp_path: Path) -> None:
    """Of its head alone nobody knows; of its pixels all are inked."""
    file = saved(Image.new("RGBA", (60, 60), (10, 20, 30, 255)), tmp_path / "whole.png")
    head = PICTURES.inspect(file, decode=False)
    assert head.has_alpha and not PICTURES.inspect(file).has_alpha
    assert (cover_map(head, PICTURES) == 1).all()


def test_a_board_of_another_face_counts_too(tmp_path: Path) -> None:
    file = saved(spotted((1300, 1100), (600, 500)), tmp_path / "spot.png")
    board = ColourLayer(colour="#fdf6e6", at=mm(5, 35, 98, 60))
    faces = {"round": (PHOTO,), "front": (board,)}
    layout = laid(CAN_WRAP, faces, photos=use(file, 1.6))
    spot = lies(layout, 0, 600, 500)
    quarter = layout.plan.face("front").rect.x - layout.plan.face("round").rect.x
    assert spot.overlap(Rect(quarter + 5, 35, 98, 60)) is None


def test_layers_below_cover_nothing(tmp_path: Path) -> None:
    file = saved(spotted((900, 900), (420, 420)), tmp_path / "spot.png")
    ground = ColourLayer(colour="#fdf6e6")
    alone = laid(COASTER, {"front": (PHOTO,)}, photos=use(file, 2.0)).layers[0]
    above = laid(COASTER, {"front": (ground, PHOTO)}, photos=use(file, 2.0)).layers[1]
    assert above.crop == alone.crop


def test_who_stands_in_front_counts_before_posters_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(spotted((2000, 900)), tmp_path / "wall.png")
    man = Rect(300, 250, 240, 300)
    posters = [Rect(x, 150, 110, 140) for x in (1450, 1620, 1790)]
    found = tuple(Face(box, 0.9, 0.0) for box in (man, *posters))
    monkeypatch.setattr(focus, "find_faces", lambda facts, pictures: found)
    placed = laid(COASTER, {"front": (PHOTO,)}, photos=use(file)).layers[0]
    assert isinstance(placed, PlacedPhoto) and placed.crop is not None
    shown = placed.crop.overlap(man)
    assert shown == man


@pytest.mark.parametrize("found", [True, False])
def test_a_mouth_is_kept_clear_of_a_name_plate(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, found: bool
) -> None:
    head = Rect(350, 330, 180, 240)  # in the upper middle, as tall as 38 mm of the piece
    image = Image.new("RGB", (900, 1400), WALL)
    ImageDraw.Draw(image).ellipse((350, 330, 530, 570), fill=(214, 160, 132))
    file = saved(image, tmp_path / "plain.png")
    faces = (Face(head, 0.9, 0.0),) if found else None
    monkeypatch.setattr(focus, "find_faces", lambda facts, pictures: faces)
    plate = WordsLayer(slot="name", at=mm(5, 50, 80, 40), size_mm=9.0, colour="#123456")
    placed = laid(COASTER, {"front": (PHOTO, plate)}, photos=use(file)).layers[0]
    assert isinstance(placed, PlacedPhoto)
    lies_at = placed.on_face(head)
    assert lies_at is not None and lies_at.y > 0 and lies_at.bottom < 50


def test_clear_parts_of_art_hide_nothing(tmp_path: Path) -> None:
    file = saved(spotted((900, 900), (420, 420)), tmp_path / "spot.png")
    art = Image.new("RGBA", (100, 100), (0, 0, 0, 0))
    art.paste((200, 0, 0, 255), (0, 60, 100, 100))
    framed = saved(art, tmp_path / "frame.png")
    cells = cover_map(PICTURES.inspect(framed), PICTURES)
    assert cells[:26].max() < 0.01 and cells[32:].min() > 0.99
    layer = ArtLayer(file=framed, at=mm(0, 0, 100, 100))
    layout = laid(COASTER, {"front": (PHOTO, layer)}, photos=use(file, 2.0))
    assert lies(layout, 0, 420, 420).bottom < 61


def test_a_cover_map_is_kept_by_content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    art = Image.new("RGBA", (60, 60), (0, 0, 0, 0))
    art.paste((200, 0, 0, 255), (0, 0, 30, 60))
    facts = PICTURES.inspect(saved(art, tmp_path / "half.png"))
    with Pictures(Store(tmp_path / "store")) as pictures:
        first = cover_map(facts, pictures)

    def never(*_: object, **__: object) -> Image.Image:
        raise AssertionError("the picture was opened again")

    monkeypatch.setattr(Pictures, "open_pixels", never)
    assert (cover_map(facts, Pictures(Store(tmp_path / "store"))) == first).all()


@pytest.mark.parametrize("on_top", ["right", "left"])
def test_nothing_busy_is_cut_by_the_join(tmp_path: Path, on_top: str) -> None:
    # Two figures; the picture is as wide as the cloth twice over, so it can be moved a lot.
    assert CAN_WRAP.closure is not None
    blank = replace(CAN_WRAP, closure=replace(CAN_WRAP.closure, on_top=on_top))
    spots = ((700, 300), (1500, 300))
    file = saved(spotted((2600, 700), *spots), tmp_path / "two.png")
    layout = laid(blank, {"round": (PHOTO,)}, photos=use(file))
    way = layout.plan.way_round
    assert way is not None
    for spot in spots:
        where = lies(layout, 0, *spot)
        assert where.x > 6 and where.right < way - 6
    join = layout.layers[0].join
    assert join is not None and join.detail < 0.02
    assert join.side == ("left" if on_top == "right" else "right")


def test_what_the_overlap_hides_is_worked_out(tmp_path: Path) -> None:
    # L 240, C 217.084: 22.916 of 240 mm are hidden; with 2 × 6 mm beside the join, 34.916.
    file = saved(spotted((2520, 1120), (60, 500)), tmp_path / "fit.png")
    given = {"photo": PhotoUse(file=file, focus=(0.5, 0.5))}
    join = laid(CAN_WRAP, {"round": (PHOTO,)}, photos=given).layers[0].join
    assert join is not None
    assert join.hidden == pytest.approx(22.916 / 240, abs=0.003)
    assert join.strips == pytest.approx(34.916 / 240, abs=0.005)
    assert join.hidden_mm == pytest.approx(22.916, abs=0.001)
    # Its one busy spot lies 0 to 8 mm from the end that is hidden, right on top.
    assert join.detail > 0.9 and join.side == "left"


def test_only_what_goes_all_the_way_round_has_a_join(tmp_path: Path) -> None:
    file = saved(spotted((900, 500), (100, 100)), tmp_path / "spot.png")
    boxed = replace(PHOTO, at=mm(10, 10, 100, 50))
    for blank, face, layer in (
        (CAN_WRAP, "front", PHOTO),
        (CAN_WRAP, "round", boxed),
        (FOLD, "round", PHOTO),
    ):
        assert laid(blank, {face: (layer,)}, photos=use(file)).layers[0].join is None


def test_round_a_fold_nothing_busy_lies_on_a_seam(tmp_path: Path) -> None:
    fold = replace(FOLD, width_mm=110, height_mm=214, seam_mm=5, fold_mm=4, bleed_mm=4)
    file = saved(spotted((1600, 500), (360, 200)), tmp_path / "middle.png")
    layout = laid(fold, {"round": (PHOTO,)}, photos=use(file))
    spot = lies(layout, 0, 360, 200)
    assert all(spot.right < seam - 3 or spot.x > seam + 3 for seam in (50, 150))
