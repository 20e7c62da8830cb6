"""A photo printed smaller than its slot: where it lies, its pixels per inch, what is signed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from proofgen.artwork.description import layer_document
from proofgen.artwork.painting import paint
from proofgen.geometry import Rect, within
from proofgen.model import Blank, ColourLayer, PhotoLayer, PhotoUse, PlacedPhoto
from tests.artwork.scenes import COASTER, FLAT, WRAP, laid, mm, saved
from tests.materials import MATERIALS

GROUND = ColourLayer(colour="#00a000")
FILL = PhotoLayer(slot="photo")
BOX = PhotoLayer(slot="photo", at=mm(2, 1, 6, 3))


@pytest.fixture
def wide(tmp_path: Path) -> Path:
    return saved(Image.new("RGB", (2000, 1000), (200, 0, 0)), tmp_path / "wide.png")


def placed(
    file: Path, blank: Blank, layer: PhotoLayer, size: tuple[float, float | None] | None
) -> PlacedPhoto:
    use = PhotoUse(file=file, focus=(0.5, 0.5), size_mm=size)
    face = "round" if blank.construction == "wrap" else "front"
    (one,) = laid(blank, {face: (layer,)}, photos={"photo": use}).layers
    assert isinstance(one, PlacedPhoto)
    return one


@pytest.mark.parametrize(
    ("blank", "layer", "size", "rect"),
    [
        # In the middle of the face, in the face's shape: 10 x 6 mm.
        (FLAT, FILL, (5.0, None), Rect(2.5, 1.5, 5, 3)),
        (FLAT, FILL, (5.0, 2.0), Rect(2.5, 2, 5, 2)),
        # In the middle of its box.
        (FLAT, BOX, (4.0, None), Rect(3, 1.5, 4, 2)),
        (FLAT, BOX, (2.0, 3.0), Rect(4, 1, 2, 3)),
        # All round a wrap: about the middle of the front, 10 of its 20 mm.
        (WRAP, FILL, (8.0, 4.0), Rect(6, 1, 8, 4)),
        # No larger than its place is.
        (FLAT, BOX, (9.0, None), Rect(2, 1, 6, 3)),
        (FLAT, BOX, (9.0, 2.0), Rect(2, 1.5, 6, 2)),
    ],
)
def test_a_size_lies_in_the_middle_of_its_place(
    wide: Path, blank: Blank, layer: PhotoLayer, size: tuple[float, float | None], rect: Rect
) -> None:
    one = placed(wide, blank, layer, size)
    got = one.rect
    assert (got.x, got.y, got.width, got.height) == pytest.approx(
        (rect.x, rect.y, rect.width, rect.height)
    )
    assert one.fill is False and one.crop is not None
    assert one.crop.width / one.crop.height == pytest.approx(rect.width / rect.height)


def test_smaller_is_sharper_by_as_much(wide: Path) -> None:
    # 1000 px cover 100 mm: 254 ppi; on 50 mm twice as many.
    assert placed(wide, COASTER, FILL, None).ppi == pytest.approx(254)
    assert placed(wide, COASTER, FILL, (50.0, None)).ppi == pytest.approx(508)


def test_as_large_as_the_face_fills_it_with_its_bleed(wide: Path) -> None:
    whole, none = placed(wide, FLAT, FILL, (99.0, None)), placed(wide, FLAT, FILL, None)
    assert whole == none and whole.fill


def test_it_moves_what_is_signed_and_nothing_else_does(wide: Path) -> None:
    plain = layer_document(placed(wide, FLAT, FILL, None))
    assert "size" not in plain  # orders without one are described as ever
    five, six = (layer_document(placed(wide, FLAT, FILL, (w, None))) for w in (5.0, 6.0))
    assert len({str(one) for one in (plain, five, six)}) == 3


def test_round_the_photo_the_designs_own_ground_is_pressed(wide: Path) -> None:
    use = PhotoUse(file=wide, focus=(0.5, 0.5), size_mm=(4.0, 2.0))
    sharp = replace(FLAT, bleed_mm=0)
    layout = laid(sharp, {"front": (GROUND, FILL)}, photos={"photo": use})
    picture = paint(layout, 25.4, MATERIALS)["front"].convert("RGB")  # 1 px a mm
    red = {
        (x, y)
        for x in range(picture.width)
        for y in range(picture.height)
        if picture.getpixel((x, y)) == (200, 0, 0)
    }
    assert red == {(x, y) for x in range(3, 7) for y in range(2, 4)}
    assert picture.getpixel((0, 0)) == (0, 160, 0)


def test_within_stays_inside() -> None:
    slot = Rect(10, 20, 100, 50)
    assert within(slot, 40, 20, (12, 21)) == Rect(10, 20, 40, 20)
    assert within(slot, 40, 20, (500, 500)) == Rect(70, 50, 40, 20)
    assert within(slot, 400, None, (0, 0)) == slot
