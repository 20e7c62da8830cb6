"""Press sheets: the mirror, the very pixels, their place and size, and the page's boxes."""

from __future__ import annotations

import io
import re
import subprocess
import tempfile
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from PIL import Image, ImageCms
from scipy import ndimage

from proofgen.artwork.rasters import read_raster
from proofgen.model import Printer
from proofgen.press.sheet import as_on_paper, mirrored, packed
from proofgen.render.fonts import find_font
from tests.press.conftest import (
    MADE,
    make,
    make_blank,
    make_job,
    make_layout,
    make_shop,
    names,
)
from tests.unpacked import unpacked

INKS = {letter: (40 * index, 255 - 30 * index, 17 * index) for index, letter in enumerate("ABCDEF")}


def picture(rows: str) -> Image.Image:
    """Letters to pixels, one letter one ink."""
    lines = rows.split()
    image = Image.new("RGB", (len(lines[0]), len(lines)))
    image.putdata([INKS[letter] for line in lines for letter in line])
    return image


def letters(image: Image.Image) -> str:
    back = {ink: letter for letter, ink in INKS.items()}
    flat = "".join(back[pixel] for pixel in map(tuple, np.asarray(image).reshape(-1, 3).tolist()))
    return " ".join(flat[i : i + image.width] for i in range(0, len(flat), image.width))


def test_mirror() -> None:
    assert letters(mirrored(picture("ABC DEF"))) == "CBA FED"


def test_mirror_then_turn() -> None:
    assert letters(as_on_paper(picture("ABC DEF"), turned=False)) == "CBA FED"
    # CBA over FED, turned a quarter clockwise. (Turn, then mirror, would be AD BE CF.)
    assert letters(as_on_paper(picture("ABC DEF"), turned=True)) == "FC EB DA"


PIXELS = hnp.arrays(np.uint8, st.tuples(st.integers(1, 9), st.integers(1, 9), st.just(3)))


@given(PIXELS)
def test_mirror_twice_is_nothing(pixels: np.ndarray) -> None:
    image = Image.fromarray(pixels)
    assert mirrored(mirrored(image)).tobytes() == image.tobytes()


@given(PIXELS)
def test_packed_pixels_come_back(pixels: np.ndarray) -> None:
    # The judge is the PDF library's own reading of PNG row filters.
    ink = packed(Image.fromarray(pixels))
    with pikepdf.new() as pdf:
        stream = pikepdf.Stream(pdf, b"")
        parms = pikepdf.Dictionary(Predictor=15, Colors=3, BitsPerComponent=8, Columns=ink.width)
        stream.write(ink.data, filter=pikepdf.Name.FlateDecode, decode_parms=parms)
        assert stream.read_bytes() == pixels.tobytes()
    assert (ink.height, ink.width) == pixels.shape[:2]


def wraps(count: int = 1, **blank: object):
    layout = make_layout(make_blank("wrap", shrink=(0.01, 0.005), **blank))
    return make_job("fenn-wedding", (layout, names(*["Odalys & Bram"] * count)))


def images_in(pdf: bytes, folder: Path) -> list[Image.Image]:
    """What pdfimages (poppler) finds in a PDF."""
    (folder / "sheet.pdf").write_bytes(pdf)
    subprocess.run(["pdfimages", "-png", "sheet.pdf", "found"], cwd=folder, check=True)
    found = []
    for path in sorted(folder.glob("found-*.png")):
        with Image.open(path) as opened:
            found.append(opened.convert("RGB"))
    return found


@pytest.mark.parametrize("construction", ["wrap", "fold", "sewn", "flat"])
def test_the_signed_pixels_mirrored_byte_for_byte(construction: str, theme, tmp_path: Path) -> None:
    job = make_job("fenn-wedding", (make_layout(make_blank(construction)), names("Ada")))
    run = make([job], make_shop(), theme, made=MADE)
    found, wanted = [], []
    for number, sheet in enumerate(run.document["sheets"]):
        folder = tmp_path / str(number)
        folder.mkdir()
        found += images_in(run.files[sheet["file"]], folder)
        for piece in sheet["pieces"]:
            signed = np.asarray(read_raster(job.rasters[piece["raster"]]))
            flat = signed[:, ::-1]  # left and right changed over, by index
            wanted.append(np.rot90(flat, -1) if piece["turned"] else flat)
    assert len(found) == len(wanted) == (2 if construction == "sewn" else 1)
    for got, want in zip(found, wanted, strict=True):
        assert got.size == (want.shape[1], want.shape[0])
        assert got.tobytes() == np.ascontiguousarray(want).tobytes()


