"""Pieces on paper: which panels, how large, and where a picture's excess pixels fall."""

from __future__ import annotations

import pytest

from proofgen.artwork.painting import paint
from proofgen.errors import StopError
from proofgen.geometry import Rect
from proofgen.model import Printer
from proofgen.press.pieces import (
    in_one_line,
    inked_panels,
    on_paper,
    paper_pieces,
    place,
    setting_of,
)
from tests.materials import MATERIALS
from tests.press.conftest import make_blank, make_job, make_layout, make_shop, names

A_POINT = 1e-9


@pytest.mark.parametrize(
    ("construction", "panels"),
    [
        ("wrap", ["round"]),
        ("fold", ["front and back"]),
        ("sewn", ["front", "back"]),
        ("flat", ["front"]),
    ],
)
def test_panels_of_each_construction(construction: str, panels: list[str]) -> None:
    assert inked_panels(make_layout(make_blank(construction))) == panels


def test_a_side_without_ink_needs_no_paper() -> None:
    assert inked_panels(make_layout(make_blank("sewn"), ("front",))) == ["front"]


def test_sizes_on_paper_undo_the_shrink() -> None:
    # Raw 240 × 100; bleed 6 is asked of the finished piece: 6 / 0.99 and 6 / 0.995.
    layout = make_layout(make_blank("wrap", shrink=(0.01, 0.005)))
    size = on_paper(
        layout.blank, layout.plan, "round", make_shop(printer=Printer(ppi=300)).settings
    )
    assert (size.blank.width, size.blank.height) == pytest.approx((240, 100), abs=A_POINT)
    assert size.bleed == pytest.approx((6.060606, 6.030151), abs=1e-6)
    assert size.margin == (10, 10)
    assert size.pitch == pytest.approx((25.4 / 300 / 0.99, 25.4 / 300 / 0.995), abs=A_POINT)
    # (237.6 + 12) and (99.5 + 12) mm at 300 ppi, rounded up.
    assert size.px == (2949, 1317)


@pytest.mark.parametrize("construction", ["wrap", "fold", "sewn", "flat"])
def test_the_painted_raster_has_the_expected_pixels(construction: str) -> None:
    layout = make_layout(make_blank(construction, shrink=(0.013, 0.007)))
    settings = make_shop(printer=Printer(ppi=37)).settings
    for panel, image in paint(layout, 37, MATERIALS).panels.items():
        assert image.size == on_paper(layout.blank, layout.plan, panel, settings).px


def test_the_margin_holds_a_wide_bleed() -> None:
    layout = make_layout(make_blank("flat", bleed_mm=14.0))
    size = on_paper(layout.blank, layout.plan, "front", make_shop().settings)
    assert min(size.margin) > 14
    assert size.paper.width == 100 + 2 * size.margin[0]


def placed(turned: bool, scale: tuple[float, float] = (1.0, 1.0)):
    layout = make_layout(make_blank("flat", width_mm=50.0, height_mm=30.0, bleed_mm=2.0))
    job = make_job("test-order", (layout, names("Ada")))
    settings = make_shop(printer=Printer(ppi=30, scale=scale)).settings
    (piece,) = paper_pieces(job.order, job.variants, settings)
    return place(piece, (20, 40), turned, scale)


def test_place_upright() -> None:
    on = placed(turned=False)
    assert on.paper == Rect(20, 40, 70, 50)
    assert on.blank == Rect(30, 50, 50, 30)
    assert on.ink == Rect(28, 48, 54, 34)
    # 54 mm at 30 ppi are 63.8 px, so 64 px = 54.187 mm; the excess lies right of the upright
    # picture, and left once it is mirrored. 34 mm: 40.2, so 41 px = 34.713 mm, below.
    wide, high = 64 * 25.4 / 30, 41 * 25.4 / 30
    assert (on.raster.x, on.raster.y) == pytest.approx((82 - wide, 48))
    assert (on.raster.width, on.raster.height) == pytest.approx((wide, high))


def test_place_turned() -> None:
    on = placed(turned=True)
    assert on.paper == Rect(20, 40, 50, 70)
    assert on.ink == Rect(28, 48, 34, 54)
    # Mirrored, then turned clockwise: the excess at the left goes to the top, below to the left.
    wide, high = 41 * 25.4 / 30, 64 * 25.4 / 30
    assert (on.raster.right, on.raster.bottom) == pytest.approx((62, 102))
    assert (on.raster.width, on.raster.height) == pytest.approx((wide, high))


def test_the_printers_scale_belongs_to_the_page() -> None:
    # A ruler that measured 98 mm across and 101 mm down: draw at / 0.98 and / 1.01.
    on = placed(turned=True, scale=(0.98, 1.01))
    assert on.paper.width == pytest.approx(50 / 0.98)
    assert on.paper.height == pytest.approx(70 / 1.01)
    assert on.blank.width * 0.98 == pytest.approx(30)
    assert on.blank.height * 1.01 == pytest.approx(50)


def test_a_blank_without_heat_is_stopped() -> None:
    with pytest.raises(StopError, match="how hot and how long"):
        setting_of(make_blank("flat", press=None))


def test_words_that_run_right_to_left_keep_to_themselves() -> None:
    assert in_one_line(["Odalys & Bram", "12 June"]) == "Odalys & Bram · 12 June"
    assert in_one_line(["محمد", "12 June"]) == "\u2068محمد\u2069 · 12 June"
