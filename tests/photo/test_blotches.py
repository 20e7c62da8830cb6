"""Blotches of colour in even parts."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from proofgen.photo.measures.blotches import blotches_of
from tests.bench.photo_spoils import blotched, noisy, saved
from tests.photo.carried import picture


def told(shot: Image.Image) -> bool:
    blotches, over = blotches_of(shot)
    return blotches >= 1.8 and over >= 1.6


@pytest.mark.parametrize("name", ["astronaut.png", "coffee.png", "chelsea.png"])
def test_a_photo_has_none(name):
    shot = picture(name)
    assert not told(shot) and not told(saved(shot, 50))
    assert not told(noisy(shot, 6))  # grain without colour


@pytest.mark.parametrize("wide", [1.5, 2.5, 4.0])
def test_blotches_are_told_where_the_picture_is_even(wide):
    sky = Image.fromarray(np.full((400, 400, 3), (120, 150, 200), np.uint8))
    strong, over = blotches_of(saved(blotched(sky, wide, 4), 85))
    assert strong > 2.5 and over > 1.6
    assert told(blotched(picture("coffee.png"), wide, 5))


def test_a_part_of_a_picture_and_one_twice_as_large_tell_the_same():
    even = Image.fromarray(np.full((300, 300, 3), (120, 150, 200), np.uint8))
    both = Image.new("RGB", (600, 300), "grey")
    both.paste(blotched(even, 2.5, 5), (300, 0))
    assert blotches_of(both, (0, 0, 300, 300)) == (0.0, 0.0)
    assert blotches_of(both, (300, 0, 600, 300))[0] > 2.5


def test_what_is_small_or_black_tells_nothing():
    assert blotches_of(Image.new("RGB", (60, 300), "grey")) == (0.0, 0.0)
    assert blotches_of(blotched(Image.new("RGB", (300, 300), (4, 4, 4)), 2.5, 3)) == (0.0, 0.0)
