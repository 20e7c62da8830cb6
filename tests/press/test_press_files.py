"""Names of files for the press: whose pieces they may hold."""

from __future__ import annotations

import pytest

from proofgen.press import is_for_press, may_hold
from proofgen.press.files import sheet_file, ticket_file


def test_names() -> None:
    assert sheet_file(["fenn-wedding"], 2) == "fenn-wedding-sheet-02.pdf"
    assert sheet_file(["fenn-wedding", "party"], 12) == "shared-sheet-12.pdf"
    assert ticket_file("fenn-wedding") == "fenn-wedding-ticket.pdf"


@pytest.mark.parametrize(
    ("file", "order", "holds"),
    [
        (sheet_file(["fenn"], 1), "fenn", True),
        (ticket_file("fenn"), "fenn", True),
        (sheet_file(["fenn", "party"], 1), "fenn", True),
        (sheet_file(["fenn-wedding"], 1), "fenn", False),
        (ticket_file("wedding-fenn"), "fenn", False),
        # Another order's own files, whatever it is called.
        (sheet_file(["shared-brunch"], 1), "fenn", False),
        (ticket_file("fenn-sheet-01"), "fenn", False),
        ("notes.txt", "fenn", False),
    ],
)
def test_whose_they_are(file: str, order: str, holds: bool) -> None:
    assert may_hold(file, order) is holds
    assert is_for_press(file) is (file != "notes.txt")
