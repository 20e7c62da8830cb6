"""A long list: every piece is on the page and on paper, those set differently first."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pikepdf
import pytest

from proofgen.proof.content import Piece
from proofgen.proof.pieces import in_order
from proofgen.say.tongue import Tongue
from tests.whole.running import copy_of_demo, inside, page_of

COUNT = 70  # more than were once shown
LONG = {5, 66}


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of an order with a list of names, two of them too long for their place."""
    shop = copy_of_demo(tmp_path_factory.mktemp("list") / "shop", "quill-wedding")
    settings = (shop / "shop.yaml").read_text("utf-8")
    (shop / "shop.yaml").write_text(settings.replace("ppi: 150", "ppi: 72"), "utf-8")
    order = shop / "orders" / "quill-wedding"
    text = (order / "order.yaml").read_text("utf-8")
    (order / "order.yaml").write_text(text.replace("quantity: 8", f"quantity: {COUNT}"), "utf-8")
    with (order / "guests.csv").open("w", encoding="utf-8", newline="") as file:
        rows = [
            [f"Anneliese-Wilhelmina von {n}" if n in LONG else f"Guest {n}"]
            for n in range(1, COUNT + 1)
        ]
        csv.writer(file).writerows([["guest"], *rows])
    inside(shop, "proof", "quill-wedding")
    return page_of(shop, "quill-wedding")


def test_all_are_pictured_and_the_unusual_stand_first(page: Path) -> None:
    section = re.search(r'<section id="pieces">.*?</section>', page.read_text("utf-8"), re.DOTALL)
    assert section
    numbers = [int(n) for n in re.findall(r"<b class=\"number\">(\d+)</b>", section[0])]
    assert set(numbers[:2]) == LONG
    assert sorted(numbers) == list(range(1, COUNT + 1))
    assert section[0].count("Set smaller than the others") == len(LONG)
    pictures = re.findall(r'<img src="([^"]+)"', section[0])
    assert len(set(pictures)) == COUNT
    assert all((page.parent / name).is_file() for name in pictures)


def test_the_paper_shows_them_too(page: Path) -> None:
    (paper,) = page.parent.glob("*.pdf")
    with pikepdf.open(io.BytesIO(paper.read_bytes())) as document:
        drawn = {image.objgen for sheet in document.pages for image in sheet.get_images().values()}
    assert len(drawn) >= COUNT


@pytest.mark.parametrize(("differ", "first"), [(2, 7), (3, 1)], ids=["few", "many"])
def test_more_than_a_quarter_are_no_exceptions(differ: int, first: int) -> None:
    pieces = [
        Piece(pieces=(n,), numbers=str(n), faces=(), differs="Smaller." if n > 8 - differ else "")
        for n in range(1, 9)
    ]
    told, says = in_order(pieces, Tongue())
    assert told[0].pieces == (first,) and len(told) == 8
    assert bool(says) is (differ == 3) and any(piece.differs for piece in told) is (differ == 2)
