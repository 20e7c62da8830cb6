"""The sheets of prices for a stall, read back from their PDFs by somebody else's reader."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pikepdf
import pytest

from proofgen.catalogue import PAPERS, stall_sheet
from proofgen.render import Theme, html_to_pdf, theme_names
from tests.catalogue.reading import Page
from tests.catalogue.season import KNIT, QUAY, TILE, season

MM = 72 / 25.4


@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("name", theme_names())
def test_it_is_as_large_as_its_paper(paper: str, name: str) -> None:
    page, pictures = stall_sheet(season(), Theme(name), paper)
    with pikepdf.open(io.BytesIO(html_to_pdf(page, pictures, page_title="x"))) as pdf:
        assert len(pdf.pages) == 1
        box = [float(side) for side in pdf.pages[0].mediabox]
    wide, high, _ = PAPERS[paper]
    assert box[2:] == pytest.approx([wide * MM, high * MM], abs=0.5)


def test_every_price_of_every_piece_stands_on_it() -> None:
    page, pictures = stall_sheet(season(), Theme("quay"), "a4")
    words = Page(page).words
    assert "Linen wrap 1 : €14.50 · 6+ : €13.00 · 12+ : €11.80" in words, "too many for columns"
    assert "Sail patch 1 : €9.00 · 4+ : €8.10" in words and "Round tile €6.50" in words
    assert set(re.findall(r'src="([^"]+)"', page)) == set(pictures), "each picture once"
    assert "hello@pierhead.example" in words


def test_what_is_sold_out_has_no_price() -> None:
    gone = replace(KNIT, offers=(replace(KNIT.offers[0], gone=frozenset({"white", "sky"})),))
    page, _ = stall_sheet(season((QUAY, gone, TILE)), Theme("quay"), "a5")
    words = Page(page).words
    assert "Sold out just now" in words and "€12.50" not in words


def test_sixty_designs_break_between_and_never_within() -> None:
    many = tuple(replace(QUAY, id=f"d{n}", title=f"Design {n}") for n in range(60))
    page, pictures = stall_sheet(season(many), Theme("quay"), "a5")
    with pikepdf.open(io.BytesIO(html_to_pdf(page, pictures, page_title="x"))) as pdf:
        assert 10 <= len(pdf.pages) <= 20
