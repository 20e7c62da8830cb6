"""A table of what was sold that no spreadsheet runs; stock, spoilage and costs as text."""

from __future__ import annotations

import csv
import io

import pytest

from proofgen.reports import sold_csv, tally_text
from proofgen.reports.tally import harmless

LINE = {
    "record": 7, "pressed_on": "2026-11-25", "handed_over_on": "", "order": "fenn", "line": 1,
    "design": "tag", "blank": "coaster", "cloth": "white", "pieces": 3, "spoiled_pieces": 1,
    "price_each": "5.00", "cost_each": "1.2300", "price": "15.00", "blanks": "2.4000",
    "paper": "0.3600", "time": "0.9300", "spoiled": "0.0000", "cost": "3.6900", "left": "11.3100",
    "own": False, "lacks": [],
}  # fmt: skip
SUM = {
    "record": 7, "pressed_on": "2026-11-25", "order": "fenn", "pieces": 3, "own": False,
    "price": "15.00", "cost": "3.69", "left": "11.31", "lacks": ["add cost: to blanks/x.yaml"],
}  # fmt: skip
DOCUMENT = {
    "schema": "proofgen/tally/1", "since": None, "until": "2026-11-25", "currency": "EUR",
    "stock": [
        {"blank": "coaster", "cloth": "white", "file": "blanks/coaster.yaml", "counted": 24,
         "counted_on": "2026-11-20", "used": 14, "left": 10, "needed": 13, "buy": 3,
         "needs": {"fenn": 13}},
    ],
    "yields": [
        {"blank": "coaster", "blanks": 400, "spoiled": 12, "share": "0.0300", "least": "0.0187",
         "most": "0.0475", "causes": {"moved": 7, "pale": 5}},
    ],
    "spares": {"set": "0.05", "verdict": "enough", "suggested": "0.05"},
    "lines": [LINE, {**LINE, "record": 0, "order": "open"}],
    "used": [{"blank": "coaster", "cloth": "white", "pressed": 3, "spoiled": 1}],
    "papers": {"A4": "2.5000"},
    "orders": [
        {**SUM, "lacks": []},
        {**SUM, "record": 8, "order": "sill", "left": None, "cost": None},
    ],
    "total": {
        "orders": 2, "known": 1, "pieces": 3, "price": "15.00", "cost": "3.69", "evenings": 1,
        "warming_up": "4.00", "left": "7.31", "warming_up_else": "0.80",
        "stock_pieces": 4, "stock_cost": "2.00",
    },
    "waiting": 0, "uncounted": ["old-one"],
}  # fmt: skip


def test_as_text():
    told = tally_text(DOCUMENT)
    assert "  coaster, white     10      13    3  fenn 13" in told
    assert "coaster, white: 24 counted on the morning of 2026-11-20, 14 used since." in told
    assert "coaster: 12 of 400 spoiled (3 %): 7 moved, 5 pale; the true share is most" in told
    assert "Papers (of a roll the metres): 2.5 of A4." in told
    assert "spares: 5 % in shop.yaml is enough." in told
    words = " ".join(told.split())
    assert "of 1 of 2 orders: 3 pieces, price 15.00, cost 3.69, their" in words
    assert "Warming up for other orders: 0.80." in words
    assert "their warming up on 1 day 4.00, left 7.31." in words
    assert "Stock made for the shop itself: 4 pieces, cost 2.00; not sold yet" in words
    assert "Not known for sill: add cost: to blanks/x.yaml." in words
    assert "not in here: old-one" in told


def test_figures_of_pieces_end_under_their_heads():
    dear = {**LINE, "price_each": "15.00", "cost_each": "11.2300", "spoiled_pieces": 14}
    told = tally_text({**DOCUMENT, "lines": [LINE, dear]}).splitlines()
    at = next(at for at, line in enumerate(told) if "order, line" in line)
    head, *rows = told[at : at + 3]
    columns = {"price": ("5.00", "15.00"), "cost": ("1.23", "11.23"), "spoiled": ("1", "14")}
    for word, figures in columns.items():
        end = head.index(word) + len(word)
        for row, figure in zip(rows, figures, strict=True):
            assert row[end - len(figure) - 1 : end] == f" {figure}"


def test_few_say_little_and_a_count_in_the_evening_its_time():
    few = {**DOCUMENT["yields"][0], "blanks": 10, "spoiled": 1, "least": "0.0417", "most": "0.3160"}
    evening = {**DOCUMENT["stock"][0], "counted_on": "2026-11-25 21:40:30"}
    told = " ".join(tally_text({**DOCUMENT, "yields": [few], "stock": [evening]}).split())
    assert "with so few pressed, the true share may be anything from 4 to 32 in a hundred" in told
    assert "24 counted on 2026-11-25 at 21:40:30, 14 used since." in told


@pytest.mark.parametrize("begins", ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"])
def test_no_cell_is_a_formula(begins):
    cloth = f'{begins}HYPERLINK("https://example.org","x")'
    content = sold_csv({**DOCUMENT, "lines": [{**LINE, "cloth": cloth}, DOCUMENT["lines"][1]]})
    (row,) = csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline=""))
    assert row["cloth"] == "'" + cloth
    assert "fenn" not in content.decode()
    assert harmless("sky") == "sky" and harmless("") == ""