def drawn_pictures(page: pikepdf.Page) -> list[tuple[float, float, float, float]]:
    """Each picture's rectangle in mm from the page's top left, from the content stream itself."""
    found, matrix = [], None
    high = float(page.MediaBox[3])
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "cm":
            matrix = [float(v) for v in operands]
        elif str(operator) == "Do" and str(operands[0]).startswith("/Ink"):
            assert matrix is not None
            across, b, c, down, x, y = matrix
            assert b == c == 0
            found.append(tuple(v * 25.4 / 72 for v in (x, high - y - down, across, down)))
    return found


SCALES = [(1.0, 1.0), (0.985, 1.01)]


@pytest.mark.parametrize(("construction", "scale"), [("wrap", SCALES[1]), ("sewn", SCALES[0])])
def test_place_and_size_on_the_page(construction: str, scale: tuple[float, float], theme) -> None:
    layout = make_layout(make_blank(construction, shrink=(0.02, 0.01)))
    job = make_job("fenn-wedding", (layout, names("Ada")), ppi=300)
    shop = make_shop(printer=Printer(ppi=300, scale=scale))
    run = make([job], shop, theme, made=MADE)
    raw = {"wrap": (240, 100), "sewn": (100, 105)}[construction]
    for sheet in run.document["sheets"]:
        with pikepdf.open(io.BytesIO(run.files[sheet["file"]])) as pdf:
            drawn = drawn_pictures(pdf.pages[0])
        for piece, rect in zip(sheet["pieces"], drawn, strict=True):
            # Raw blank and finished bleed of 6 mm undone by the shrink, in the blank's axes; then
            # the printer's scale, in the page's.
            ink = (raw[0] + 12 / 0.98, raw[1] + 12 / 0.99)
            across, down = (ink[1], ink[0]) if piece["turned"] else ink
            across, down = across / scale[0], down / scale[1]
            assert rect[2:] == pytest.approx((across, down), abs=0.1)
            said = [piece[key] for key in ("x_mm", "y_mm", "width_mm", "height_mm")]
            assert rect == pytest.approx(said, abs=0.1)
            # Where the excess pixel may not lie, the edges agree to the printed digit.
            assert rect[0] + rect[2] == pytest.approx(said[0] + said[2], abs=0.002)
            assert said[2:] == pytest.approx((across, down), abs=0.001)


