"""The proof on paper: it repeats, says what the page says, and is true to size."""

from __future__ import annotations

import io
import math
import shutil
import subprocess
import sys
from dataclasses import replace
from decimal import Decimal
from functools import partial
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image

from proofgen.proof.build import build, pdf_of
from proofgen.proof.content import ProofContent, picture
from proofgen.proof.paper import on_paper
from proofgen.render import Alike, Theme, html_to_pdf, theme_names
from proofgen.store import Store
from tests.proof.sample import content


@pytest.fixture(scope="module")
def pdf(sample: ProofContent, theme: Theme) -> bytes:
    return pdf_of(sample, theme)


def test_the_pdf_repeats_and_its_name_is_its_content(
    sample: ProofContent, theme: Theme, pdf: bytes
) -> None:
    files = build(sample, theme)
    (name,) = [n for n in files if n.endswith(".pdf")]
    assert files[name] == pdf
    assert f'href="{name}"' in files["index.html"].decode()


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_pdf_says_what_the_page_says(sample: ProofContent, pdf: bytes, tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", tmp_path / "a.pdf", "-"],
        capture_output=True,
        check=True,
        text=True,
    )
    said = " ".join(done.stdout.split())
    for text in (
        *(w.text for w in sample.words if w.text != "محمد"),
        *sample.codes.values(),
        *(sample.slip_words[kind] for kind in ("ok", "change")),
        "Odalys Fenn",
        "€72.50",
        "Saturday 12 December 2026",
        "You asked us to keep it pale.",
        "hidden under the closing strip",
        sample.fingerprint,
    ):
        assert text in said, text
    assert sample.key_hex not in said


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_drawing_for_phones_is_on_the_page_and_not_on_paper(theme: Theme) -> None:
    """Its larger letters are for narrow screens; on paper lines have a thickness of their own,
    which on the page stays the same however wide the drawing is shown."""
    base = content(names=("Odalys",))
    work = base.works[0]
    steady = '<g vector-effect="non-scaling-stroke" fill="none"'
    wide = work.drawings[0].svg.replace('<g fill="none"', steady)
    narrow = wide.replace("hidden under the closing strip", "hidden, said large")
    drawing = replace(work.drawings[0], svg=wide, narrow_svg=narrow)
    given = replace(base, works=(replace(work, drawings=(drawing,)),))
    page = build(given, theme, with_pdf=False)["index.html"].decode()
    assert "hidden, said large" in page and page.count("non-scaling-stroke") == 2
    said = subprocess.run(
        ["pdftotext", "-", "-"], input=pdf_of(given, theme), capture_output=True, check=True
    ).stdout.decode()
    assert "hidden under the closing strip" in said and "hidden, said large" not in said


def test_views_are_slim_on_the_page_and_jpegs_on_paper(theme: Theme) -> None:
    """A PDF holds a JPEG as it is; of a WebP it would hold every pixel, ten times as heavy. What
    colours and letters are signed by stays the page's own to the byte."""
    base = content(names=("Odalys",))
    work = base.works[0]
    noise = Image.effect_noise((640, 900), 40).convert("RGB")
    views = tuple(
        replace(picture(view.name, noise, view.alt, quality=64, fine=False), caption=view.caption)
        for view in work.views
    )
    given = replace(base, works=(replace(work, views=views),))
    page = build(given, theme, with_pdf=False)
    assert {n.rsplit(".")[-1] for n in page if n.startswith(views[0].name)} == {"webp"}
    paper = on_paper(given)
    for at, view in enumerate(views):
        with Image.open(io.BytesIO(paper[view.name])) as image:
            assert image.format == "JPEG" and image.width == (332 if at else 420)
        assert view.media_type == "image/webp"
    flat = {p.name: p.data for p in given.pictures} | {v.name: paper[v.name] for v in views}
    assert paper == flat


