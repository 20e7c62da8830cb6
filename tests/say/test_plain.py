"""Letters without accents and strokes, as a hurried hand types them."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

import pytest

from proofgen.say import plain_letters

LETTERS = Path(__file__).resolve().parents[2] / "themes" / "base" / "letters.js"
TABLE = dict(re.findall(r'"(.+?)": "(.+?)"', LETTERS.read_text("utf-8")))


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("Małgorzata Novák", "malgorzata novak"),
        ("Đorđe Søren Åse", "dorde soren ase"),
        ("Weiß Þóra Æsa", "weiss thora aesa"),
        ("Nguyễn", "nguyen"),
        ("Zoe\u0308", "zoe"),
        ("İnci Işık", "inci isik"),
        ("Ελένη", "ελενη"),
        ("Алёна Андрей", "алена андрей"),
        ("がな", "がな"),
        ("O’Neil", "o'neil"),
        ("", ""),
    ],
)
def test_plain_letters(written: str, plain: str) -> None:
    assert plain_letters(written) == plain


def test_the_proof_pages_search_takes_letters_apart_alike() -> None:
    """What normalising takes apart first never reaches the page's table."""
    table = {k: v for k, v in TABLE.items() if unicodedata.normalize("NFKD", k) == k}
    assert len(table) > 60
    assert {k: plain_letters(k) for k in table} == table
