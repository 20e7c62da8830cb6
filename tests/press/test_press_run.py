"""The whole run: what shares a sheet, what is refused, and the document that tells of it."""

from __future__ import annotations

import io
import itertools
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from proofgen.artwork.rasters import raster_name, raster_png, read_raster
from proofgen.errors import ShopError, SignoffError, StopError
from proofgen.geometry import Rect
from proofgen.model import Paper, PressSetting, PressTimes, Printer
from proofgen.press.batches import LineWork, seconds
from tests.press.conftest import (
    A3,
    A4,
    MADE,
    PPI,
    ROLL,
    make,
    make_blank,
    make_job,
    make_layout,
    make_shop,
    names,
    odd_picture,
)

GUESTS = [f"Guest {n}" for n in range(1, 6)]


def orders():
    wedding = make_job(
        "fenn-wedding",
        (make_layout(make_blank("wrap", shrink=(0.01, 0.005))), names(*GUESTS)),
        (make_layout(make_blank("sewn")), names("Ada", "Bo")),
    )
    party = make_job(
        "garden-party",
        (make_layout(make_blank("flat", width_mm=90.0, height_mm=90.0)), names(*["Cy"] * 5)),
        (make_layout(make_blank("fold")), names("Di", "Di")),
    )
    return [wedding, party]


@pytest.fixture(scope="module")
def run(theme):
    return make(orders(), make_shop(), theme, made=MADE)


def rect(piece: dict) -> Rect:
    return Rect(*(piece[key] for key in ("x_mm", "y_mm", "width_mm", "height_mm")))


def test_every_piece_and_face_is_printed_once(run) -> None:
    found = sorted(
        (p["order"], p["piece"], p["face"]) for s in run.document["sheets"] for p in s["pieces"]
    )
    wanted = [("fenn-wedding", n, "round") for n in range(1, 6)]
    wanted += [("fenn-wedding", n, face) for n in (6, 7) for face in ("back", "front")]
    wanted += [("garden-party", n, "front") for n in range(1, 6)]
    wanted += [("garden-party", n, "front and back") for n in (6, 7)]
    assert found == sorted(wanted)


def test_the_document_has_exactly_its_fields(run) -> None:
    document = run.document
    assert list(document) == [
        "schema", "sheets", "tickets", "batches", "pictures", "contacts", "packing", "since",
        "promised", "left_out", "spoiled",
    ]  # fmt: skip
    assert document["schema"] == "proofgen/press/1"
    for sheet in document["sheets"]:
        assert set(sheet) == {
            "file", "page", "numbers", "paper", "width_mm", "height_mm", "pieces",
        }  # fmt: skip
        for numbered in sheet["numbers"]:
            assert set(numbered) == {"order", "number", "of"}
        for piece in sheet["pieces"]:
            assert set(piece) == {
                "order", "piece", "face", "raster", "x_mm", "y_mm", "width_mm", "height_mm",
                "turned", "more",
            }  # fmt: skip
    assert document["tickets"] == ["fenn-wedding-ticket.pdf", "garden-party-ticket.pdf"]
    named = {s["file"] for s in document["sheets"]} | {
        *document["tickets"], *document["packing"],
    }  # fmt: skip
    assert sorted(named) == sorted(run.files)
    assert all(content.startswith(b"%PDF-") for content in run.files.values())
    for batch in document["batches"]:
        assert set(batch) == {"heat_c", "time_s", "pressings", "minutes"}


def test_ink_stays_apart_and_inside_the_margins(run) -> None:
    for sheet in run.document["sheets"]:
        inside = Rect(0, 0, sheet["width_mm"], sheet["height_mm"]).inset(5)
        rects = [rect(piece) for piece in sheet["pieces"]]
        assert all(inside.holds(r) for r in rects)
        assert all(a.overlap(b) is None for a, b in itertools.combinations(rects, 2))


def test_no_sheet_mixes_settings(run) -> None:
    setting = {("fenn-wedding", n): (400, 60) if n < 6 else (385, 50) for n in range(1, 8)} | {
        ("garden-party", n): (385, 50) for n in range(1, 8)
    }
    for sheet in run.document["sheets"]:
        assert len({setting[p["order"], p["piece"]] for p in sheet["pieces"]}) == 1


