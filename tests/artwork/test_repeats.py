"""Patterns laid straight, mirrored, half-drop and brick: small enough to read, to the pixel."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from proofgen.artwork.painting import paint
from proofgen.artwork.repeats import cells, whole_repeats, with_neighbours
from proofgen.geometry import Rect
from proofgen.model import PATTERN_LAYS, Layer, PatternLayer
from proofgen.views.cut import face_picture
from tests.artwork.scenes import FOLD, SEWN, WRAP, laid, letters, mm, picture, rows, saved
from tests.materials import MATERIALS

ONE_MM = 25.4
LAYS = st.sampled_from(PATTERN_LAYS)


@pytest.fixture
def tile(tmp_path: Path) -> Path:
    # Neither mirrored nor turned does it look like itself.
    return saved(picture("RG__ B___"), tmp_path / "tile.png")


def layer(tile: Path, lay: str, repeat: float = 4) -> Layer:
    return PatternLayer(file=tile, repeat_mm=repeat, lay=lay)


# The face of the small wrap is 20 × 6 mm; columns 5 to 24 of its raster. Repeats are 4 × 2 mm,
# five round; the lays that need an even number get four of 5 mm, so they are tried in a box.
STRAIGHT = """
    RG__RG__RG__
    B___B___B___
    RG__RG__RG__
    B___B___B___
"""
MIRRORED = """
    RG____GRRG__
    B______BB___
    B______BB___
    RG____GRRG__
"""
HALF_DROP = """
    RG__B___RG__
    B___RG__B___
    RG__B___RG__
    B___RG__B___
"""
BRICK = """
    RG__RG__RG__
    B___B___B___
    __RG__RG__RG
    __B___B___B_
