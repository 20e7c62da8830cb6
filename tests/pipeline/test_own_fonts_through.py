"""A shop's own font through the whole path; and letters that no font of the PDF has."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from proofgen.errors import MachineError
from proofgen.render import html_to_pdf
from tests.cli.small import make_shop, page, reword, run, state
from tests.made_fonts import made_font, put_font

LETTER = "\U0001e290"  # Toto letter pa, of Unicode 14: no packaged font has it, hardly any system


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop whose tag is set in a font of its own."""
    shop = make_shop(tmp_path / "shop", "fenn")
    design = shop / "designs" / "tag" / "design.md"
    design.write_text(design.read_text("utf-8").replace("font: Caladea", "font: Demo Blocks"))
    put_font(shop, made_font("OdalysBrm& Puffin" + LETTER))
    return shop


def test_a_font_of_the_shop_is_used_and_signed(shop: Path) -> None:
    run(shop, "check", "fenn").ended(0)
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    assert state(shop, "fenn")["state"] == "signed"
    # The same letters drawn otherwise: the sign-off no longer holds.
    put_font(shop, made_font("OdalysBrm& Puffin" + LETTER, height=400))
    assert state(shop, "fenn")["state"] == "voided"
    run(shop, "press", "fenn").ended(4)


def test_a_letter_the_font_lacks_is_named(shop: Path) -> None:
    reword(shop, "fenn", "Zoë")
    told = run(shop, "check", "fenn").ended(1)
    assert "Demo Blocks has no “Z” (latin capital letter z, U+005A)" in " ".join(told.out.split())


def test_a_font_that_went_or_broke_is_told_at_the_designs_line(shop: Path) -> None:
    file = shop / "fonts" / "blocks.ttf"
    file.unlink()
    told = run(shop, "check", "fenn").ended(3)
    assert "no font called “Demo Blocks”" in told.err and "folder fonts/" in told.err
    file.write_bytes(made_font("OdalysBrm&", units=16, height=30_000))
    told = run(shop, "check", "fenn").ended(3)
    assert "designs/tag/design.md:8" in told.err and "far larger" in told.err
    file.write_bytes(b"no font")
    told = run(shop, "check", "fenn").ended(3)
    assert "fonts/blocks.ttf" in told.err and "not a TrueType or OpenType font" in told.err


def test_without_a_font_for_the_pdf_the_page_is_made_all_the_same(shop: Path) -> None:
    assert unicodedata.category(LETTER) == "Lo"
    try:
        html_to_pdf(f"<title>x</title><html lang=en><p>{LETTER}</p></html>", {}, page_title="x")
    except MachineError:
        pass
    else:
        pytest.skip("a font of this machine has the letter")
    reword(shop, "fenn", f"Od {LETTER}")
    told = run(shop, "proof", "fenn").ended(5)
    assert "U+1E290" in told.err and "sudo apt install fonts-noto" in told.err
    assert "fenn: proof 1 is at" in told.out
    assert LETTER in page(shop, "fenn")
    assert not list((shop / "site").rglob("*.pdf"))
    assert state(shop, "fenn")["state"] == "ready"
    # The next run tries the PDF again, and says so again, without another edition.
    again = run(shop, "build").ended(5)
    assert "U+1E290" in again.err
    assert state(shop, "fenn")["edition"] == 1
