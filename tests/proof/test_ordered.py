"""What a customer ordered, beside what is printed: on the page, and on paper."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Page

from proofgen.proof.build import build, pdf_of
from proofgen.proof.content import Ordered
from proofgen.proof.ordered import ordered_of
from proofgen.render import Theme
from proofgen.say.tongue import Tongue
from proofgen.shop import read_shop
from proofgen.signoff.order_slip import slips_in
from tests.order_slips import GOOD, order_slip
from tests.page_checkers import axe_faults
from tests.proof.opened import written
from tests.proof.sample import content

CONTENT = Path(__file__).resolve().parents[2] / "content"
ORDERED = Ordered(
    day=date(2026, 11, 25),
    design="Harbour photo",
    blank="Can wrap, linen-look",
    cloth="white",
    quantity=2,
    words=(("name on the sail", ("Odalyss & Bram",)), ("line", ("for Ida", "for <b>Jon</b>"))),
    note="Please wrap\nthem as gifts.",
)


def test_a_slip_is_told_in_names_that_customers_read() -> None:
    shop = read_shop(CONTENT)
    (slip,) = slips_in(order_slip())
    assert slip
    told = ordered_of(slip, shop, Tongue("de"))
    assert told["day"] == "2026-11-25" and told["quantity"] == 2
    assert told["design"] == shop.designs["harbour-photo"].title
    assert told["cloth"] == "Weiß" and told["blank"] != slip["blank"]
    assert [one["texts"] for one in told["words"]] == [[text] for text in GOOD["words"].values()]
    assert told.get("note") == GOOD["note"]
    (listed,) = slips_in(
        order_slip(words=None, lists={"line": ["a", "b"]}, blank="gone", note=None)
    )
    assert listed
    told = ordered_of(listed, shop, Tongue())
    assert told["blank"] == "gone" and "note" not in told
    assert [one["texts"] for one in told["words"]] == [["a", "b"]]


def test_the_page_shows_it_and_a_page_without_it_is_as_it_was(theme: Theme) -> None:
    bare = content(names=("Odalys",))
    page = build(replace(bare, ordered=ORDERED), theme, with_pdf=False)["index.html"].decode()
    part = page.partition('<details class="as-ordered" open>')[2].partition("</details>")[0]
    for said in (
        "What you ordered on 25 November 2026",
        "2 pieces: Harbour photo on Can wrap, linen-look, white",
        "Name on the sail",
        "Odalyss &amp; Bram",
        "<li><bdi>for &lt;b&gt;Jon&lt;/b&gt;</bdi></li>",
        "Please wrap\nthem as gifts.",
    ):
        assert said in part, said
    without = build(bare, theme, with_pdf=False)["index.html"].decode()
    assert "as-ordered" not in without.replace(".as-ordered", "")
    many = replace(ORDERED, words=(("line", tuple(f"Guest {n}" for n in range(300))),))
    page = build(replace(bare, ordered=many), theme, with_pdf=False)["index.html"].decode()
    assert '<details class="as-ordered"><summary>' in page, "a long list is opened when wanted"


@pytest.mark.browser
@pytest.mark.parametrize("name", ["quay", "kite"])
def test_axe_finds_nothing_and_nothing_sticks_out(
    visit: Callable[..., Page], tmp_path: Path, name: str
) -> None:
    long = replace(ORDERED, words=(("line", ("W" * 200, "x")), ("name", ("Zoë",))))
    page_of = written(replace(content(names=("Odalys",)), ordered=long), Theme(name), tmp_path)
    page = visit(page_of, viewport={"width": 320, "height": 800}, bypass_csp=True)
    assert page.is_visible(".ordered") and axe_faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
def test_the_paper_shows_the_same(theme: Theme) -> None:
    made = pdf_of(replace(content(names=("Odalys",)), ordered=ORDERED), theme)
    said = subprocess.run(["pdftotext", "-", "-"], input=made, capture_output=True, check=True)
    words = " ".join(said.stdout.decode().split())
    for text in ("What you ordered on 25 November 2026", "Odalyss & Bram", "Please wrap them"):
        assert text in words, text