def test_the_pdf_carries_no_name_of_the_order_in_its_title(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert document.docinfo["/Title"] == "Proof 2"
        assert "/Author" not in document.docinfo
        assert document.Root.MarkInfo.Marked


def test_the_card_and_the_crop_are_at_their_real_size_on_paper(pdf: bytes) -> None:
    # ISO/IEC 7810 ID-1: 85.60 x 53.98 mm, in PDF points of 1/72 inch.
    with pikepdf.open(io.BytesIO(pdf)) as document:
        boxes = [size for page in document.pages for size in widths_drawn(page)]
    assert any(abs(w - 85.6) < 0.02 and abs(h - 53.98) < 0.02 for w, h in boxes)
    assert any(abs(w - 80) < 0.02 and abs(h - 45) < 0.02 for w, h in boxes)


def widths_drawn(page: pikepdf.Page) -> list[tuple[float, float]]:
    """Width and height in mm of every picture and every closed path of a page."""
    now, kept, found = np.eye(3), [], []
    points: list[tuple[float, float]] = []

    def at(x: float, y: float) -> tuple[float, float]:
        moved = np.array([x, y, 1.0]) @ now
        return float(moved[0]), float(moved[1])

    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        numbers = [float(o) for o in operands if isinstance(o, int | float | Decimal)]
        if name == "q":
            kept.append(now)
        elif name == "Q":
            now = kept.pop()
        elif name == "cm":
            a, b, c, d, e, f = numbers
            now = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ now
        elif name in ("m", "l"):
            points.append(at(*numbers))
        elif name == "c":
            points.append(at(*numbers[4:]))
        elif name == "re":
            x, y, w, h = numbers
            points += [at(x, y), at(x + w, y + h)]
        elif name == "Do":
            points = [at(0, 0), at(1, 1)]
        if name in ("S", "s", "f", "B", "Do", "n") and points:
            xs, ys = zip(*points, strict=True)
            found.append(((max(xs) - min(xs)) * 25.4 / 72, (max(ys) - min(ys)) * 25.4 / 72))
            points = []
    return found


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_question_and_the_answer_stand_on_the_first_page(
    sample: ProofContent, pdf: bytes, tmp_path: Path
) -> None:
    (tmp_path / "a.pdf").write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-raw", "-l", "1", tmp_path / "a.pdf", "-"],  # in the order it was set
        capture_output=True,
        check=True,
        text=True,
    )
    said = " ".join(done.stdout.split())
    line = sample.bill[0]
    for text in (line.design, line.blank, "5 pieces", "Friday 4 December", *sample.codes.values()):
        assert text in said, text
    assert "Shall we press it like this?" in said and "Signature" in said


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
def test_no_page_is_left_half_bare(pdf: bytes, tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", "30", "-gray", tmp_path / "a.pdf", tmp_path / "page"], check=True
    )
    reached = []
    for sheet in sorted(tmp_path.glob("page*.pgm")):
        with Image.open(sheet) as image:
            inked = np.argwhere((np.asarray(image) < 250).any(axis=1))
        above_foot = inked[inked < 0.945 * image.height]
        reached.append(float(above_foot.max() / image.height))
    assert len(reached) >= 3 and min(reached) >= 2 / 3, reached


def test_a_last_sheet_that_is_nearly_bare_is_made_longer() -> None:
    asked: list[float] = []

    def way(spare_mm: float) -> str:
        asked.append(spare_mm)
        style = "@page { size: A4; margin: 15mm } p { margin: 0; height: 130mm }"
        end = f"<div style='height: {spare_mm}mm'></div>"
        return f"<html lang=en><style>{style}</style>{'<p></p>' * 3}{end}"

    html_to_pdf([way, way], {}, page_title="Filled")
    assert asked[:2] == [0.0, 0.0]  # both ways tried before anything is made longer
    # One paragraph of 130 mm stands alone on its sheet, whose end must lie beyond two thirds.
    (more,) = asked[2:]
    assert 15 + 130 + more >= 297 * 2 / 3


def ways_tried(*fills: bool) -> list[tuple[int, bool]]:
    """Which of the ways are set, in order, and whether made longer. A way that fills has one sheet,
    full; another a second one, nearly bare."""
    asked: list[tuple[int, bool]] = []

    def way(number: int, spare_mm: float) -> str:
        asked.append((number, spare_mm > 0))
        style = "@page { size: A4; margin: 15mm } p { margin: 0; height: 130mm }"
        size = "" if fills[number] else "<p style='height: 90mm'></p>"
        end = f"<div style='height: {spare_mm}mm'></div>"
        return f"<html lang=en><style>{style}</style><p></p><p></p>{size}{end}"

    html_to_pdf([partial(way, n) for n in range(len(fills))], {}, page_title="Filled")
    return asked


def test_a_page_is_set_three_times_at_most_where_no_size_fills_it() -> None:
    assert ways_tried(False, False, False) == [(0, False), (2, False), (0, True)]
    assert ways_tried(True, False, False) == [(0, False)]
    assert ways_tried(False, False, True) == [(0, False), (2, False), (1, False)]
    assert ways_tried(False, True, True) == [(0, False), (2, False), (1, False)]


def test_smaller_is_not_tried_where_it_cannot_save_a_sheet() -> None:
    asked: list[tuple[int, float]] = []

    def way(number: int, bare: float, spare_mm: float) -> str:
        asked.append((number, spare_mm))
        style = "@page { size: A4; margin: 15mm } p { margin: 0; height: 200mm }"
        rest = f"<p style='height: {20 if number else bare}mm'></p>"
        end = f"<div class=spare style='height: {spare_mm}mm'></div>"
        return f"<html lang=en><style>{style}</style><p></p><p></p>{rest * 2}{end}"

    for bare, tries in ((40, [0, 1]), (80, [0, 0])):  # mm, of 267; the second sheet has 200 already
        asked.clear()
        ways = [partial(way, n, bare) for n in range(2)]
        html_to_pdf(ways, {}, page_title="Filled", least=0.9)
        assert [number for number, _ in asked] == tries, asked


def _long(high: int, spare_mm: float) -> str:
    """A page whose last sheet holds so many mm, and lines to write on below them."""
    style = "@page { size: A4; margin: 15mm } p { margin: 0; height: 250mm } i { display: block }"
    lines = "<i style='height: 8mm'>to write on</i>" * math.ceil(spare_mm / 8)
    end = f"<div class='rest spare'>{lines}</div>" if spare_mm else ""
    return (
        f"<html lang=en><style>{style}</style><p></p><section>"
        f"<p style='height: {high}mm'></p>{end}</section>"
    )


