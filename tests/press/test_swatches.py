"""The sheet of swatches: each at its place, mirrored, its pixels as drawn; the list in order."""

from __future__ import annotations

import io
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image, ImageOps

from proofgen.colour import hex_to_rgb8
from proofgen.colour.chart import CHART
from proofgen.errors import StopError
from proofgen.model import Printer, Settings
from proofgen.press import swatch_pdf
from proofgen.press.swatches import chart_picture, spot_px, spots
from proofgen.units import mm_to_pt
from tests.press.conftest import A3, A4, make_blank

DAY = date(2026, 11, 25)
SCALE = (0.99, 1.01)
SETTINGS = Settings(
    name="Test", contact="", papers=(A4, A3), printer=Printer(ppi=144.0, scale=SCALE)
)
KINDS = {
    "wrap": make_blank("wrap", shrink=(0.02, 0.01)),
    "fold": make_blank("fold"),
    "sewn": make_blank("sewn"),
    "flat": make_blank("flat", width_mm=150.0, shrink=(0.02, 0.01)),
    "round": make_blank("flat", shape="round", width_mm=100.0, height_mm=100.0),
}


def test_the_chart_holds_what_a_fit_needs() -> None:
    asked = [p.colour for p in CHART]
    assert len(set(asked)) == len(asked) >= 24
    assert [p.number for p in CHART] == list(range(1, len(CHART) + 1))
    # The eight corners of sRGB are among them.
    corners = {f"#{r}{g}{b}" for r in ("00", "ff") for g in ("00", "ff") for b in ("00", "ff")}
    assert corners <= set(asked)


@pytest.mark.parametrize("kind", KINDS)
def test_swatches_lie_apart_on_a_face_that_is_seen(kind: str) -> None:
    blank = KINDS[kind]
    plan = blank.plan()
    panel, laid = spots(blank)
    assert [s.patch for s in laid] == list(CHART)
    faces = [f.rect for f in plan.faces if f.panel == panel and f.turn == 0]
    for spot in laid:
        assert any(face.inset(plan.safe).holds(spot.rect) for face in faces)
        assert spot.rect.width >= 6.5
        assert not any(
            other is not spot and spot.rect.grown(1, 1, 1, 1).overlap(other.rect) for other in laid
        )
        for zone in plan.zones_on(panel):
            if zone.kind in ("seam", "fold", "hem", "gap", "closure"):
                assert zone.rect.overlap(spot.rect) is None, (zone.kind, spot)
        if kind == "round":
            for x in (spot.rect.x, spot.rect.right):
                for y in (spot.rect.y, spot.rect.bottom):
                    assert np.hypot(x - 50, y - 50) <= 50 - plan.safe + 1e-6
    # As read: rows from the top, each from the left.
    places = [(s.row, s.place) for s in laid]
    assert places == sorted(places)
    assert [(round(s.rect.y, 6), round(s.rect.x, 6)) for s in laid] == sorted(
        (round(s.rect.y, 6), round(s.rect.x, 6)) for s in laid
    )


def page(pdf: bytes, folder: Path, *options: str) -> Image.Image:
    (folder / "swatches.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-png", "-r", "254", "-f", "1", "-l", "1", "-singlefile", *options]
    subprocess.run([*command, "swatches.pdf", "page"], cwd=folder, check=True)
    with Image.open(folder / "page.png") as opened:
        return opened.convert("RGB")


