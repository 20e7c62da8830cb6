"""A print or card photographed with what lay around it."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from proofgen.geometry import Rect
from proofgen.photo.measures import measure_picture
from proofgen.photo.measures.cards import card_of
from tests.bench.photo_spoils import on_a_table
from tests.photo.carried import picture

LIMIT = 0.77


def sure(shot: Image.Image) -> float:
    return card_of(shot.convert("L"))[0]


@pytest.mark.parametrize("name", ["astronaut.png", "coffee.png", "chelsea.png", "gravel.png"])
def test_a_photo_is_no_card_and_laid_on_a_table_it_is(name):
    shot = picture(name)
    assert sure(shot) < 0.6
    assert sure(on_a_table(shot, border=0.03)) >= LIMIT


def test_its_border_is_where_it_lies():
    plain = Image.new("L", (600, 400), 90)
    plain.paste(180, (60, 20, 570, 360))
    found, depths = card_of(plain)
    assert found > 0.97
    assert depths == pytest.approx((0.1, 0.05, 0.05, 0.1), abs=0.01)


def test_three_sides_are_no_rectangle_nor_is_texture():
    plain = Image.new("L", (600, 400), 90)
    plain.paste(180, (60, 20, 570, 400))
    assert card_of(plain)[0] == 0.0
    noise = np.random.default_rng(4).integers(0, 255, (300, 300), np.uint8)
    assert card_of(Image.fromarray(noise))[0] < 0.6
    assert card_of(Image.new("L", (40, 600)))[0] == 0.0  # too narrow to tell


def test_lighter_on_some_sides_and_darker_on_others_it_is_less_sure():
    ground = Image.new("L", (600, 400), 110)
    ground.paste(50, (0, 0, 60, 400))
    ground.paste(80, (60, 40, 540, 360))
    assert 0.7 < card_of(ground)[0] <= 0.8


def test_only_what_is_printed_of_it_counts():
    shot = on_a_table(picture("astronaut.png"), border=0.03)
    wide, high = shot.size
    inner = Rect(0.3 * wide, 0.3 * high, 0.4 * wide, 0.4 * high)
    assert measure_picture(shot, inner, (800, 800)).frame.card == 0.0
    assert measure_picture(shot, Rect(0, 0, wide, high), (800, 800)).frame.card >= LIMIT