def test_pressure_alone_keeps_pieces_apart(theme) -> None:
    def flat(pressure: str):
        press_at = PressSetting(heat_c=196.0, time_s=50.0, pressure=pressure)
        blank = make_blank("flat", width_mm=40.0, height_mm=40.0, press=press_at)
        return make_layout(blank)

    job = make_job("fenn-wedding", (flat("medium"), names("Ada")), (flat("light"), names("Bo")))
    document = make([job], make_shop(), theme, made=MADE).document
    assert len(document["sheets"]) == len(document["batches"]) == 2


def test_raster_names_lead_to_the_kept_pictures(run) -> None:
    jobs = {job.order.id: job for job in orders()}
    for sheet in run.document["sheets"]:
        for piece in sheet["pieces"]:
            job = jobs[piece["order"]]
            (variant,) = [v for v in job.variants if piece["piece"] in v.pieces]
            index = [v for v in job.variants if v.line == variant.line].index(variant)
            assert piece["raster"] == raster_name(variant.line, index, piece["face"])
            assert piece["raster"] in job.rasters


def test_the_smallest_paper_that_fits(theme) -> None:
    small = make_layout(make_blank("flat", width_mm=60.0, height_mm=60.0))
    large = make_layout(make_blank("flat", width_mm=230.0, height_mm=230.0))
    shop = make_shop(papers=(A3, ROLL, A4))  # in any order
    for layouts, papers in (
        ([small], {1: "A4"}),
        ([large], {1: "A3"}),
        ([small, large], {1: "A3", 2: "A3"}),
    ):
        job = make_job("fenn-wedding", *((layout, names("Ada")) for layout in layouts))
        document = make([job], shop, theme, made=MADE).document
        # The small one lies beside the large one, which leaves room for it.
        assert {p["piece"]: s["paper"] for s in document["sheets"] for p in s["pieces"]} == papers


def test_a_wrap_fits_us_letter(theme) -> None:
    # 240 + 2 × 10 mm of 279.4, less 2 × 5 mm margins: 9.4 mm are left, so rulers go beside it.
    letter = Paper(name="Letter", width_mm=215.9, height_mm=279.4)
    job = make_job("fenn-wedding", (make_layout(make_blank("wrap")), names("Ada")))
    document = make([job], make_shop(papers=(letter,)), theme, made=MADE).document
    assert [s["paper"] for s in document["sheets"]] == ["Letter"]


def test_a_roll_is_as_long_as_needed(theme) -> None:
    job = make_job("fenn-wedding", (make_layout(make_blank("wrap")), names(*["Ada"] * 8)))
    document = make([job], make_shop(papers=(ROLL,)), theme, made=MADE).document
    (sheet,) = document["sheets"]
    assert sheet["width_mm"] == 610
    # Eight papers of 260 × 120 on 592 mm: two by four rows is 480 mm; rulers and margins beside.
    assert sheet["height_mm"] < 480 + 60
    assert all(r.bottom <= sheet["height_mm"] - 5 for r in map(rect, sheet["pieces"]))


def test_larger_than_the_paper_names_all(theme) -> None:
    blank = make_blank("flat", width_mm=300.0, height_mm=300.0, name="Picnic mat")
    job = make_job("fenn-wedding", (make_layout(blank), names("Ada")))
    with pytest.raises(StopError) as caught:
        make([job], make_shop(), theme, made=MADE)
    said = caught.value.sentence()
    for words in ("fenn-wedding", "Picnic mat", "320 × 320 mm", "A3", "paper:"):
        assert words in said


def test_larger_than_the_platen_names_all(theme) -> None:
    job = make_job("fenn-wedding", (make_layout(make_blank("wrap")), names("Ada")))
    # 240 + 12 mm of ink lie on 260 mm, but not on 250 either way.
    assert make([job], make_shop(platen_mm=(150.0, 260.0)), theme, made=MADE).files
    with pytest.raises(StopError) as caught:
        make([job], make_shop(platen_mm=(250.0, 250.0)), theme, made=MADE)
    said = caught.value.sentence()
    for words in ("fenn-wedding", "Test wrap", "252 × 112 mm", "250 × 250 mm", "platen:"):
        assert words in said


