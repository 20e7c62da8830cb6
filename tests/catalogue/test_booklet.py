"""The season as a booklet: everything is in it, and its contents name the right pages."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from proofgen.catalogue import PDF_NAME, build
from proofgen.catalogue.booklet import printed, season_sheets
from proofgen.catalogue.shared import occasions
from proofgen.render import Theme
from tests.catalogue.season import KNIT, QUAY, TILE, entry, offer, season
from tests.unpacked import unpacked

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no poppler here")


@pytest.fixture(scope="module")
def theme() -> Theme:
    return Theme("quay", "en", "EUR")


@pytest.fixture(scope="module")
def booklet(theme: Theme) -> bytes:
    return build(season(), theme)[PDF_NAME]


@pytest.fixture(scope="module")
def leaves(booklet: bytes, tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The words of each page, in order."""
    file = tmp_path_factory.mktemp("booklet") / "a.pdf"
    file.write_bytes(booklet)
    done = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, check=True)
    return [" ".join(leaf.split()) for leaf in done.stdout.decode().split("\f")[:-1]]


@needs_poppler
def test_the_contents_name_the_page_of_every_design(leaves: list[str]) -> None:
    contents = leaves[1]
    for one in (QUAY, KNIT, TILE):
        (where,) = re.findall(rf"{one.title}[ .]+(\d+)", contents)
        leaf = leaves[int(where) - 1]
        assert f"{one.title} " in leaf and f"{one.title} is set in two inks." in leaf
    (where,) = re.findall(r"Prices[ .]+(\d+)", contents)
    assert leaves[int(where) - 1].startswith("Prices")


@needs_poppler
def test_every_design_has_a_page_and_every_price_is_listed(leaves: list[str]) -> None:
    for one in (QUAY, KNIT, TILE):
        assert sum(f"{one.title} is set in two inks." in leaf for leaf in leaves) == 1
    listed = leaves[-1]
    assert "Quay photo 1 4+ 6+ 12+ Linen wrap €14.50 €14.50 €13.00 €11.80" in listed
    for said in ("Slim wrap €15.25", "Sail patch €9.00 €8.10", "Round tile €6.50"):
        assert said in listed
    assert "hello@pierhead.example" in leaves[1] and "How to order" in leaves[1]


@needs_poppler
def test_what_a_photo_needs_is_said_where_there_is_one(leaves: list[str]) -> None:
    quay = next(leaf for leaf in leaves if "Quay photo is set" in leaf)
    assert "Enough pixels" in quay and quay.count("1,985 × 882") == 3
    assert "pixels" not in next(leaf for leaf in leaves if "Knitted cup is set" in leaf)


@needs_poppler
def test_the_index_finds_designs_by_occasion(leaves: list[str]) -> None:
    found = {leaf.split(" is set")[0]: n for n, leaf in enumerate(leaves, 1) if "is set" in leaf}
    by_title = {t: n for t in (QUAY.title, KNIT.title) for s, n in found.items() if t in s}
    assert f"winter {KNIT.title} {by_title[KNIT.title]}" in leaves[-1]
    assert f"wedding {QUAY.title} {by_title[QUAY.title]}, {TILE.title}" in leaves[-1]
    assert [one.name for one in occasions(season())] == ["gift", "wedding", "winter"]


def test_it_is_a_small_booklet_that_names_nobody(booklet: bytes) -> None:
    with pikepdf.open(io.BytesIO(booklet)) as document:
        assert document.docinfo["/Title"] == "Spring at the pierhead, Pierhead Press"
        assert "/Author" not in document.docinfo
        for leaf in document.pages:  # ISO 216: A5 is 148 x 210 mm
            box = [float(n) * 25.4 / 72 for n in leaf.mediabox]
            assert box[2:] == pytest.approx([148, 210], abs=0.05)
    plain = unpacked(booklet)
    assert b"Pierhead Press" in plain  # so a name would be seen
    for trace in (b"file:", b"page.invalid", str(Path.cwd()).encode()):
        assert trace not in plain


def test_a_page_shows_other_constructions_before_other_sides() -> None:
    assert [p.caption for p in printed(QUAY)] == ["Linen wrap", "Sail patch", "Left side"]
    assert [p.caption for p in printed(KNIT)] == ["Linen wrap", "Left side", "Right side"]
    assert [p.caption for p in printed(TILE)] == ["Round tile"]


def test_its_pictures_are_those_it_names(theme: Theme) -> None:
    page, plates = season_sheets(season(), theme)
    assert set(re.findall(r'src="([^"]+)"', page)) == set(plates)


@needs_poppler
def test_hostile_words_are_printed_as_they_are(theme: Theme, tmp_path: Path) -> None:
    bad = "<script>x</script><img src='file:///etc/passwd'>"
    one = entry("bad", bad, offer(bad, name=bad), text="![p](https://evil.example/p.png) **so**")
    made = build(season((one,), title=bad), theme)
    (tmp_path / "a.pdf").write_bytes(made[PDF_NAME])
    done = subprocess.run(["pdftotext", tmp_path / "a.pdf", "-"], capture_output=True, check=True)
    said = "".join(done.stdout.decode().split())
    assert said.count(bad.replace(" ", "")) >= 4
    assert "root:" not in said and b"evil.example" not in unpacked(made[PDF_NAME])


def test_without_the_booklet_no_page_offers_it(theme: Theme, booklet: bytes) -> None:
    bare = build(season(), theme, with_pdf=False)
    assert PDF_NAME not in bare and PDF_NAME.encode() not in bare["index.html"]
    kept: dict[str, bytes] = {}
    made = build(season(), theme, remember=lambda page, make: kept.setdefault(page, booklet))
    assert made[PDF_NAME] is booklet and len(kept) == 1
    assert f'href="{PDF_NAME}"'.encode() in made["index.html"]


@needs_poppler
@pytest.mark.parametrize("pieces", range(1, 7))
@pytest.mark.parametrize("name", ["Linen wrap", "Flat pouch of a long name, linen-look"])
def test_a_table_stands_whole_on_one_page(pieces: int, name: str, tmp_path: Path) -> None:
    """Its pictures give way, and no row stands alone on a page."""
    shades = tuple((f"Midnight {n}", "#102030") for n in range(5))
    steps = ((1, "14.00"), (6, "12.50"), (12, "11.00"))
    offers = [
        replace(offer("Card", f"b{n}", f"{name} {n}", prices=steps), cloths=shades)
        for n in range(pieces)
    ]
    words = "A garland hangs above your picture, and a card below it carries a name. " * 3
    made = build(season((entry("card", "Card", *offers, text=words),)), Theme("kite", "de"))
    (tmp_path / "a.pdf").write_bytes(made[PDF_NAME])
    done = subprocess.run(["pdftotext", tmp_path / "a.pdf", "-"], capture_output=True, check=True)
    leaves = done.stdout.decode().split("\f")
    rows = [found for leaf in leaves[2:] if (found := leaf.count("Midnight 0"))]
    assert rows == [pieces]
    if pieces <= 2:  # more of them, with such names and colours, need a page of their own
        assert "garland" in leaves[2] and "Midnight 0" in leaves[2]
