"""Names of files for the press: whose pieces they may hold."""

from __future__ import annotations

import pytest

from proofgen.press import is_for_press, may_hold
from proofgen.press.files import (
    contact_file,
    packing_file,
    picture_file,
    sheets_file,
    ticket_file,
)
from proofgen.press.pieces import Setting

HOT = Setting(204.444, 60.0, "medium")


def sheets(*orders: str) -> str:
    return sheets_file(orders, "A3", HOT)


def test_names() -> None:
    assert sheets("fenn-wedding") == "fenn-wedding-sheets-A3-204C-60s-medium.pdf"
    odd = sheets_file(["fenn", "party"], "roll - matt/2", Setting(190.0, 62.5, "40 psi"))
    assert odd == "shared-sheets-roll_matt_2-190C-62.5s-40_psi.pdf"
    assert ticket_file("fenn-wedding") == "fenn-wedding-ticket.pdf"
    picture = picture_file("fenn-wedding", "line1-a-round.png")
    assert picture == "fenn-wedding-picture-line1_a_round.png"


@pytest.mark.parametrize(
    ("file", "order", "holds"),
    [
        (sheets("fenn"), "fenn", True),
        (ticket_file("fenn"), "fenn", True),
        (contact_file("fenn"), "fenn", True),
        (packing_file("fenn"), "fenn", True),
        (picture_file("fenn", "line1-a-round.png"), "fenn", True),
        (sheets("fenn", "party"), "fenn", True),
        (sheets("fenn-wedding"), "fenn", False),
        (ticket_file("wedding-fenn"), "fenn", False),
        # Another order's own files, whatever it is called.
        (sheets("shared-brunch"), "fenn", False),
        (ticket_file("fenn-sheets-A3-204C-60s-medium"), "fenn", False),
        (picture_file("fenn-picture-b", "line1-a-round.png"), "fenn", False),
        # Sheets of the releases before, a file each.
        ("fenn-sheet-02.pdf", "fenn", True),
        ("shared-sheet-12.pdf", "fenn", True),
        ("notes.txt", "fenn", False),
    ],
)
def test_whose_they_are(file: str, order: str, holds: bool) -> None:
    assert may_hold(file, order) is holds
    assert is_for_press(file) is (file != "notes.txt")