def test_only_signed_pixels_reach_the_paper(theme) -> None:
    job = orders()[1]
    name = next(iter(job.rasters))
    size = read_raster(job.rasters[name]).size
    other = raster_png(odd_picture(size, 200))
    for wrong in (
        replace(job, rasters={**job.rasters, name: other}),
        replace(job, rasters={k: v for k, v in job.rasters.items() if k != name}),
        replace(job, signed=replace(job.signed, order="fenn-wedding")),
    ):
        with pytest.raises(SignoffError):
            make([wrong], make_shop(), theme, made=MADE)


def test_a_raster_of_another_resolution_is_refused(theme) -> None:
    with pytest.raises(SignoffError, match="now asks for"):
        make([orders()[1]], make_shop(printer=Printer(ppi=60)), theme, made=MADE)


def test_pictures_and_contact_sheets_on_request(theme) -> None:
    """Each picture once, mirrored and upright, and its size: 30 ppi with a shrink of 1 % across and
    a printer that makes 98 mm of 100 is 30 / 25.4 · 0.99 · 0.98 pixels a mm."""
    layout = make_layout(make_blank("wrap", shrink=(0.01, 0.005)))
    job = make_job("fenn-wedding", (layout, names("Ada", "Ada", "Bo")))
    shop = make_shop(printer=Printer(ppi=PPI, scale=(0.98, 1.0)))
    run = make([job], shop, theme, made=MADE, png=True, contact=True)
    assert run.document["contacts"] == ["fenn-wedding-contact.pdf"]
    assert run.files["fenn-wedding-contact.pdf"].startswith(b"%PDF-")
    assert len(run.document["pictures"]) == 2
    for file, raster in zip(run.document["pictures"], job.rasters, strict=True):
        with Image.open(io.BytesIO(run.files[file])) as picture:
            signed = np.asarray(read_raster(job.rasters[raster]))
            assert np.array_equal(np.asarray(picture), signed[:, ::-1])
            across, down = picture.info["dpi"]
        assert across == pytest.approx(PPI * 0.99 * 0.98, abs=0.02)
        assert down == pytest.approx(PPI * 0.995, abs=0.02)
    assert set(make([job], shop, theme, made=MADE).files) < set(run.files)


def test_no_jobs_no_files(theme) -> None:
    run = make([], make_shop(), theme, made=MADE)
    assert run.files == {}
    assert run.document["sheets"] == run.document["tickets"] == run.document["batches"] == []


def test_an_order_comes_once(theme) -> None:
    with pytest.raises(ShopError, match="twice"):
        make([orders()[0]] * 2, make_shop(), theme, made=MADE)


def test_batch_time() -> None:
    # 106 blanks, two at once, 600 s to set up, 60 + 45 s each time: 600 + 53 · 105 = 6165 s.
    blank = make_blank("flat", press=PressSetting(heat_c=196.0, time_s=60.0))
    work = LineWork(
        order="fenn-wedding",
        line=1,
        blank=blank,
        cloth="white",
        press=blank.press,
        panels=("front",),
        pieces=tuple(range(1, 101)),
        start=106,
        at_once=2,
        handling_s=45,
    )
    assert seconds([work], PressTimes()) == 6165


def test_batches_by_hand(run) -> None:
    """600 s to warm up, 300 s to change the heat, 45 s to change blanks, two at once
    where the platen of 380 mm holds two."""
    cool, hot = run.document["batches"]
    # 385 °F, 50 s after 10 s: sewn 2 of 2 panels (start 3: 2 + 2), flat 5 (6: 3), fold 2 (3: 2).
    assert (cool["heat_c"], cool["time_s"], cool["pressings"]) == (196.1, 50, 4 + 3 + 2)
    assert cool["minutes"] == pytest.approx((600 + 9 * 105) / 60, abs=0.06)
    # 400 °F, 60 s after 10 s: wrap 5 (start 6: 3).
    assert (hot["heat_c"], hot["time_s"], hot["pressings"]) == (204.4, 60, 3)
    assert hot["minutes"] == pytest.approx((300 + 3 * 115) / 60, abs=0.06)
