"""Fine detail that is weaker along one way, as where the camera moved."""

from __future__ import annotations

import numpy as np
import pytest

from proofgen.checks.octaves import leaning
from proofgen.model import Sharpness
from proofgen.photo.measures.leaning import leaning_of
from tests.bench.photo_spoils import blurred, moved, noisy
from tests.photo.carried import picture


def leans(shot) -> tuple[float, float]:
    return leaning_of(np.asarray(shot.convert("L"), dtype=np.float32) / 255)


def told(shot) -> bool:
    return leaning(Sharpness(width_px=512, leans=leans(shot))) >= 1


@pytest.mark.parametrize("name", ["astronaut.png", "coffee.png", "chelsea.png", "gravel.png"])
def test_a_photo_leans_no_way(name):
    shot = picture(name)
    level, slanting = leans(shot)
    assert abs(level) < 1.6 and abs(slanting) < 0.35
    assert not told(blurred(shot, 3)) and not told(noisy(shot, 6))


@pytest.mark.parametrize("degrees", [45, -45])
@pytest.mark.parametrize("length", [10, 15])
def test_a_camera_that_moved_aslant_is_told(length, degrees):
    shot = moved(picture("gravel.png").convert("L"), length, degrees)
    level, slanting = leans(shot)
    assert told(shot) and abs(level) < 0.3
    assert (slanting < 0) == (degrees > 0)  # weaker along its own way


def test_and_level_and_upright():
    shot = picture("gravel.png").convert("L")
    assert leans(moved(shot, 15, 0))[0] < -2.4 < 2.4 < leans(moved(shot, 15, 90))[0]


def test_where_squares_do_not_agree_or_too_few_tell_nothing_leans():
    side = 400
    down, across = np.mgrid[:side, :side]
    stripes = (0.5 + 0.4 * np.sin(across)).astype(np.float32)
    assert leaning_of(stripes)[0] > 2.4  # all of it
    assert leaning_of(np.where(down < side / 2, stripes, stripes.T))[0] == 0.0
    assert leaning_of(np.where(down < 80, stripes, np.float32(0.5))) == (0.0, 0.0)
    assert leaning_of(np.full((side, side), 0.5, np.float32)) == (0.0, 0.0)
    assert leaning_of(stripes[:79]) == (0.0, 0.0)
