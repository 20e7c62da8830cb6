"""What the picture of a photo's place marks: what comes to the front, what lies over the photo."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from proofgen.artwork.painting import paint
from proofgen.model import Layout, PlacedPhoto
from proofgen.pipeline.seasons import sample_layout
from proofgen.views.fitting import Spot, spot_of
from proofgen.views.inround import ring_of
from proofgen.workshop import Workshop
from tests.catalogue.fitted import choose, hosted, listen, publish, shop_of, write_shop
from tests.real_photos import real_photo

BOARD = (0xFD, 0xF6, 0xE6)  # of "round"


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    with shop_of(write_shop(tmp_path_factory.mktemp("marked"))) as opened:
        publish(opened)
        yield opened


def first_spot(workshop: Workshop, design: str, blank: str) -> tuple[Layout, Spot]:
    layout = sample_layout(workshop, workshop.shop.designs[design], workshop.shop.blanks[blank])
    photo = next(p for p in layout.layers if isinstance(p, PlacedPhoto))
    return layout, spot_of(layout, photo)


# A wrap of 240 mm round a can of 66.1 mm in cloth of 3 mm: 217.084 mm round, so 22.916 mm of its
# left end are hidden; with 6 mm of bleed what is seen begins 28.916 mm from the photo's left. Half
# of it is the front. The board takes 20 % to 80 % of the front and 74 % to 88 % of 100 mm. Two
# faces of 108 mm go round 216 mm, from the middle of the back. The coaster shows 100 mm of a place
# that begins 3 mm before it and is 60 mm high; the colour over it begins at 50 mm.
BY_HAND = {
    ("round", "my-wrap"): (
        [(83.187, 191.729)],
        [(28.916, 83.187), (191.729, 246.0)],
        [(104.895, 80, 65.125, 14)],
    ),
    ("round", "can-fold"): ([(54, 162)], [(0, 54), (162, 216)], [(75.6, 80, 64.8, 14)]),
    ("round", "can-sewn-linen"): ([(54, 162)], [(0, 54), (162, 216)], [(75.6, 80, 64.8, 14)]),
    ("front", "coaster-round"): ([(3, 103)], [], [(13, 50, 80, 10)]),
}


@pytest.mark.parametrize(("design", "blank"), BY_HAND, ids="-".join)
def test_marks_are_those_worked_out_by_hand(workshop: Workshop, design: str, blank: str) -> None:
    _, spot = first_spot(workshop, design, blank)
    front, back, over = BY_HAND[design, blank]
    for found, expected in ((spot.front, front), (spot.back, back), (spot.over, over)):
        assert len(found) == len(expected)
        for one, other in zip(found, expected, strict=True):
            assert one == pytest.approx(other, abs=0.01)


@pytest.mark.parametrize("blank", ["my-wrap", "can-fold", "can-sewn-linen"])
def test_what_is_outlined_is_what_is_printed(workshop: Workshop, blank: str) -> None:
    layout, spot = first_spot(workshop, "round", blank)
    ring = np.asarray(ring_of(paint(layout, 254, workshop.materials), cloth=False)).astype(int)
    ((x, y, wide, high),) = spot.over
    (window,) = [
        w for w in spot.windows if w.clip[0] <= w.x + x + wide / 2 <= w.clip[0] + w.clip[2]
    ]

    def board(across: float, down: float) -> bool:
        there = ring[round((window.y + down) * 10), round((window.x + across) * 10)]
        return bool(np.abs(there - BOARD).max() < 8)

    for inward, seen in ((0.5, True), (-0.5, False)):
        for across in (x + inward, x + wide - inward):
            assert board(across, y + 1 if seen else y + high / 2) is seen
        for down in (y + inward, y + high - inward):
            assert board(x + 1, down) is seen


def edges(page: Page, selector: str) -> list[tuple[float, float]]:
    """Where brackets begin and end, as shares of the picture."""
    found: list[tuple[float, float]] = page.evaluate(
        """(selector) => {
             const place = (it) => it.getBoundingClientRect();
             const whole = place(document.querySelector('.fit-crop'));
             return [...document.querySelectorAll(selector)].map((it) =>
               [place(it).left, place(it).right].map((at) => (at - whole.left) / whole.width));
           }""",
        selector,
    )
    return found


@pytest.mark.browser
def test_the_picture_says_what_comes_to_the_front(workshop: Workshop, browser: Browser) -> None:
    """Two faces would not have come to the front, and nothing had said so."""
    with hosted(workshop.site) as host:
        page = browser.new_page(viewport={"width": 390, "height": 844})
        listen(page)
        page.goto(f"{host}/designs/round.html")
        choose(page, real_photo("dragonfly.jpg"))
        ((left, right),) = edges(page, ".fit-front i")
        # The whole width of the photo shows, 252 mm.
        assert (left, right) == pytest.approx((83.187 / 252, 191.729 / 252), abs=0.004)
        behind = edges(page, ".fit-back i")
        assert [v for one in behind for v in one] == pytest.approx(
            [28.916 / 252, left, right, 246 / 252], abs=0.004
        )
        assert page.inner_text(".fit-front") == "Front"
        assert "Back, where it closes" in page.inner_text(".fit-back")
        # Half as wide, and seen in the middle.
        page.evaluate(
            """() => { const it = document.querySelector('.fit-zoom'); it.value = 2;
                 it.dispatchEvent(new Event('input', { bubbles: true })); }"""
        )
        page.wait_for_timeout(600)
        ((near, far),) = edges(page, ".fit-front i")
        assert far - near == pytest.approx((right - left) / 2, abs=0.004)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        page.close()