"""


@pytest.mark.parametrize(
    ("lay", "want"),
    [("straight", STRAIGHT), ("mirrored", MIRRORED), ("half-drop", HALF_DROP), ("brick", BRICK)],
)
def test_each_lay_is_what_its_name_says(tile: Path, lay: str, want: str) -> None:
    boxed = PatternLayer(file=tile, repeat_mm=4, lay=lay, at=mm(2, 1, 12, 4))
    image = paint(laid(WRAP, {"round": (boxed,)}), ONE_MM, MATERIALS)["round"]
    assert letters(image.crop((7, 2, 19, 6))) == rows(want)
    outside = image.copy()
    outside.paste((255, 255, 255), (7, 2, 19, 6))
    assert outside.getextrema() == ((255, 255),) * 3


def test_a_pattern_finer_than_the_raster_leaves_no_hole_and_one_too_thin_no_ink(
    tile: Path,
) -> None:
    fine = PatternLayer(file=tile, repeat_mm=0.7, at=mm(2, 1, 12, 4))
    image = paint(laid(WRAP, {"round": (fine,)}), ONE_MM, MATERIALS)["round"]
    inside = np.asarray(image.crop((7, 2, 19, 6))).reshape(-1, 3)
    assert (inside.min(axis=1) < 255).all()
    thin = PatternLayer(file=tile, repeat_mm=4, at=mm(2, 1, 12, 0.2))
    image = paint(laid(WRAP, {"round": (thin,)}), ONE_MM, MATERIALS)["round"]
    assert image.getextrema() == ((255, 255),) * 3


@pytest.mark.parametrize("lay", PATTERN_LAYS)
@pytest.mark.parametrize("repeat", [3.1, 5.0, 7.0])
def test_a_fill_meets_itself_across_the_closure(tile: Path, lay: str, repeat: float) -> None:
    # 20 mm round at 30 px a mm: what lies one way round further on is the same picture. Repeats
    # that are no whole pixels may be a pixel off, so pictures are compared where neither has an
    # edge within a pixel.
    scale = 30
    layout = laid(WRAP, {"round": (layer(tile, lay, repeat),)})
    image = paint(layout, ONE_MM * scale, MATERIALS)["round"]
    pixels = np.asarray(image).astype(int)
    way = 20 * scale
    first, again = pixels[:, : pixels.shape[1] - way], pixels[:, way:]
    calm = np.ones(first.shape[:2], bool)
    for shift in (-1, 0, 1):
        for part in (first, again):
            calm &= np.abs(part - np.roll(part, shift, axis=1)).max(axis=2) < 8
            calm &= np.abs(part - np.roll(part, shift, axis=0)).max(axis=2) < 8
    assert calm.mean() > 0.2
    assert np.abs(first - again).max(axis=2)[calm].max() < 8


def test_an_odd_half_drop_would_not_meet(tile: Path) -> None:
    """The test above can fail: five columns that drop in turn leave a step."""
    columns = {
        cell.rect.x: cell.rect.y % 2
        for cell in cells(Rect(0, 0, 24, 6), (0.0, 0.0), 4.0, 2.0, "half-drop")
    }
    assert columns[0.0] != columns[20.0]
    assert columns[0.0] == columns[16.0]


def test_back_and_front_of_a_fold_are_both_upright_and_meet_in_the_seams(tile: Path) -> None:
    layout = laid(FOLD, {"round": (layer(tile, "straight"),)})
    got = letters(face_picture(paint(layout, ONE_MM, MATERIALS), "round"))
    assert got == rows(" ".join(["RG__" * 5, "B___" * 5] * 3))


def test_round_a_sewn_sleeve_the_second_face_goes_on_where_the_first_ended(tile: Path) -> None:
    layout = laid(SEWN, {"round": (layer(tile, "straight"),)})
    rasters = paint(layout, ONE_MM, MATERIALS)
    panels = {panel: letters(image).split() for panel, image in rasters.panels.items()}
    assert panels["front"][1] == "RG__RG__RG__"
    # Its bleed shows the millimetre before; in its middle, after 5 mm, end and beginning meet.
    assert panels["back"][1] == "__RG__RG__RG"


@given(st.floats(20, 400), st.floats(0.5, 400), LAYS)
def test_a_whole_number_nearest_to_what_was_asked(way: float, repeat: float, lay: str) -> None:
    times = whole_repeats(way, repeat, lay)
    step = 2 if lay in ("mirrored", "half-drop") else 1
    assert times >= step and times % step == 0
    if times > step:
        assert abs(times - way / repeat) <= step / 2 + 1e-6


@given(
    st.floats(-30, 5),
    st.floats(-20, 5),
    st.floats(1, 60),
    st.floats(1, 40),
    st.floats(2, 30),
    st.floats(2, 30),
    LAYS,
)
def test_repeats_cover_the_whole_once(
    x: float, y: float, width: float, height: float, wide: float, high: float, lay: str
) -> None:
    over = Rect(x, y, width, height)
    shared = [over.overlap(cell.rect) for cell in cells(over, (0.0, 0.0), wide, high, lay)]
    area = sum(part.width * part.height for part in shared if part)
    assert area == pytest.approx(width * height, rel=1e-6)


@pytest.mark.parametrize("lay", PATTERN_LAYS)
def test_edges_are_mixed_with_the_right_neighbours(lay: str) -> None:
    pixels = np.arange(24, dtype=np.uint8).reshape(4, 2, 3)
    around = np.asarray(with_neighbours(Image.fromarray(pixels), lay))
    assert around.shape == (12, 6, 3)
    assert np.array_equal(around[4:8, 2:4], pixels)
    right, above = around[4:8, 4], around[3, 2:4]
    assert np.array_equal(
        right,
        {
            "straight": pixels[:, 0],
            "brick": pixels[:, 0],
            "mirrored": pixels[:, 1],
            "half-drop": np.roll(pixels[:, 0], 2, axis=0),
        }[lay],
    )
    assert np.array_equal(
        above,
        {
            "straight": pixels[3],
            "half-drop": pixels[3],
            "mirrored": pixels[0],
            "brick": np.roll(pixels[3], 1, axis=0),
        }[lay],
    )
