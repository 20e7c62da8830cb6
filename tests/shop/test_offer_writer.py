"""An offer is put into a design's file whatever way it is written, and nothing else changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.errors import Place, ShopError
from proofgen.model import Design
from proofgen.shop.offer_writer import Offer, price_text

FORMS = {
    "in one line": ("offered: {mat: 8.00} # all\n", "offered: {mat: 8.00, wrap-2: 14.50} # all\n"),
    "in a block": (
        "offered:\n  can: {1: 12.00, 6: 10.50}\n  mat: 8.00   # hers\n\n# Its faces\n",
        "offered:\n  can: {1: 12.00, 6: 10.50}\n  mat: 8.00   # hers\n  wrap-2: 14.50\n\n"
        "# Its faces\n",
    ),
    "none yet": ("offered: {}\n", "offered: {wrap-2: 14.50}\n"),
}


def offer(folder: Path, text: str) -> Offer:
    (folder / "design.md").write_bytes(text.encode())
    place = Place("designs/snap/design.md", 1)
    design = Design(
        id="snap", title="Snap", faces={}, offered={}, text="", folder=folder, place=place
    )
    return Offer(design=design, blank="wrap-2", price=price_text("14,5", "EUR"))


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("bom", ["", "\ufeff"])
def test_only_the_offer_is_written(tmp_path: Path, form: str, end: str, bom: str) -> None:
    frame = "---\ntitle: Snap   # mine\n{}faces: {{}}\n---\n\nA photo.\n--- \nmore  \n"
    before, after = (frame.format(part).replace("\n", end) for part in FORMS[form])
    offer(tmp_path, bom + before).write()
    assert (tmp_path / "design.md").read_bytes().decode() == bom + after


def test_a_file_that_would_read_otherwise_stays_as_it_is(tmp_path: Path) -> None:
    text = "---\noffered:\n  ? mat\n  : 8.00\n  ? wrap-2\n  : {1: 9.00}\n---\n"
    with pytest.raises(ShopError, match="as it is written"):
        offer(tmp_path, text).write()
    assert (tmp_path / "design.md").read_text("utf-8") == text
