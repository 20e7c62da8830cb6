"""Marks beside the ink: what a blank of each shape is laid by."""

from __future__ import annotations

from dataclasses import replace

import pytest

from proofgen.press.furniture import _furnish, _outside
from proofgen.press.lettering import BASELINE, width
from proofgen.press.run import lay
from proofgen.render import Theme
from tests.press.conftest import MADE, make_blank, make_job, make_layout, make_shop, names


@pytest.mark.parametrize(
    ("shape", "wide", "corners", "middles"),
    [("rectangle", 90.0, 8, 0), ("rounded", 90.0, 8, 4), ("round", 100.0, 0, 4)],
)
def test_marks_tell_the_corners_and_the_middle(
    theme: Theme, shape: str, wide: float, corners: int, middles: int
) -> None:
    """Short lines outside the ink: at each corner, and where it has round ones at the middles."""
    blank = make_blank("flat", width_mm=wide, height_mm=100.0, shape=shape, corner_mm=8.0)
    job = make_job("fenn", (make_layout(blank), names("Ada", "Bo")))
    (sheet,) = lay([job], make_shop(), theme, made=MADE).sheets
    drawn = _furnish(1, sheet)
    assert len(drawn.marks) == (corners + middles) * len(sheet.pieces)
    for on in sheet.pieces:
        ink, trim, paper = _outside(on), on.blank, on.paper
        own = [
            (x, y, to_x, to_y)
            for x, y, to_x, to_y in drawn.marks
            if paper.x <= x <= paper.right and paper.y <= y <= paper.bottom
        ]
        for x1, y1, x2, y2 in own:
            assert x2 < ink.x or x1 > ink.right or y2 < ink.y or y1 > ink.bottom
        centred = [m for m in own if m[0] == m[2] == round(trim.centre_x, 3)]
        centred += [m for m in own if m[1] == m[3] == round(trim.centre_y, 3)]
        assert len(centred) == middles
        for word in drawn.words:
            if middles and word.size < 3 and paper.y <= word.top < paper.bottom:
                end = word.left + width(word.text, word.size, word.weight)
                assert not word.left < trim.centre_x < end


@pytest.mark.parametrize(
    ("cover", "least", "most"), [(0.0, 2.3, 3.4), (12.0, 5.3, 6.6), (16.0, 8.0, 8.0)]
)
@pytest.mark.parametrize("turned", [False, True])
def test_a_pieces_number_fills_the_strip_above_it(
    theme: Theme, cover: float, least: float, most: float, turned: bool
) -> None:
    """As large as the paper beyond the ink lets it be, and never over ink or cut."""
    wide, high = (250.0, 100.0) if turned else (100.0, 60.0)
    job = make_job(
        "fenn", (make_layout(make_blank("flat", width_mm=wide, height_mm=high)), names("Ada"))
    )
    shop = make_shop()
    shop = replace(shop, settings=replace(shop.settings, cover_mm=cover))
    (sheet,) = lay([job], shop, theme, made=MADE).sheets
    (on,) = sheet.pieces
    assert on.turned == turned
    (number,) = [word for word in _furnish(1, sheet).words if word.text == "1"]
    assert least <= number.size <= most
    baseline = number.top + BASELINE * number.size
    assert baseline < _outside(on).y
    assert baseline - 0.75 * number.size > on.paper.y  # figures are 0.74 of their type high
