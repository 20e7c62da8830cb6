"""A press trial: a press made up here is measured through the sheet, to half a millimetre."""

from __future__ import annotations

import io
import math
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from proofgen.errors import StopError, UsageError
from proofgen.model import Printer
from proofgen.press.trial import READ_MM, Grid, exactness, grid_of, ladder, shrink_from, trial_pdf
from proofgen.shop import built_in_blanks, check_blank
from tests.cli import small
from tests.press.conftest import A3, A4, MADE, make_blank, make_shop
from tests.render.test_true_size import strokes

SHRINK = (0.023, 0.008)
FINE = 0.0005  # 0.05 percentage points
PRINTER = Printer(scale=(0.99, 1.01))


def by_ruler(mm: float) -> float:
    return round(mm / READ_MM) * READ_MM


def on_paper(pdf: bytes, grid: Grid, scale: tuple[float, float]) -> list[float]:
    """What the printer makes of each line, from the middle of its first tick to that of its second:
    the drawing orders of the second page, three for a line."""
    with pikepdf.open(io.BytesIO(pdf)) as read:
        drawn = strokes(read.pages[1])
    spans = (*grid.along, *grid.across)
    lengths = []
    for index, _ in enumerate(spans):
        _, first, last = drawn[3 * index : 3 * index + 3]
        across = abs(last.left + last.width / 2 - first.left - first.width / 2) * scale[0]
        down = abs(last.top + last.height / 2 - first.top - first.height / 2) * scale[1]
        lengths.append(max(across, down))
    return lengths


@pytest.mark.parametrize("name", ["can-wrap-linen", "can-fold-foam", "coaster-round"])
def test_a_made_up_press_is_measured_through_the_sheet(name: str, theme, tmp_path: Path) -> None:
    """It shrinks by 2.3 % along and 0.8 % across; its printer is off, too, and the shop knows."""
    shop = small.make_shop(tmp_path / "shop")
    file, wide = shop / "shop.yaml", "margin: 5 mm, scale: {x: 99 %, y: 101 %}"
    text = file.read_text("utf-8").replace("[A4]", "[A4, A3]").replace("margin: 5 mm", wide)
    file.write_text(text, "utf-8")
    drawn = small.run(shop, "trial", name).ended(0).out
    assert "Next: print pages 1 and 2" in drawn
    grid = grid_of(built_in_blanks()[name])
    pdf = (shop / "workroom" / "blanks" / f"{name}-trial.pdf").read_bytes()
    told = subprocess.run(
        ["pdftotext", "-f", "3", "-", "-"], input=pdf, check=True, capture_output=True
    )
    words = " ".join(told.stdout.decode().split())
    paper = on_paper(pdf, grid, PRINTER.scale)
    assert paper == pytest.approx([s.length for s in (*grid.along, *grid.across)], abs=0.02)
    cloth = [
        by_ruler(mm * (1 - SHRINK[index >= len(grid.along)])) for index, mm in enumerate(paper)
    ]
    along, across = cloth[: len(grid.along)], cloth[len(grid.along) :]
    figures = built_in_blanks()[name].press
    assert figures is not None
    cell = ladder(figures)[2][1]
    said = small.run(
        shop, "trial", name, "--heat", cell.heat, "--time", f"{cell.time_s:g}s",
        "--along", ",".join(map(str, along)), "--across", ",".join(f"{mm} mm" for mm in across),
    ).ended(0).out  # fmt: skip
    assert "own now" in said and "shrinks by 2." in said
    text = (shop / "blanks" / f"{name}.yaml").read_text("utf-8")

    blank = check_blank(text, name)
    assert blank.shrink == pytest.approx(SHRINK, abs=FINE)
    assert blank.press is not None and blank.press.source == "trial"
    assert f"{blank.press.heat_f_written:g}F" == cell.heat
    assert blank.press.time_s == cell.time_s
    assert "common practice" not in text and "easures are invented.\n" in text
    assert "1 of 1" not in words and "page 3 of 3" in words
    assert ("the long way" in words) is (name != "coaster-round")
    assert blank.press.tried is not None


