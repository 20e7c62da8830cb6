"""Rims of hard sharpening, and a soft part of a photo that is sharp elsewhere."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from proofgen.geometry import Rect
from proofgen.photo.measures import measure_picture
from proofgen.photo.measures.halos import halos_of
from tests.bench.photo_spoils import sharpened
from tests.photo.carried import picture


def rooms(blur: float) -> np.ndarray:
    """Even squares of many greys, 32 px wide, seen a little softly."""
    greys = np.random.default_rng(5).uniform(0.2, 0.8, (20, 20))
    return ndimage.gaussian_filter(greys.repeat(32, 0).repeat(32, 1), blur).astype(np.float32)


def rimmed(plane: np.ndarray, percent: int) -> np.ndarray:
    codes = Image.fromarray(np.rint(255 * plane).astype(np.uint8))
    return np.asarray(sharpened(codes, percent), dtype=np.float32) / 255


@pytest.mark.parametrize("blur", [0.0, 0.7, 1.5, 3.0])
def test_plain_steps_have_no_rims(blur):
    assert halos_of(rooms(blur)) == 0.0


@pytest.mark.parametrize("percent", [100, 200])
def test_sharpening_puts_rims_along_steps_of_both_ways(percent):
    plane = rimmed(rooms(0.7), percent)
    assert halos_of(plane) > 0.6
    assert halos_of(plane.T.copy()) == pytest.approx(halos_of(plane), abs=0.01)
    assert halos_of(1 - plane) == pytest.approx(halos_of(plane), abs=0.03)  # dark for light


def test_a_rim_on_one_side_alone_is_none():
    """As light leaves it around dark things."""
    plane = rooms(0.7)
    assert halos_of(np.maximum(rimmed(plane, 200), plane)) < 0.02 < halos_of(rimmed(plane, 200))


def test_too_few_steps_tell_nothing():
    assert halos_of(rimmed(rooms(0.7), 200)[:40, :40].copy()) == 0.0


@pytest.mark.parametrize("name", ["coffee.png", "camera.png", "motorcycle_left.png"])
def test_a_photo_shows_rims_once_it_was_sharpened(name):
    shot = picture(name).convert("L")
    plain, hard = (
        halos_of(np.asarray(one, dtype=np.float32) / 255) for one in (shot, sharpened(shot, 200))
    )
    assert plain < 0.12 < hard


def behind(blur: float, *, date: bool = False) -> Image.Image:
    """A photo blurred on its right half, or wholly with a sharp date in its lower corner."""
    sharp = np.asarray(picture("astronaut.png").convert("L"), dtype=float)
    sharp = np.concatenate([sharp, sharp[:, ::-1]], axis=1)
    soft = ndimage.gaussian_filter(sharp, blur)
    if date:
        soft[-60:-20, 20:160:12], soft[-60:-20, 24:160:12] = 255, 0
    else:
        soft[:, :512] = sharp[:, :512]
    return Image.fromarray(np.clip(np.rint(soft), 0, 255).astype(np.uint8)).convert("RGB")


PART = Rect(560, 40, 420, 420)


def test_a_soft_part_is_compared_with_what_is_around_it():
    seen = measure_picture(behind(4.0), PART, (1181, 1181)).sharpness
    assert seen.edge_px is None or seen.edge_px > 1.4
    assert seen.around_px is not None and seen.around_px < 0.5


def test_on_its_own_raster_too():
    """Printed at half of its pixels, both are half as wide."""
    seen = measure_picture(behind(8.0), PART, (210, 210)).sharpness
    assert seen.edge_px is None or seen.edge_px > 1.4
    assert seen.around_px is not None and seen.around_px < 0.5


def test_a_photo_that_is_soft_all_over_has_no_sharp_surroundings():
    for shot in (behind(4.0, date=True), Image.new("RGB", (1024, 512), "grey")):
        around = measure_picture(shot, PART, (1181, 1181)).sharpness.around_px
        assert around is None or around > 1.4


def test_nothing_is_around_a_whole_photo_nor_asked_of_a_sharp_part():
    whole = measure_picture(behind(4.0, date=True), Rect(0, 0, 1024, 512), (1181, 590))
    sharp = measure_picture(behind(4.0), Rect(40, 40, 420, 420), (1181, 1181))
    assert (whole.sharpness.around_px, sharp.sharpness.around_px) == (None, None)
