"""What goes into the parcel, read back as a person would."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from proofgen.model import Customer, Piece
from proofgen.render import Theme
from proofgen.signoff import Answer, AnswerKind
from tests.press.conftest import MADE, make, make_blank, make_job, make_layout, make_shop, names

GUESTS = ("Ada", "Ada", "Zoë <b>Pemberley</b>")


def read(content: bytes, tmp_path: Path) -> str:
    (tmp_path / "one.pdf").write_bytes(content)
    told = subprocess.run(
        ["pdftotext", "-layout", "one.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return told.stdout


def packed(tmp_path: Path, language: str = "en", *, words: dict[str, str] | None = None) -> str:
    """Three wraps by a list with tables, and four coasters that are alike."""
    layout = make_layout(make_blank("wrap"))
    coaster = make_layout(make_blank("flat", width_mm=90.0, height_mm=90.0))
    job = make_job("fenn-wedding", (layout, names(*GUESTS)), (coaster, names(*["Tern"] * 4)))
    listed = tuple(
        Piece(number=n, words=w, more={"table": f"{n + 10}"})
        for n, w in enumerate(names(*GUESTS), 1)
    )
    wraps, coasters = job.order.lines
    said = Answer(
        order="fenn-wedding",
        edition=2,
        answer=AnswerKind.OK,
        fingerprint="0" * 64,
        received=datetime(2026, 11, 20, 9, tzinfo=UTC),
    )
    job = replace(
        job,
        order=replace(
            job.order,
            customer=Customer(name="Odalys Fenn", language=language),
            lines=(replace(wraps, pieces=listed), coasters),
        ),
        signed=replace(job.signed, answers=(said,)),
    )
    shop = replace(make_shop(telephone="+353 20 913 0148"), words=words or {})
    speaks = {"en": Theme("quay", "en"), "de": Theme("quay", "de"), "ar": Theme("quay", "ar")}
    run = make(
        [job], shop, speaks["en"], made=MADE, customers=lambda o: speaks[o.customer.language]
    )
    assert run.document["packing"] == ["fenn-wedding-packing.pdf"]
    return read(run.files["fenn-wedding-packing.pdf"], tmp_path)


def test_slip_and_tags_name_every_piece(tmp_path: Path) -> None:
    text = packed(tmp_path)
    slip, tags = text.split("\f")[:2]
    for wanted in ("Packing slip", "Odalys Fenn", "7 pieces in this parcel", "proof 2", "20 Nov"):
        assert wanted in " ".join(slip.split())
    assert "3 × Wrap sleeve, foam" in slip and "4 × Flat piece" in slip
    ticked = " ".join(slip.split())
    assert "1 · table: 11" in ticked and "2 · table: 12" in ticked  # alike, but not the same table
    assert "table: 13" in ticked and "3 · table" not in ticked
    assert "2 × Ada" in slip and "4 × Tern" in slip and "1 and 2" in slip
    assert "hello@ternrow.example · +353 20 913 0148" in slip
    assert tags.count("Ada") == 2 and "Zoë <b>Pemberley</b>" in tags  # what they wrote, no markup
    for table in ("table: 11", "table: 12", "table: 13"):
        assert tags.count(table) == 1
    assert "Tern" not in tags.replace("Tern Row", "")  # alike, and nobody's


@pytest.mark.parametrize(
    ("language", "care"), [("en", "Rinse it in cold tea."), ("de", "Liegend trocknen.")]
)
def test_the_care_card_speaks_to_the_customer(tmp_path: Path, language: str, care: str) -> None:
    """The shop's own words where the customer reads its language, else the usual ones in theirs."""
    text = packed(tmp_path, language, words={"care": "Rinse it in cold tea."})
    assert care in text
    assert ("Rinse" in text) is (language == "en")


def test_in_arabic_it_is_set_and_its_numbers_stand(tmp_path: Path) -> None:
    text = packed(tmp_path, "ar")
    assert "Odalys Fenn" in text and "Packing slip" not in text


def test_care_fits_every_blank_of_the_order(tmp_path: Path, theme: Theme) -> None:
    """A coaster has no inside; a fold has no closure."""
    wrap, flat = make_blank("wrap"), make_blank("flat", width_mm=90.0, height_mm=90.0)
    for blanks, says in (
        ([wrap], "not over the closure"),
        ([make_blank("fold")], "Iron the inside only."),
        ([wrap, flat], "from the back only"),
    ):
        groups = [(make_layout(blank), names("Ada")) for blank in blanks]
        run = make([make_job("fenn-wedding", *groups)], make_shop(), theme, made=MADE)
        text = read(run.files["fenn-wedding-packing.pdf"], tmp_path)
        assert says in text and ("inside out" in text) is (flat not in blanks)


@pytest.mark.parametrize(
    ("shape", "framed"), [("rectangle", True), ("rounded", False), ("round", False)]
)
@pytest.mark.parametrize("file", ["ticket", "contact", "packing"])
def test_what_is_cut_to_a_shape_stands_in_no_frame(
    tmp_path: Path, theme: Theme, file: str, shape: str, framed: bool
) -> None:
    """The corner of the picture as it will look is the paper's own white, without a line."""
    blank = make_blank("flat", width_mm=90.0, height_mm=90.0, shape=shape, corner_mm=20.0)
    job = make_job("fenn", (make_layout(blank), names("Tern")))
    run = make([job], make_shop(), theme, made=MADE, contact=True)
    (tmp_path / "one.pdf").write_bytes(run.files[f"fenn-{file}.pdf"])
    subprocess.run(
        ["pdftoppm", "-r", "254", "-singlefile", "one.pdf", "one"], cwd=tmp_path, check=True
    )
    with Image.open(tmp_path / "one.ppm") as opened:
        page = np.asarray(opened).astype(int)  # 10 px a mm
    inked = page.min(axis=2) < 200
    coloured = page.max(axis=2) - page.min(axis=2) > 25  # no type and no line is
    # The first from the left: what stands beside it may begin higher.
    left = np.flatnonzero(coloured.sum(axis=0) > 100)[0]
    top = np.flatnonzero(coloured[:, left : left + 200].sum(axis=1) > 50)[0]
    above = 4 if file == "ticket" else 20  # there words are nearer
    assert inked[top - above : top + 3, left - 20 : left + 3].any() == framed
