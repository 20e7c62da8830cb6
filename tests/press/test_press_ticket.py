"""The ticket, read back as a person would."""

from __future__ import annotations

import io
import re
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import get_args

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from PIL import Image

from proofgen.errors import ShopFaults
from proofgen.geometry import CONSTRUCTIONS
from proofgen.model import Finding, Piece, PressSetting
from proofgen.press.pieces import sides_of
from proofgen.press.steps import SOURCES, StepDrawing, cautions, press_steps
from proofgen.press.ticket import small_pictures
from proofgen.render.fonts import find_font
from proofgen.say import runs
from proofgen.shop.blank_reader import built_in_blanks
from proofgen.shop.blank_writer import blank_text, check_blank
from tests.press.conftest import (
    A3,
    A4,
    MADE,
    make,
    make_blank,
    make_job,
    make_layout,
    make_shop,
    names,
    panel_px,
)


def ticket(job, theme, tmp_path: Path, **shop: object) -> str:
    """The text of an order's ticket, as pdftotext reads it."""
    run = make([job], make_shop(**shop), theme, made=MADE)
    (tmp_path / "ticket.pdf").write_bytes(run.files[run.document["tickets"][0]])
    told = subprocess.run(
        ["pdftotext", "-layout", "ticket.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return " ".join(told.stdout.split())


def test_further_columns_of_a_list_stand_by_their_pieces(theme, tmp_path: Path) -> None:
    """On ticket and contact sheet, visible and cut; whole in the document. Pieces that look alike
    but belong to two tables are two rows."""
    layout = make_layout(make_blank("flat", width_mm=50.0, height_mm=50.0))
    job = make_job("fenn-wedding", (layout, names("Ada", "Bo", "Bo")))
    long = "by the door " * 12
    notes = [{"table": "4", "note": long}, {"table": "<7>"}, {"table": "8\u202e"}]
    listed = tuple(
        Piece(number=n, words=w, more=m)
        for n, w, m in zip((1, 2, 3), names("Ada", "Bo", "Bo"), notes, strict=True)
    )
    (line,) = job.order.lines
    job = replace(job, order=replace(job.order, lines=(replace(line, pieces=listed),)))
    run = make([job], make_shop(), theme, made=MADE, contact=True)
    assert [p["more"] for p in run.document["sheets"][0]["pieces"]] == notes
    for kind in ("ticket", "contact"):
        (tmp_path / "one.pdf").write_bytes(run.files[f"fenn-wedding-{kind}.pdf"])
        told = subprocess.run(
            ["pdftotext", "one.pdf", "-"],
            cwd=tmp_path, check=True, capture_output=True, text=True,
        )  # fmt: skip
        said = " ".join(told.stdout.split())
        assert "table: 4" in said and "table: <7>" in said and "⟨U+202E⟩" in said, said
        assert said.count("by the door") == 5 and "…" in said  # 60 letters of them


def test_figures_counts_and_words(theme, tmp_path: Path) -> None:
    layout = make_layout(make_blank("flat", width_mm=50.0, height_mm=50.0))
    given = names("Odalys & Bram", *["Zoë"] * 98, "محمد")
    accepted = Finding(
        check="photo/effective-resolution",
        code="soft",
        status="stop",
        says="This photo gives 110 pixels per inch.",
        accepted="it is the only one there is",
    )
    job = make_job("fenn-wedding", (layout, given), accepted=(accepted,))
    said = ticket(job, theme, tmp_path)
    # 100 at 5 % is 106 to start with (see test_press_run).
    for words in (
        "fenn-wedding",
        "Odalys Fenn",
        "12 December 2026",
        "Signed proof 2",
        "196 °C",
        "385 °F",
        "50 s",
        "medium",
        "100 + 6",
        "start with 106 blanks",
        "common practice, with no source",
        "As it will look",
        "mirrored",
        "Take one blank through the steps below",
        "initial here",
        "Odalys & Bram",
        "Piece",
        "This photo gives 110 pixels per inch.",
        "it is the only one there is",
    ):
        assert words in said, words
    assert re.search(r"\b100\b", said)


def test_what_the_customer_wrote_with_the_order_stands_on_the_ticket(theme, tmp_path: Path) -> None:
    layout = make_layout(make_blank("flat", width_mm=50.0, height_mm=50.0))
    job = make_job("fenn-wedding", (layout, names("Ada")))
    assert "wrote with the order" not in ticket(job, theme, tmp_path)
    asked = "Please wrap <b>the first</b> by itself"
    said = ticket(replace(job, remarks=[asked]), theme, tmp_path)
    assert f"The customer wrote with the order: “{asked}”" in said
    assert said.index(asked) < said.index("Hot platen")
    long = " ".join(f"wish {number}" for number in range(90))
    said = ticket(replace(job, remarks=[long]), theme, tmp_path)
    assert "stands below the warnings" in said and "wish 89”" in said
    assert said.index("Hot platen") < said.index("wish 0 ")


def test_cautions_defer_and_use_the_signal_words(theme, tmp_path: Path) -> None:
    job = make_job("fenn-wedding", (make_layout(make_blank("fold")), names("Ada")))
    said = ticket(job, theme, tmp_path)
    for words in ("WARNING", "Hot platen", "Spray adhesive near heat", "Fumes", "Needles"):
        assert words in said
    assert "instructions of the makers" in said
    assert "rules where you work" in said
    assert "licensed" in said


def test_needles_only_where_something_is_sewn() -> None:
    assert "Needles" in [c.title for c in cautions({"sewn"})]
    assert "Needles" not in [c.title for c in cautions({"flat", "wrap"})]
    # Signal words of ANSI Z535.4-2007, 4.14.
    assert {c.word for c in cautions({"sewn"})} <= {"DANGER", "WARNING", "CAUTION", "NOTICE"}


@pytest.mark.parametrize(
    ("construction", "wanted"),
    [
        ("wrap", ["hook-and-loop", "round a can"]),
        ("fold", ["right sides together", "6 mm from the edge"]),
        ("sewn", ["thick seams off the platen", "Turn the blank over", "full 50 s", "inside too"]),
        ("flat", ["6 mm past the edge of the cloth", "change the lower sheet"]),
    ],
)
def test_steps_of_each_construction(construction: str, wanted: list[str]) -> None:
    layout = make_layout(make_blank(construction))
    said = " ".join(step.says for step in press_steps(layout.blank, list(layout.plan.panels)))
    for words in [*wanted, "bare for 10 s", "protective paper", "edge", "Foam keeps the mark"]:
        assert words in said, words


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_a_ticket_can_be_made_for_every_construction(construction: str) -> None:
    blank = make_blank(construction)
    titles = [step.title for step in press_steps(blank, list(blank.plan().panels))]
    assert titles[0] == "Heat up" and titles[-1].startswith("Cool")
    assert len(set(titles)) == len(titles) >= 8
    assert [caution.word for caution in cautions({construction})][:2] == ["WARNING", "WARNING"]


@pytest.mark.parametrize("name", get_args(StepDrawing))
def test_every_step_has_its_own_drawing(name: str, theme) -> None:
    shared = '{% from "press_drawings.html" import drawing %}{{ drawing(name) }}'
    draw = theme._pages.from_string(shared).render
    others = {draw(name=other) for other in get_args(StepDrawing) if other != name}
    assert draw(name=name).count("<path") > 0 and draw(name=name) not in others


@pytest.mark.parametrize(
    ("construction", "panels", "turned"),
    [
        ("sewn", ("front",), False),
        ("sewn", ("front", "back"), True),
        ("fold", ("panel",), True),
        ("wrap", ("panel",), True),
    ],
)
def test_a_bare_face_is_not_pressed(construction: str, panels: tuple[str, ...], turned) -> None:
    """It lies on the face that was just pressed, which would be heated a second time."""
    blank = make_blank(construction)
    assert blank.press
    blank = replace(blank, press=replace(blank.press, sides=2))
    titles = [step.title for step in press_steps(blank, panels)]
    assert ("The other side" in titles) is turned
    assert sides_of(blank, panels) == 1 + turned


def test_no_preheat_no_step() -> None:
    blank = make_blank("flat", press=PressSetting(heat_c=190.0, time_s=40.0))
    assert "Preheat" not in [s.title for s in press_steps(blank, ["front"])]


@pytest.mark.parametrize("source", ["maker", "trial"])
def test_where_the_figures_come_from(source: str, theme, tmp_path: Path) -> None:
    blank = make_blank("flat", press=PressSetting(heat_c=190.0, time_s=40.0, source=source))
    said = ticket(make_job("fenn-wedding", (make_layout(blank), names("Ada"))), theme, tmp_path)
    assert SOURCES[source] in said
    assert "190 °C" in said
    assert "374 °F" in said


def test_heat_and_time_are_read_at_arms_length(theme, tmp_path: Path) -> None:
    """24 pt or more: poppler's box of a word is the type's size × (ascent + descent)."""
    job = make_job("fenn-wedding", (make_layout(make_blank("flat")), names("Ada")))
    run = make([job], make_shop(), theme, made=MADE)
    (tmp_path / "ticket.pdf").write_bytes(run.files["fenn-wedding-ticket.pdf"])
    told = subprocess.run(
        ["pdftotext", "-bbox", "-l", "1", "ticket.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    file = find_font("Manrope Bold")
    assert file is not None
    with TTFont(file) as font:
        line = (font["hhea"].ascent - font["hhea"].descent) / font["head"].unitsPerEm
    for word in ("196", "385", "50"):
        found = re.findall(rf'yMin="([\d.]+)"[^>]*yMax="([\d.]+)">{word}<', told)
        assert max(float(low) - float(top) for top, low in found) / line >= 24


def pages(job, theme, tmp_path: Path, **shop: object) -> list[str]:
    """The text of each page of an order's ticket."""
    run = make([job], make_shop(**shop), theme, made=MADE)
    (tmp_path / "ticket.pdf").write_bytes(run.files[run.document["tickets"][0]])
    told = subprocess.run(
        ["pdftotext", "-layout", "ticket.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return [" ".join(page.split()) for page in told.stdout.split("\f")]


@pytest.mark.parametrize("name", ["can-fold-linen", "can-sewn-foam", "can-wrap-foam"])
def test_all_steps_on_one_page(name: str, theme, tmp_path: Path) -> None:
    blank = built_in_blanks()[name]
    if blank.closure:  # the most there is to say
        blank = replace(blank, closure=replace(blank.closure, on="front"))
    layout = make_layout(blank)
    told = pages(make_job("fenn-wedding", (layout, names("Ada", "Bo"))), theme, tmp_path)
    steps = press_steps(layout.blank, list(layout.plan.panels))
    assert [page for page in told if f"{steps[0].title}." in page and f"{steps[-1].title}." in page]


def test_the_ticket_bears_the_band_of_its_sheets(theme, tmp_path: Path) -> None:
    layout = make_layout(make_blank("flat", name="Patch of felt"))
    told = pages(make_job("fenn-wedding", (layout, names("Ada", *"bcdefghi"))), theme, tmp_path)
    for words in ("196 °C", "medium pressure", "white foam", "Patch of felt"):
        assert words in told[0]
    assert re.search(r"fenn-wedding (1 to \d+|1 and 2|1) of \d", told[0])


def test_alike_neighbours_are_a_run_and_papers_are_counted(theme, tmp_path: Path) -> None:
    layout = make_layout(make_blank("sewn"))
    job = make_job("fenn-wedding", (layout, names(*["Ada"] * 12, "Bo")))
    said = ticket(job, theme, tmp_path, spares=0.15, papers=(A3,))
    assert "Pieces 1 to 12: Ada" in said and "Piece 13: Bo" in said
    assert "26 papers to print, and up to 6 again for spares" in said  # 13 / 0.85 is 16 blanks
    assert re.search(r"\b\d+ to \d+ Ada \d", said)


def test_a_long_word_stays_off_the_sheet_number(theme, tmp_path: Path) -> None:
    job = make_job("fenn-wedding", (make_layout(make_blank("flat")), names("W" * 70, "Bo")))
    run = make([job], make_shop(), theme, made=MADE)
    (tmp_path / "ticket.pdf").write_bytes(run.files["fenn-wedding-ticket.pdf"])
    told = subprocess.run(
        ["pdftotext", "-bbox", "ticket.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    page = next(p for p in told.split("<page") if ">Done<" in p)
    (heading,) = re.findall(r'xMin="([\d.]+)"[^>]*>Sheet<', page)
    ends = [float(x) for x in re.findall(r'xMax="([\d.]+)"[^>]*>W+<', page)]
    assert ends and max(ends) < float(heading)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_pads_are_protected_wherever_ink_passes_an_edge(construction: str) -> None:
    for bleed, wanted in ((6.0, True), (0.0, False)):
        blank = make_blank(construction, bleed_mm=bleed)
        said = " ".join(step.says for step in press_steps(blank, list(blank.plan().panels)))
        assert ("past the edge of the cloth" in said) is wanted


def test_a_hem_step_where_there_is_a_hem() -> None:
    for hem, wanted in ((5.0, True), (0.0, False)):
        blank = make_blank("fold", hem_mm=hem)
        steps = press_steps(blank, list(blank.plan().panels))
        said = [step.says for step in steps if step.drawing == "hem"]
        assert bool(said) is wanted
        assert not said or "turn 5 mm of cloth over" in said[0]


ON_TOP, MET = ", on_top: right", ", on_top: neither"


def _steps_of(press: str, closure: str) -> str:
    """The steps of a wrap that is read from a file."""
    text = f"""name: Wrap
construction: wrap
vessel: {{diameter: 66.1 mm}}
length: {217 if MET in closure else 240} mm
height: 100 mm
thickness: 3 mm
closure: {{width: 30 mm, shortest: 10 mm{closure or ON_TOP}}}
bleed: 6 mm
safe: 5 mm
cloth: {{finish: foam, polyester: 100 %, colours: {{white: "#ffffff"}}}}
press: {{heat: 400 F, time: 65 s{press}}}
"""
    blank = check_blank(text, "wrap")
    assert check_blank(blank_text(blank), "wrap") == blank
    return " ".join(step.says for step in press_steps(blank, ["round"]))


@pytest.mark.parametrize(
    ("press", "closure", "wanted"),
    [
        (", peel: hot", "", "off while it is hot (the blank’s file)"),
        (", peel: cold", "", "on until all is cold (the blank’s file)"),
        (", edge: torn", "", "Tear the paper’s edges, do not cut them (the blank’s file)"),
        (", edge: cut", "", "Cut the paper’s edges (the blank’s file)"),
        (", hold: spray", "", "light mist of tacky spray on the paper (the blank’s file)"),
        (", hold: tape", "", "not on the face (the blank’s file)"),
        (
            "",
            f"{ON_TOP}, on: back",
            "the right end, which lies on top, carries its strip on",
        ),
        (
            "",
            f"{ON_TOP}, on: front",
            "the left end, which lies under, carries its strip on",
        ),
        ("", f"{ON_TOP}, on: front", "within 30 mm of that end: ink spoils its hold"),
        ("", MET, "The ends meet, and a strip 30 mm wide lies over both"),
        ("", MET, "does not say which side it is on"),
        ("", f"{MET}, on: back", "No strip is on the front (the blank’s file)"),
        ("", f"{MET}, on: front", "both ends carry hook-and-loop on the front, within 15 mm"),
        ("", "", "does not say whether the paper comes off hot or cold: ask its maker"),
        ("", "", "does not say which side its strips are on"),
        ("", "", "not on the face (common practice, no source)"),
    ],
)
def test_what_the_blank_says_of_paper_and_closure(press: str, closure: str, wanted: str) -> None:
    assert wanted in _steps_of(press, closure)


def test_an_unknown_peel_is_a_fault() -> None:
    with pytest.raises(ShopFaults) as caught:
        _steps_of(", peel: warm", "")
    assert "hot" in str(caught.value.faults[0].cure)


def test_a_round_blank_is_laid_by_its_middle_and_has_no_zips() -> None:
    """Only what is true of the blank at hand: a circle has no corners."""
    for shape, wanted in (("round", "is round"), ("rounded", "straight sides would meet")):
        blank = make_blank("flat", height_mm=100.0, shape=shape, corner_mm=8.0, bleed_mm=4.0)
        steps = press_steps(blank, ["front"])
        said = " ".join(step.says for step in steps)
        assert wanted in said and "ticks" in said and "about 4 mm past its top" in said
        assert "are the blank’s corners" not in said and "paper 7" not in said
        assert any(step.drawing == "edge" for step in steps) is (shape != "round")
    said = " ".join(step.says for step in press_steps(make_blank("flat"), ["front"]))
    assert "The corner marks are the blank’s corners" in said and "ticks" not in said


def test_a_round_blank_looks_round_on_the_ticket() -> None:
    layout = make_layout(make_blank("flat", height_mm=100.0, shape="round"))
    image = Image.new("RGB", panel_px(layout, "front", 72.0), "#336699")
    with Image.open(io.BytesIO(small_pictures(layout, "front", image, 72.0, leads=True).look)) as p:
        wide, high = p.size
        corner, middle = p.getpixel((3, 3)), p.getpixel((wide // 2, high // 2))
        edge = p.getpixel((wide // 2, 0))
    assert min(corner) > 245 and max(middle) < 200 and max(edge) - min(edge) < 60


def test_the_ticket_says_in_which_file_and_on_which_pages_its_sheets_lie(
    theme, tmp_path: Path
) -> None:
    """Two orders share a file: the pages are those of the file, not the order's own numbers."""
    layout = make_layout(make_blank("flat"))
    jobs = [make_job(name, (layout, names(*"ABCDE"))) for name in ("fenn", "quill")]
    run = make(jobs, make_shop(papers=(A4,)), theme, made=MADE)
    (file,) = {sheet["file"] for sheet in run.document["sheets"]}
    for name in ("fenn", "quill"):
        pages = [
            page
            for page, sheet in enumerate(run.document["sheets"], 1)
            if name in {piece["order"] for piece in sheet["pieces"]}
        ]
        (tmp_path / "one.pdf").write_bytes(run.files[f"{name}-ticket.pdf"])
        told = subprocess.run(
            ["pdftotext", "one.pdf", "-"],
            cwd=tmp_path, check=True, capture_output=True, text=True,
        )  # fmt: skip
        said = " ".join(told.stdout.split())
        assert len(pages) > 1 and f"(A4), pages {runs(pages)} of {file}." in said, said[:600]


@pytest.mark.parametrize(("high", "full"), [(260.0, True), (100.0, False)])
def test_a_full_sheets_rulers_stand_on_a_page_more(
    theme, tmp_path: Path, high: float, full: bool
) -> None:
    """A pennant of 180 × 260 mm fills its A4: the file's last page has the rulers, the R and the
    heat, and the ticket says so. The sheets, and what they say of themselves, stay as they are."""
    blank = make_blank("flat", width_mm=180.0, height_mm=high)
    job = make_job("fenn-flags", (make_layout(blank), names("Ada", "Bo")))
    run = make([job], make_shop(papers=(A4,)), theme, made=MADE)
    (file,) = {sheet["file"] for sheet in run.document["sheets"]}
    sheets = len(run.document["sheets"])
    with pikepdf.open(io.BytesIO(run.files[file])) as pdf:
        assert len(pdf.pages) == sheets + full
        images = [len(page.get_images()) for page in pdf.pages]
        assert all(images[:sheets]) and not any(images[sheets:])
    (tmp_path / "a.pdf").write_bytes(run.files[file])
    words = subprocess.run(
        ["pdftotext", "-f", str(len(images)), tmp_path / "a.pdf", "-"],
        check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    assert "100 mm" in words and "195 °C" not in words and "196 °C" in words
    assert ("Nothing here is pressed." in " ".join(words.split())) is full
    said = ticket(job, theme, tmp_path, papers=(A4,))
    assert (f"Page {sheets + 1} of" in said and "has the rulers" in said) is full
