"""PDFs: closed to everything outside, repeatable, tagged, without a word about the machine."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageFile

from proofgen.errors import MachineError, ProofgenError
from proofgen.render import html_to_pdf, set_once
from proofgen.render import pdf as pdf_room
from proofgen.render.systems import line_for
from proofgen.store import NoStore
from tests.unpacked import unpacked

HERE = Path(__file__).parents[2]
PAGE = """<!DOCTYPE html><html lang="en"><head><title>x</title><style>{css}</style></head>
<body><h1>Proof</h1><p>{body}</p></body></html>"""


def page(body: str = "Words", css: str = "") -> str:
    return PAGE.format(body=body, css=css)


def jpeg() -> bytes:
    stream = io.BytesIO()
    Image.effect_mandelbrot((64, 48), (-2, -1, 1, 1), 40).convert("RGB").save(stream, "JPEG")
    return stream.getvalue()


def test_pictures_come_from_the_given_files_byte_for_byte() -> None:
    data = jpeg()
    made = html_to_pdf(page('<img src="a b.jpg" alt="A">'), {"a b.jpg": data}, page_title="T")
    with pikepdf.open(io.BytesIO(made)) as document:
        image = next(iter(document.pages[0].get_images().values()))
        assert image.read_raw_bytes() == data


def test_packaged_fonts_are_found_by_name() -> None:
    css = '@font-face{font-family:"S";src:url("fonts/Source Serif Pro")} body{font-family:"S"}'
    made = html_to_pdf(page(css=css), {}, page_title="T")
    with pikepdf.open(io.BytesIO(made)) as document:
        fonts = document.pages[0].Resources.Font.values()
        names = {str(font.BaseFont).partition("+")[2] for font in fonts}
    assert names == {"S", "S-Bold"}  # the heading is the same face, made bolder


def test_a_name_of_a_font_holds_for_its_page_alone() -> None:
    """Two themes in one process: the text of the second was set in the first one's typeface."""
    face = '@font-face{{font-family:"House";src:url("fonts/{}")}} body{{font-family:"House"}}'
    kinds = []
    for font in ("Manrope", "Source Serif Pro", "Manrope"):
        made = html_to_pdf(page(css=face.format(font)), {}, page_title="T")
        with pikepdf.open(io.BytesIO(made)) as document:
            first = next(iter(document.pages[0].Resources.Font.values()))
            kinds.append(
                {"/FontFile2", "/FontFile3"} & set(first.DescendantFonts[0].FontDescriptor)
            )
    assert kinds == [{"/FontFile2"}, {"/FontFile3"}, {"/FontFile2"}], "TrueType, then CFF"


@pytest.mark.parametrize(
    ("body", "css"),
    [
        ('<img src="https://tracker.example/p.png" alt="">', ""),
        ('<img src="file:///etc/passwd" alt="">', ""),
        ('<img src="data:image/svg+xml,%3Csvg xmlns=%22http://www.w3.org/2000/svg%22/%3E">', ""),
        ('<img src="not-given.jpg" alt="">', ""),
        ('<img src="../../etc/passwd" alt="">', ""),
        ('<link rel="stylesheet" href="https://a.example/x.css">', ""),
        ('<link rel="attachment" href="file:///etc/hostname">', ""),
        ('<svg width="9" height="9"><image href="http://a.example/b.png"/></svg>', ""),
        ("x", "@import url(https://a.example/x.css);"),
        ("x", "body{background:url(https://a.example/x.png)}"),
        ("x", "@font-face{font-family:F;src:url(https://a.example/f.ttf)} body{font-family:F}"),
        ("x", '@font-face{font-family:F;src:url("fonts/../../x")} body{font-family:F}'),
    ],
)  # fmt: skip
def test_nothing_else_is_reached(body: str, css: str) -> None:
    with pytest.raises(ProofgenError, match="was not made"):
        html_to_pdf(page(body, css), {}, page_title="T")


def test_a_warning_is_a_fault() -> None:
    with pytest.raises(ProofgenError, match="colour-of-the-sea"):
        html_to_pdf(page(css="p{color:colour-of-the-sea}"), {}, page_title="T")


@pytest.mark.parametrize("body", ["'<div>' * 3000", "'<table><tr><td colspan=2000000000>x'"])
def test_sizes_beyond_reason_get_a_plain_refusal(body: str) -> None:
    # In a child with 3 GB, so that the refusal is the page's and not the machine's.
    program = (
        "import resource; resource.setrlimit(resource.RLIMIT_AS, (3 << 30, 3 << 30))\n"
        "from proofgen.errors import ProofgenError\n"
        "from tests.render.test_pdf import page, html_to_pdf\n"
        f"try: html_to_pdf(page({body}), {{}}, page_title='T')\n"
        "except ProofgenError as error: print(error.problem)"
    )
    said = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, cwd=HERE)
    assert "was not made" in said.stdout


def test_letters_without_a_font_are_told_and_not_drawn_as_boxes() -> None:
    with pytest.raises(MachineError, match=r"U\+10FFFD"):
        html_to_pdf(page("\U0010fffd"), {}, page_title="T")