@pytest.mark.parametrize("high", [30, 36, 100, 178, 190, 230])
def test_what_was_added_to_one_like_it_saves_a_setting_and_changes_nothing(
    high: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    engine, was_set = sys.modules["proofgen.render.pdf"], list[str]()
    set_it = engine._set
    monkeypatch.setattr(
        engine, "_set", lambda html, files: was_set.append(html) or set_it(html, files)
    )
    way = partial(_long, high)
    plain = html_to_pdf([way, way], {}, page_title="Long", least=0.9)
    for before in (30, 100, 230):
        alike = Alike(Store(tmp_path / str(before)), "long")
        like_it = partial(_long, before)
        html_to_pdf([like_it, like_it], {}, page_title="Long", least=0.9, alike=alike)
        for _ in range(2):
            was_set.clear()
            assert plain == html_to_pdf([way, way], {}, page_title="Long", least=0.9, alike=alike)
        assert len(was_set) == 1  # guessed by its very like
    (tmp_path / "other").mkdir()
    broken = Store(tmp_path / "other")
    broken.keep("pages made longer/1", "long", b"as long as it likes")
    assert plain == html_to_pdf(
        [way, way], {}, page_title="Long", least=0.9, alike=Alike(broken, "long")
    )


def typefaces(pdf: bytes) -> set[str]:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return {
            str(one.BaseFont).partition("+")[2]
            for one in document.objects
            if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font"
        }


def test_arabic_letters_on_paper_come_from_a_font_of_ours(sample: ProofContent) -> None:
    assert "Page-Arabic" in typefaces(pdf_of(sample, Theme("quay", "ar", "EUR")))


@pytest.mark.parametrize("name", theme_names())
def test_drawings_on_paper_are_lettered_as_the_rest(name: str) -> None:
    """Without a word in Arabic letters, nothing is in the typeface that has those."""
    used = typefaces(pdf_of(content(names=("Odalys & Bram", "Wren")), Theme(name)))
    assert "House-Plain" in used and "Page-Arabic" not in used, used


def said_on(folder: Path, shown: ProofContent, theme: Theme) -> str:
    """The words of a proof on paper, in one line."""
    (folder / "a.pdf").write_bytes(pdf_of(shown, theme))
    done = subprocess.run(
        ["pdftotext", "-layout", folder / "a.pdf", "-"], capture_output=True, check=True, text=True
    )
    return " ".join(done.stdout.split())


USE, SHOW = "You may use these pictures", "may show this work to others. It makes no"
KEPT = "until 90 days after your order is handed over"


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_paper_has_telephone_rights_and_how_long_photos_are_kept(
    sample: ProofContent, theme: Theme, tmp_path: Path
) -> None:
    said = said_on(tmp_path, replace(sample, telephone="+353 20 913 0148", keep_days=90), theme)
    assert "hello@ternrow.example, +353 20 913 0148" in said
    assert USE in said and SHOW in said and KEPT in said
    answered = replace(
        sample, asks_print=False, asks_show=False, shown_to_nobody=True, keep_days=None
    )
    said = said_on(tmp_path, answered, theme)
    assert USE not in said and SHOW not in said and KEPT not in said
    assert "We will not show this work to others." in said


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_no_day_is_promised_that_no_answer_can_meet(
    sample: ProofContent, theme: Theme, tmp_path: Path
) -> None:
    for in_time in (True, False):
        shown = replace(sample, in_time=in_time)
        page = build(shown, theme, with_pdf=False)["index.html"].decode()
        for said in (page, said_on(tmp_path, shown, theme)):
            assert ("Ready on Saturday 12 December 2026" in said) is in_time
            assert ("You want it by Saturday 12 December 2026." in said) is not in_time
            holds = "The day still holds where your “Yes” to that one is here by Friday 4 December"
            assert (holds in said) is in_time
            assert "by post" not in said
    posted = build(replace(sample, postage=Decimal("4.20")), theme, with_pdf=False)
    assert "It goes to you by post after that" in posted["index.html"].decode()


def test_the_shops_own_words_run_as_they_are_written_in_any_language(monkeypatch):
    """English words on an Arabic proof: else their full stops stand at the wrong end."""
    papers = []
    monkeypatch.setattr(
        sys.modules["proofgen.proof.build"],
        "html_to_pdf",
        lambda ways, *_, **__: papers.append(ways[0](0.0)),
    )
    sample = content(paying="You pay in cash.", house_words="ندفع نقدًا.")
    pdf_of(sample, Theme("quay", "ar", "EUR"))
    page = build(sample, Theme("quay", "ar", "EUR"), with_pdf=False)["index.html"].decode()
    for html in (page, papers[0]):
        assert '<div class="paying" dir="ltr"><p>You pay in cash.</p>' in html
    assert '<div dir="rtl"><p>ندفع نقدًا.</p>' in page
    assert '<bdi class="whole" dir="ltr">hello@ternrow.example</bdi>' in papers[0]