def boxes(pdf: bytes) -> dict[str, list[float]]:
    """Page boxes in mm, as left, bottom, right, top."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        page = opened.pages[0]
        return {
            key: [float(v) * 25.4 / 72 for v in page.obj[f"/{key}"]]
            for key in ("MediaBox", "TrimBox", "BleedBox")
        }


def test_boxes_of_a_single_piece(theme) -> None:
    job = wraps()
    run = make([job], make_shop(), theme, made=MADE)
    (sheet,) = run.document["sheets"]
    found = boxes(run.files[sheet["file"]])
    assert found["MediaBox"] == pytest.approx([0, 0, 210, 297], abs=0.001)
    (piece,) = sheet["pieces"]
    assert piece["turned"]
    trim = found["TrimBox"]
    # The blank is 240 × 100, turned: 100 across, 240 down.
    assert (trim[2] - trim[0], trim[3] - trim[1]) == pytest.approx((100, 240), abs=0.001)
    bleed = found["BleedBox"]
    assert trim[0] - bleed[0] == pytest.approx(6 / 0.995, abs=0.001)
    assert trim[1] - bleed[1] == pytest.approx(6 / 0.99, abs=0.001)
    assert bleed[0] == pytest.approx(piece["x_mm"], abs=0.001)
    assert 297 - bleed[3] == pytest.approx(piece["y_mm"], abs=0.001)


def test_boxes_of_several_pieces(theme) -> None:
    layout = make_layout(make_blank("flat", width_mm=60.0, height_mm=40.0))
    job = make_job("fenn-wedding", (layout, names("Ada", "Bo", "Cy", "Di")))
    run = make([job], make_shop(), theme, made=MADE)
    (sheet,) = run.document["sheets"]
    found = boxes(run.files[sheet["file"]])
    pieces = sheet["pieces"]
    ink = [
        min(p["x_mm"] for p in pieces),
        297 - max(p["y_mm"] + p["height_mm"] for p in pieces),
        max(p["x_mm"] + p["width_mm"] for p in pieces),
        297 - min(p["y_mm"] for p in pieces),
    ]
    assert found["BleedBox"] == pytest.approx(ink, abs=0.002)
    # No shrink here: every bleed is 6 mm.
    trim = [ink[0] + 6, ink[1] + 6, ink[2] - 6, ink[3] - 6]
    assert found["TrimBox"] == pytest.approx(trim, abs=0.002)


def test_a_picture_used_often_is_stored_once(theme) -> None:
    layout = make_layout(make_blank("flat", width_mm=60.0, height_mm=40.0))
    job = make_job("fenn-wedding", (layout, names(*["Ada"] * 4)))
    run = make([job], make_shop(), theme, made=MADE)
    (sheet,) = run.document["sheets"]
    assert len(sheet["pieces"]) == 4
    with pikepdf.open(io.BytesIO(run.files[sheet["file"]])) as pdf:
        kept = [
            o
            for o in pdf.objects
            if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"
        ]
        assert len(drawn_pictures(pdf.pages[0])) == 4
    assert len(kept) == 1


def words_on(pdf: bytes, tmp_path: Path) -> str:
    (tmp_path / "sheet.pdf").write_bytes(pdf)
    told = subprocess.run(
        ["pdftotext", "-layout", "sheet.pdf", "-"],
        cwd=tmp_path, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return " ".join(told.stdout.split())


SCALE = (0.98, 1.01)


@pytest.fixture(scope="module")
def furnished(theme):
    """A sheet with three small pieces, for a printer that is off both ways: bytes and document."""
    layout = make_layout(make_blank("flat", width_mm=60.0, height_mm=40.0))
    job = make_job("fenn-wedding", (layout, names("Ada", "Bo", "Cy")))
    shop = make_shop(printer=Printer(ppi=30, scale=SCALE, profile="Harbour matt 2"))
    run = make([job], shop, theme, made=MADE)
    (sheet,) = run.document["sheets"]
    return run.files[sheet["file"]], sheet


def as_seen(pdf: bytes, ppi: int, folder: Path) -> np.ndarray:
    """The page in grey, as poppler draws it."""
    (folder / "seen.pdf").write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-r", str(ppi), "-gray", "-singlefile", "seen.pdf", "seen"],
        cwd=folder, check=True,
    )  # fmt: skip
    with Image.open(folder / "seen.pgm") as opened:
        return np.asarray(opened)


def test_what_stands_beside_the_ink(furnished, tmp_path: Path) -> None:
    said = words_on(furnished[0], tmp_path)
    for words in (
        "1 Ada",
        "2 Bo",
        "3 Cy",
        "fenn-wedding · front · ink side to the cloth",
        "196 °C 385 °F 50 s medium pressure",
        "white foam Test flat fenn-wedding 1 of 1 TOP",
        "A4. Made 25 November 2026.",
        "mirror off",
        "actual size, 100 %",
        "“Harbour matt 2”",
        "coated side",
        "The R must read backwards",
        "100 mm",
    ):
        assert words in said, words


def only_furniture(content: bytes) -> bytes:
    """The first page without its pictures."""
    drawn = io.BytesIO()
    with pikepdf.open(io.BytesIO(content)) as pdf:
        pdf.pages[0].Contents = pdf.make_stream(b"q /Drawing1 Do Q")
        pdf.save(drawn)
    return drawn.getvalue()


def test_nothing_is_drawn_over_ink_or_margin(furnished, tmp_path: Path) -> None:
    """The furniture alone, without the pictures, leaves their places and the margins white."""
    content, sheet = furnished
    dark = as_seen(only_furniture(content), 127, tmp_path) < 200  # 127 ppi: 5 px a mm
    assert dark.sum() > 1000
    for piece in sheet["pieces"]:
        left, top = round(piece["x_mm"] * 5), round(piece["y_mm"] * 5)
        right, bottom = left + round(piece["width_mm"] * 5), top + round(piece["height_mm"] * 5)
        assert not dark[top:bottom, left:right].any()
    dark[25:-25, 25:-25] = False
    assert not dark.any()  # 5 mm all round


def test_the_rulers_measure_100_mm_after_the_printers_scale(furnished, tmp_path: Path) -> None:
    dark = (as_seen(only_furniture(furnished[0]), 254, tmp_path) < 160).astype(int)  # 10 px a mm

    def longest(lines: np.ndarray) -> int:
        best = 0
        for line in lines:
            edges = np.flatnonzero(np.diff(np.concatenate(([0], line, [0]))))
            best = max(best, *(edges[1::2] - edges[::2]), 0) if edges.size else best
        return best

    # Without the pictures a ruler is the longest unbroken line: cuts are dashed. It is drawn too
    # long by what the printer makes too small.
    assert longest(dark) / 10 * SCALE[0] == pytest.approx(100, abs=0.3)
    assert longest(dark.T) / 10 * SCALE[1] == pytest.approx(100, abs=0.3)


def test_the_r_reads_backwards(furnished, tmp_path: Path) -> None:
    """An R has its straight stem at the left; on the sheet it must stand at the right."""
    dark = as_seen(only_furniture(furnished[0]), 254, tmp_path) < 128
    marks, _ = ndimage.label(dark)
    # The R is the only mark that is 11 mm high and 9 mm wide.
    (letter,) = [
        marks[at] == number
        for number, at in enumerate(ndimage.find_objects(marks), 1)
        if abs(at[0].stop - at[0].start - 110) < 3 and abs(at[1].stop - at[1].start - 92) < 6
    ]
    columns = letter.sum(axis=0)
    assert columns[-10:].min() > 100  # the stem, 11 mm high, ends the letter at the right
    assert columns[:10].max() < 100


def test_same_input_same_bytes_and_nothing_private(theme) -> None:
    first = make([wraps(2)], make_shop(), theme, made=MADE)
    second = make([wraps(2)], make_shop(), theme, made=MADE)
    assert first.files == second.files
    for name, content in first.files.items():
        with pikepdf.open(io.BytesIO(content)) as pdf:
            info = {key: str(pdf.docinfo[key]) for key in pdf.docinfo}
            assert "/Author" not in info, name
            assert "/CreationDate" not in info, name
            assert "/Metadata" not in pdf.Root or b"Odalys" not in pdf.Root.Metadata.read_bytes()
        for trace in (Path.cwd(), Path(tempfile.gettempdir()), Path.home()):
            assert str(trace).encode() not in unpacked(content), name
        title = b"Packing " if name.endswith("-packing.pdf") else b"Press "
        assert title in unpacked(content)  # a trace would be seen


def test_the_colours_are_said_to_be_srgb_and_the_file_is_whole(theme) -> None:
    """An output intent with a profile; the pictures themselves stay device RGB. The library finds
    no fault in a file whose pictures were put in while it was written."""
    run = make([wraps(6)], make_shop(), theme, made=MADE)
    (name,) = {sheet["file"] for sheet in run.document["sheets"]}
    with pikepdf.open(io.BytesIO(run.files[name])) as pdf:
        assert pdf.check_pdf_syntax() == []
        (intent,) = pdf.Root.OutputIntents
        assert str(intent.OutputConditionIdentifier) == "sRGB IEC61966-2.1"
        profile = ImageCms.ImageCmsProfile(io.BytesIO(intent.DestOutputProfile.read_bytes()))
        assert ImageCms.getProfileDescription(profile).startswith("sRGB")
        assert len(pdf.pages) == len(run.document["sheets"]) == 2
        for page in pdf.pages:
            spaces = {str(x.ColorSpace) for x in page.get_images().values()}
            assert spaces == {"/DeviceRGB"}
        kept = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and "/Width" in o]
        assert len(kept) == 1  # six equal wraps on two sheets


def sizes_of(words: str, pdf: bytes, folder: Path) -> float:
    """The type in pt of a run of words on the first page: poppler's box of a word that is not
    turned is the type's size × (ascent + descent)."""
    (folder / "type.pdf").write_bytes(pdf)
    told = subprocess.run(
        ["pdftotext", "-bbox", "-l", "1", "type.pdf", "-"],
        cwd=folder, check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    with TTFont(find_font("Manrope Bold")) as font:
        line = (font["hhea"].ascent - font["hhea"].descent) / font["head"].unitsPerEm
    boxes = re.findall(r'yMin="([\d.]+)"[^>]*yMax="([\d.]+)">([^<]*)<', told)
    best = 0.0
    for word in words.split():
        found = [float(low) - float(top) for top, low, text in boxes if text == word]
        best = min(best or 1e9, max(found) / line)
    return best


@pytest.mark.parametrize("count", [3, 12])
def test_the_band_is_read_at_arms_length(count: int, theme, tmp_path: Path) -> None:
    run = make([wraps(count)], make_shop(), theme, made=MADE)
    pdf = run.files[run.document["sheets"][0]["file"]]
    assert sizes_of("204 °C 400 °F 60 s medium pressure", pdf, tmp_path) >= 24 - 0.01
    assert sizes_of("white foam Test wrap fenn-wedding 1 of TOP", pdf, tmp_path) >= 14 - 0.01
    dark = as_seen(only_furniture(pdf), 254, tmp_path) < 128
    marks, _ = ndimage.label(dark)
    # The arrow: at least 8 mm high, widest at a third of its height, pointed at its top.
    arrows = []
    for number, at in enumerate(ndimage.find_objects(marks), 1):
        high, wide = at[0].stop - at[0].start, at[1].stop - at[1].start
        rows = (marks[at] == number).sum(axis=1)
        if high >= 80 and 40 < wide < high and rows[2] < wide / 5 and rows[-2] < wide / 2:
            arrows.append((high, rows))
    assert len(arrows) == 1
    assert 0.3 < arrows[0][1].argmax() / arrows[0][0] < 0.6
