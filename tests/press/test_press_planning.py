"""Planned sheets: the strip stays off the pieces, and cuts part the two."""

from __future__ import annotations

import pytest

from proofgen.geometry import Rect, Size
from proofgen.model import Printer
from proofgen.press.pieces import paper_pieces
from proofgen.press.planning import SheetPlan, plan_sheets
from proofgen.press.slug import frames
from proofgen.render.at_scale import RULER_MM
from tests.press.conftest import ROLL, make_blank, make_job, make_layout, make_shop, names

PAGES = {"A4": Size(210, 297), "A3": Size(297, 420), "Letter": Size(215.9, 279.4)}


def planned(blank, count: int, **shop: object) -> list[SheetPlan]:
    job = make_job("fenn-wedding", (make_layout(blank), names(*["Ada"] * count)))
    settings = make_shop(**shop).settings
    return plan_sheets(list(paper_pieces(job.order, job.variants, settings)), settings)


@pytest.mark.parametrize("page", PAGES.values(), ids=PAGES)
@pytest.mark.parametrize("scale", [(1.0, 1.0), (0.97, 1.03)])
def test_strip_rulers_and_room_keep_apart(page: Size, scale: tuple[float, float]) -> None:
    settings = make_shop(printer=Printer(ppi=30, scale=scale)).settings
    made = frames(page, settings, ("row", "column"))
    assert [frame.kind for frame in made] == ["row", "column"]
    inside = Rect(0, 0, page.width, page.height).inset(5)
    for frame in made:
        across = Rect(*frame.across, RULER_MM / scale[0], 4)
        down = Rect(*frame.down, 4, RULER_MM / scale[1])
        for own in (frame.room, frame.slug, across, down):
            assert inside.holds(own)
        assert all(frame.room.overlap(own) is None for own in (frame.slug, across, down))


def test_a_page_too_small_for_the_rulers_has_no_frame() -> None:
    assert frames(Size(105, 148), make_shop().settings, ("row", "column")) == []


def test_every_edge_of_a_paper_piece_is_cut_or_is_the_pages() -> None:
    for blank, count in ((make_blank("flat", width_mm=60.0, height_mm=50.0), 8),
                         (make_blank("wrap"), 1)):  # fmt: skip
        for sheet in planned(blank, count):
            room = sheet.frame.room
            for on in sheet.pieces:
                p = on.paper
                for x in (p.x, p.right):
                    free = x < room.x + 0.1 and sheet.frame.kind == "column"
                    assert free or any(
                        abs(c[0] - x) < 0.01 and c[0] == c[2]
                        and c[1] <= p.y + 0.01 and c[3] >= p.bottom - 0.01
                        for c in sheet.cuts
                    )  # fmt: skip
                for y in (p.y, p.bottom):
                    assert y < room.y + 0.1 or any(
                        abs(c[1] - y) < 0.01 and c[1] == c[3]
                        and c[0] <= p.x + 0.01 and c[2] >= p.right - 0.01
                        for c in sheet.cuts
                    )  # fmt: skip


def test_a_piece_that_reaches_the_strip_is_cut_from_it() -> None:
    (row, _) = frames(Size(210, 297), make_shop().settings, ("row", "column"))
    whole = row.edge_cuts([row.room])
    assert (row.room.x, row.room.bottom, row.room.right, row.room.bottom) in whole
    assert len(whole) == 2


def test_a_short_roll_still_holds_its_rulers() -> None:
    small = make_blank("flat", width_mm=30.0, height_mm=30.0)
    (sheet,) = planned(small, 1, papers=(ROLL,))
    assert sheet.frame.down[1] + RULER_MM < sheet.frame.slug.y
    assert sheet.size.height < 180