@pytest.mark.parametrize("kind", ["wrap", "flat"])
def test_swatches_come_out_at_their_place(kind: str, theme, tmp_path: Path) -> None:
    blank = KINDS[kind]
    pdf = swatch_pdf(blank, SETTINGS, theme, cloth="white", made=DAY)
    (tmp_path / "swatches.pdf").write_bytes(pdf)
    # The very pixels, mirrored; Pillow's own mirror and turn are the judge.
    subprocess.run(["pdfimages", "-png", "swatches.pdf", "in"], cwd=tmp_path, check=True)
    found = sorted(tmp_path.glob("in-*.png"))
    assert len(found) == 1
    upright = chart_picture(blank, 144.0)
    wanted = ImageOps.mirror(upright)
    with Image.open(found[0]) as opened:
        image = opened.convert("RGB")
    turned = image.size != wanted.size
    if turned:
        wanted = wanted.transpose(Image.Transpose.ROTATE_270)
    assert image.size == wanted.size
    assert image.tobytes() == wanted.tobytes()
    # And where they lie on paper, in tenths of a mm: by the trim box, which is the blank.
    with pikepdf.open(io.BytesIO(pdf)) as opened_pdf:
        assert len(opened_pdf.pages) == 2
        first = opened_pdf.pages[0]
        high = float(first.mediabox[3])
        _, y0, x1, y1 = (float(v) for v in first.trimbox)
    codes = np.asarray(page(pdf, tmp_path)).astype(int) @ (65536, 256, 1)
    mm = mm_to_pt(1)
    _, laid = spots(blank)
    grow = [1 / (1 - s) for s in blank.shrink]
    for spot in laid:
        if len({*hex_to_rgb8(spot.patch.colour)}) == 1:
            continue  # the furniture is black with grey edges
        ys, xs = np.nonzero(codes == int(spot.patch.colour[1:], 16))
        box = xs.min() / 10, ys.min() / 10, (xs.max() + 1) / 10, (ys.max() + 1) / 10
        # Distances on the pressed cloth, larger on paper by the shrink and the printer's scale.
        left, right = spot.rect.x * grow[0], spot.rect.right * grow[0]
        top, bottom = spot.rect.y * grow[1], spot.rect.bottom * grow[1]
        if turned:  # clockwise after the mirror: top to the right edge, right to the bottom
            wanted_box = (
                x1 / mm - bottom / SCALE[0],
                (high - y0) / mm - right / SCALE[1],
                x1 / mm - top / SCALE[0],
                (high - y0) / mm - left / SCALE[1],
            )
        else:
            wanted_box = (
                x1 / mm - right / SCALE[0],
                (high - y1) / mm + top / SCALE[1],
                x1 / mm - left / SCALE[0],
                (high - y1) / mm + bottom / SCALE[1],
            )
        # A raster pixel is 0.18 mm at 144 ppi, a rendered one 0.1.
        assert box == pytest.approx(wanted_box, abs=0.25), spot.patch


def test_the_list_reads_as_the_cloth_does(theme, tmp_path: Path) -> None:
    pdf = swatch_pdf(KINDS["flat"], SETTINGS, theme, cloth="white", made=DAY)
    (tmp_path / "swatches.pdf").write_bytes(pdf)
    words = subprocess.run(
        ["pdftotext", "-layout", "swatches.pdf", "-"], cwd=tmp_path, check=True, capture_output=True
    ).stdout.decode()
    sheet, listed = words.split("\f")[:2]
    assert "385 °F" in sheet and "50 s" in sheet and "100 mm" in sheet
    assert "must read backwards" in " ".join(sheet.split())
    assert "196 °C (385 °F) · 50 s" in listed and "common practice" in listed
    assert "proofgen swatches " in listed and " --readings FILE.csv --cloth white" in listed
    fonts = subprocess.run(
        ["pdffonts", "-f", "2", "swatches.pdf"], cwd=tmp_path, check=True, capture_output=True
    ).stdout.decode()
    assert "Mono" in fonts, "a command is set so that two hyphens are no dash"
    rows = [line.split() for line in listed.splitlines() if "#" in line]
    assert [(r[0], r[-1]) for r in rows] == [(str(p.number), p.colour) for p in CHART]
    _, laid = spots(KINDS["flat"])
    for spot, row in zip(laid, rows, strict=True):
        assert f"row {spot.row}, place {spot.place}" in " ".join(row)
    assert swatch_pdf(KINDS["flat"], SETTINGS, theme, cloth="white", made=DAY) == pdf


def test_numbers_stand_above_their_swatches() -> None:
    blank = KINDS["flat"]
    pixels = np.asarray(chart_picture(blank, 150.0).convert("L"))
    plan, (_, laid) = blank.plan(), spots(blank)
    for spot in laid:
        left, top, right, _ = spot_px(spot, plan.bleed, 150.0)
        assert pixels[top - 16 : top - 2, left:right].min() < 60, spot.patch


def test_what_cannot_be_pressed_is_told(theme) -> None:
    small = make_blank("flat", width_mm=40.0, height_mm=40.0)
    with pytest.raises(StopError, match="too small"):
        swatch_pdf(small, SETTINGS, theme, cloth="", made=DAY)
    with pytest.raises(StopError, match="how hot"):
        swatch_pdf(replace(KINDS["flat"], press=None), SETTINGS, theme, cloth="", made=DAY)