@pytest.mark.parametrize("name", sorted(built_in_blanks()))
def test_every_blank_is_measured_finely_whatever_it_shrinks(name: str) -> None:
    grid = grid_of(built_in_blanks()[name])
    for spans in (grid.along, grid.across):
        assert exactness(spans) <= FINE
        for step in range(101):
            shrink = step * 0.0005
            read = [by_ruler(span.length * (1 - shrink)) for span in spans]
            assert shrink_from(spans, read) == pytest.approx(shrink, abs=FINE)


def test_the_grid_is_mirrored_and_inside_the_blank(theme) -> None:
    """Lines begin at the blank's left, which is the right of the paper, all at one place; they end
    one after the other."""
    blank = make_blank("flat")
    settings = make_shop(papers=(A4, A3)).settings
    grid = grid_of(blank)
    pdf = trial_pdf(blank, settings, theme, made=MADE.date())
    assert pdf == trial_pdf(blank, settings, theme, made=MADE.date())
    with pikepdf.open(io.BytesIO(pdf)) as read:
        assert len(read.pages) == 3 and len(read.Root.OutputIntents) == 1
        drawn = strokes(read.pages[1])
    lines = [drawn[3 * i : 3 * i + 3] for i in range(len(grid.along))]
    starts = {round(first.left, 2) for _, first, _ in lines}
    ends = [round(last.left, 2) for _, _, last in lines]
    assert len(starts) == 1 and min(starts) > max(ends)
    assert ends == sorted(ends) and len(set(ends)) == len(ends)
    for span in grid.along:
        assert blank.safe_mm <= span.x and span.x + span.length <= blank.width_mm - blank.safe_mm
    for span in grid.across:
        assert blank.safe_mm <= span.y and span.y + span.length <= blank.height_mm - blank.safe_mm


@pytest.mark.parametrize(
    ("shape", "corner"), [("rounded", 4.0), ("rounded", 10.0), ("rounded", 25.0), ("round", 50.0)]
)
def test_on_rounded_corners_lines_are_as_long_as_the_safe_area_lets(shape, corner) -> None:
    """The grid's own corners stay off the blank's edge, and would not with lines a mm longer:
    shorter ones are read less finely."""
    blank = make_blank(
        "flat", width_mm=100.0, height_mm=100.0, safe_mm=3.0, shape=shape,
        corner_mm=corner if shape == "rounded" else 0.0,
    )  # fmt: skip
    grid = grid_of(blank)
    (along, *_), (across, *_) = grid.along, grid.across
    assert (along.x, along.length) == (across.y, across.length)

    def to_edge(x: float) -> float:
        """How far a spot so far in from two sides is from the edge, at the nearest."""
        return corner - math.hypot(corner - x, corner - x) if x < corner else x

    assert to_edge(along.x) >= blank.safe_mm > to_edge(along.x - 0.5)


