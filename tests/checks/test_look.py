"""A photo without an order: the table of what fits, and what is said."""

from __future__ import annotations

import pytest

from proofgen.checks import fits, look
from proofgen.checks.resolution import effective_resolution
from proofgen.checks.subjects import PrintedPhoto
from proofgen.geometry import Size
from proofgen.model import Limits
from tests.checks.factory import blank, facts

WRAP = blank("wrap")  # all round with bleed and overlap: 252 × 112 mm
COASTER = blank("flat", id="coaster", name="Coaster", width_mm=88.0, height_mm=88.0)  # 100 × 100


def test_table_has_every_face_with_its_bleed():
    rows = fits(facts(4000, 3000), [WRAP, COASTER], Limits())
    assert [(r["blank"], r["face"]) for r in rows] == [
        ("can-wrap", "round"), ("can-wrap", "front"), ("coaster", "front"),
    ]  # fmt: skip
    assert (rows[0]["width_mm"], rows[0]["height_mm"]) == pytest.approx((252.0, 112.0))
    assert rows[0]["ppi"] == pytest.approx(4000 / 252 * 25.4)
    assert set(rows[0]) == {
        "blank", "face", "width_mm", "height_mm", "ppi", "verdict",
        "sharp_width_mm", "sharp_height_mm", "largest_zoom", "needs_width_px", "needs_height_px",
    }  # fmt: skip


def test_table_says_what_would_be_sharp():
    (row,) = fits(facts(1000, 1000), [COASTER], Limits())  # 254 ppi on 100 × 100 mm
    assert row["largest_zoom"] == 1.27
    assert (row["sharp_width_mm"], row["sharp_height_mm"]) == pytest.approx((127.0, 127.0))
    # 100 mm at 200 ppi are 787.4 pixels
    assert (row["needs_width_px"], row["needs_height_px"]) == (788, 788)
    (row,) = fits(facts(787, 900), [COASTER], Limits())
    assert row["largest_zoom"] is None and row["verdict"] == "soft"
    (row,) = fits(facts(row["needs_width_px"], row["needs_height_px"]), [COASTER], Limits())
    assert row["largest_zoom"] == 1.0 and row["verdict"] == "good"


def test_zoom_that_would_be_sharp_is_told():
    def cure(ppi: float) -> str:
        photo = PrintedPhoto(facts=facts(), size=Size(100, 100), zoom=2.0, ppi=ppi)
        (remark,) = effective_resolution.look(photo, Limits())
        return remark.cure

    assert "show more of it (zoom 1.5 still has enough)" in cure(150.0)
    assert "at least 1,575 × 1,575 pixels" in cure(150.0)
    coarse = cure(80.0)
    assert "show more of it (without zoom it gives 160)" in coarse


def test_upright_photo_on_a_wide_face_is_judged_by_its_width():
    (row,) = fits(facts(1500, 4000), [COASTER], Limits())
    assert row["ppi"] == pytest.approx(1500 / 100 * 25.4)


@pytest.mark.parametrize(
    "limits, verdict",
    [
        (Limits(good_ppi=254.0), "good"),
        (Limits(good_ppi=254.001), "soft"),
        (Limits(good_ppi=300.0, floor_ppi=254.0), "soft"),
        (Limits(good_ppi=300.0, floor_ppi=254.001), "coarse"),
    ],
)
def test_limits_are_inclusive_and_unrounded(limits, verdict):
    (row,) = fits(facts(1000, 1000), [COASTER], limits)
    assert row["ppi"] == pytest.approx(254.0)
    assert row["verdict"] == verdict


def test_nothing_fits_a_photo_nobody_can_open():
    bad = facts(0, 0, problem="“pier.jpg” is empty", problem_code="empty", cure="Ask again")
    assert fits(bad, [WRAP], Limits()) == []
    found = look(bad, [WRAP], Limits())
    assert [(f.check, f.status) for f in found] == [("photo/readable", "stop")]
    assert found[0].where == "pier.jpg"


def test_asked_about_one_blank_every_face_that_falls_short_is_told():
    found = [f for f in look(facts(900, 600), [WRAP], Limits()) if f.status != "pass"]
    assert [(f.face, f.code) for f in found] == [("round", "too-coarse"), ("front", "soft")]
    assert found[0].where == "pier.jpg, Can wrap, round"
    assert "At 252 × 112 mm this photo gives 90 pixels per inch" in found[0].says


def test_asked_about_many_only_that_none_is_sharp():
    told = [f for f in look(facts(1200, 1200), [WRAP, COASTER], Limits()) if f.status != "pass"]
    assert told == []
    told = [f for f in look(facts(600, 600), [WRAP, COASTER], Limits()) if f.status != "pass"]
    assert [(f.about, f.code) for f in told] == [("coaster", "soft")]


def test_what_the_file_itself_tells_is_told():
    found = look(facts(orientation=6, private=("place",)), [COASTER], Limits())
    assert {f.code for f in found if f.status == "note"} == {"turned", "location"}
    assert {f.check for f in found if f.status == "pass"} >= {
        "photo/readable", "photo/frames", "photo/effective-resolution",
    }  # fmt: skip