def test_same_page_same_bytes() -> None:
    html, files = page('<img src="a.jpg" alt="A">'), {"a.jpg": jpeg()}
    first = html_to_pdf(html, files, page_title="T")
    program = (
        "import sys; from tests.render.test_pdf import *; sys.stdout.buffer.write("
        """html_to_pdf(page('<img src="a.jpg" alt="A">'), {"a.jpg": jpeg()}, page_title="T"))"""
    )
    other = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=True, cwd=HERE
    )
    assert first == other.stdout


def test_the_pdf_is_tagged_and_says_nothing_about_who_or_where() -> None:
    html = page("x").replace("<title>", '<meta name="author" content="Somebody"><title>')
    made = html_to_pdf(html, {}, page_title="Proof 2")
    with pikepdf.open(io.BytesIO(made)) as document:
        assert document.docinfo["/Title"] == "Proof 2"
        assert set(document.docinfo.keys()) <= {"/Title", "/Producer"}
        assert document.Root.MarkInfo.Marked
        assert str(document.Root.Lang) == "en"
    for trace in (b"Somebody", str(Path.cwd()).encode(), b"file:", b"page.invalid"):
        assert trace not in unpacked(made)
    assert not re.search(rb"/(?:CreationDate|ModDate|ID)\b", made)


def test_pillow_stays_strict_after_the_engine_is_loaded() -> None:
    html_to_pdf(page(), {}, page_title="T")
    assert ImageFile.LOAD_TRUNCATED_IMAGES is False
    with pytest.raises(OSError, match="truncated"):
        Image.open(io.BytesIO(jpeg()[:-400])).load()


@pytest.mark.parametrize("lacking", ["ImportError('weasyprint')", "OSError('no libpango-1.0')"])
def test_without_the_engine_one_line_says_what_to_install(
    lacking: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (tmp_path / "weasyprint.py").write_text(
        f"print('the engine’s own page')\nraise {lacking}\n", "utf-8"
    )
    monkeypatch.syspath_prepend(tmp_path)
    for name in [n for n in sys.modules if n.partition(".")[0] == "weasyprint"]:
        monkeypatch.delitem(sys.modules, name)
    pdf_room._engine.cache_clear()
    try:
        assert pdf_room.pdf_ready() is False
        with pytest.raises(MachineError) as caught:
            html_to_pdf(page(), {}, page_title="T")
    finally:
        pdf_room._engine.cache_clear()
    assert "the engine’s own page" not in capsys.readouterr().out  # which it prints each time
    assert caught.value.cure == line_for("pango")
    assert caught.value.exit_code == 5


def test_importing_the_room_does_not_load_the_engine() -> None:
    program = "import sys, proofgen.render, proofgen.proof; print('weasyprint' in sys.modules)"
    said = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=True, text=True
    )
    assert said.stdout.strip() == "False"


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_words_can_be_read_out_again(tmp_path: Path) -> None:
    file = tmp_path / "a.pdf"
    file.write_bytes(html_to_pdf(page("Zoë Nguyễn-O’Neil"), {}, page_title="T"))
    said = subprocess.run(["pdftotext", file, "-"], capture_output=True, check=True, text=True)
    assert "Zoë Nguyễn-O’Neil" in said.stdout


@pytest.mark.parametrize(
    ("letters", "package"),
    [
        ("U+6F22", "fonts-noto-cjk"),  # 漢
        ("U+D55C", "fonts-noto-cjk"),  # 한
        ("U+1F600", "fonts-noto-color-emoji"),
        ("U+0E17", "fonts-noto"),  # ท
    ],
)
def test_the_cure_names_the_package_that_has_the_letter(letters: str, package: str) -> None:
    refusal = pdf_room._warned(
        [f".notdef glyph rendered for Unicode string unsupported ({letters})"]
    )
    assert letters in refusal.problem and f"sudo apt install {package})" in refusal.cure
    assert refusal.exit_code == 5


class _Kept(NoStore):
    """A store in memory."""

    def __init__(self) -> None:
        super().__init__()
        self.entries: dict[tuple[str, str], bytes] = {}

    def recall(self, kind: str, key: str) -> bytes | None:
        return self.entries.get((kind, key))

    def keep(self, kind: str, key: str, content: bytes) -> None:
        self.entries[kind, key] = content


def test_a_page_is_set_once_and_anew_where_anything_of_it_changes() -> None:
    kept, made = _Kept(), list[str]()

    def set_it(html: str, files: dict[str, bytes]) -> bytes:
        def make() -> bytes:
            made.append(html)
            return b"%PDF " + html.encode() + b"".join(files.values())

        return set_once(kept, html, files, make)

    first = set_it("a", {"one.jpg": b"1"})
    assert set_it("a", {"one.jpg": b"1"}) == first and len(made) == 1
    for html, files in (
        ("b", {"one.jpg": b"1"}),
        ("a", {"one.jpg": b"2"}),
        ("a", {"two.jpg": b"1"}),
    ):
        assert set_it(html, files) == b"%PDF " + html.encode() + b"".join(files.values())
    assert len(made) == 4
    assert set_once(None, "a", {}, lambda: b"x") == b"x"