def test_the_ladder_lies_round_the_blanks_own_figures(theme, tmp_path: Path) -> None:
    blank = built_in_blanks()["can-wrap-foam"]  # 400 F, 65 s
    assert blank.press is not None
    strips = ladder(blank.press)
    assert [[cell.heat for cell in strip[:1]] for strip in strips] == [["380F"], ["400F"], ["420F"]]
    assert [cell.time_s for cell in strips[0]] == [45, 55, 65, 75]
    (tmp_path / "t.pdf").write_bytes(
        trial_pdf(blank, make_shop(papers=(A4, A3)).settings, theme, made=MADE.date())
    )
    told = subprocess.run(
        ["pdftotext", "-f", "3", "-l", "3", "t.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    )  # fmt: skip
    said = " ".join(told.stdout.split())
    for words in ("204 °C (400 °F)", "45 s", "WARNING: Hot platen", "CAUTION: Fumes", "--along"):
        assert words in said
    celsius = ladder(replace(blank.press, heat_c=200.0, heat_f_written=None))
    assert [strip[0].heat for strip in celsius] == ["190C", "200C", "210C"]


def test_readings_that_do_not_go_together_are_refused() -> None:
    spans = grid_of(built_in_blanks()["can-wrap-linen"]).along
    right = [by_ruler(span.length * 0.98) for span in spans]
    with pytest.raises(UsageError, match="lines 1 to 4 are 4"):
        shrink_from(spans, right[:-1])
    with pytest.raises(UsageError, match="line 3 was read as"):
        shrink_from(spans, [*right[:2], right[2] - 10, *right[3:]])
    with pytest.raises(UsageError, match="grew by"):
        shrink_from(spans, [span.length + 1 for span in spans])


def test_a_blank_too_small_for_a_grid_is_told() -> None:
    with pytest.raises(StopError, match="too small for a grid"):
        grid_of(make_blank("flat", width_mm=35.0, height_mm=35.0))


def test_every_other_letter_of_the_file_is_kept(tmp_path: Path) -> None:
    shop = small.make_shop(tmp_path / "shop")
    text = (
        "# Ours.\nname: Market patch\nconstruction: flat\nwidth: 150 mm # from the roll\n"
        "height: 110 mm\nbleed: 4 mm\nsafe: 6 mm\n"
        'cloth: {finish: linen-look, colours: {white: "#ffffff"}}\n'
        "press:\n  heat: 196 C  # guessed\n  time: 55 s\n  peel: hot\nnote: ours\n"
    )
    (shop / "blanks").mkdir(exist_ok=True)
    file = shop / "blanks" / "patch.yaml"
    file.write_text(text, "utf-8")
    small.run(shop, "trial", "patch", "--time", "65 s").ended(0)
    day = next(line for line in file.read_text("utf-8").splitlines() if "tried" in line).split()[1]
    assert file.read_text("utf-8") == text.replace("55 s", "65 s").replace(
        "  peel: hot\n", f"  peel: hot\n  from: trial\n  tried: {day}\n"
    )
    for wrong in (
        ("--heat", "900 C"),
        ("--heat", "200 C (424 F)"),
        ("--along", "1,2"),
        ("--across", "x"),
    ):
        before = file.read_bytes()
        small.run(shop, "trial", "patch", *wrong).ended(2)
        assert file.read_bytes() == before


def test_what_no_cell_showed_is_refused_with_the_cells_there_were(tmp_path: Path) -> None:
    """Those of the sheet that was drawn, whatever the blank's file says since."""
    shop = small.make_shop(tmp_path / "shop")
    ours = shop / "blanks" / "can-wrap-foam.yaml"
    small.run(shop, "trial", "can-wrap-foam").ended(0)
    for heat, time in (("196C", "45s"), ("400F", "50s"), ("390F", "65s")):
        told = small.run(shop, "trial", "can-wrap-foam", "--heat", heat, "--time", time).ended(2)
        assert "380F, 400F, 420F, each for 45, 55, 65, 75 s" in told.err
        assert "from: maker" in told.err and not ours.exists()
    small.run(shop, "trial", "can-wrap-foam", "--heat", "420F", "--time", "45s").ended(0)
    small.run(shop, "trial", "can-wrap-foam", "--heat", "193C", "--time", "75s").ended(0)
    blank = check_blank(ours.read_text("utf-8"), "can-wrap-foam")
    assert blank.press is not None and (blank.press.heat_c, blank.press.time_s) == (193, 75)


def test_remarks_that_are_true_no_more_are_taken_out(tmp_path: Path) -> None:
    shop = small.make_shop(tmp_path / "shop")
    small.run(
        shop, "measure", "--construction", "flat", "--name", "patch", "--width",
        "150 mm", "--height", "110 mm", "--thickness", "1 mm", "--bleed", "4 mm", "--safe", "6 mm",
        "--finish", "foam",
    ).ended(0)  # fmt: skip
    file = shop / "blanks" / "patch.yaml"
    assert "make a trial" in file.read_text("utf-8") and "To be written" in file.read_text("utf-8")
    small.run(shop, "trial", "patch", "--time", "50s").ended(0)
    once = file.read_text("utf-8")
    assert "make a trial" not in once and "# To be written under cloth" in once
    file.write_text(once.replace("finish: foam", "finish: foam, polyester: 90 %"), "utf-8")
    small.run(shop, "trial", "patch", "--time", "50s").ended(0)
    text = file.read_text("utf-8")
    assert "To be written" not in text and text.startswith("# Measured with a tape on ")
    assert text.splitlines()[1].startswith("name: ")
