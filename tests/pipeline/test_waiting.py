"""Orders by the day they are due, and whom each of them waits for since when."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.small import code_seen, make_shop, order_text, run, state, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop", "fenn")
    for name, due in (
        ("anders", "due: 2027-01-09\n"),
        ("zoller", "due: 2026-12-01\n"),
        ("moor", ""),
    ):
        text = re.sub(r"due: .*\n", due, order_text(customer="Gerda Moor"))
        write(shop / "orders" / name / "order.yaml", text)
    return shop


def names(shop: Path, *by: str) -> list[str]:
    return [one["order"] for one in run(shop, "orders", *by, "--json").document["orders"]]


def today(shop: Path, day: str) -> None:
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", re.sub(r"today: .*", f"today: {day}", text))


def waits(shop: Path) -> tuple[str, str | None]:
    row = state(shop, "fenn")
    return row["waits_for"], row["waits_since"]


def test_what_is_due_first_comes_first_and_what_has_no_day_last(shop):
    assert names(shop) == names(shop, "--by", "due") == ["zoller", "fenn", "anders", "moor"]
    assert names(shop, "--by", "name") == ["anders", "fenn", "moor", "zoller"]
    run(shop, "proof", "anders").ended(0)
    assert names(shop, "--by", "state") == ["zoller", "fenn", "moor", "anders"]
    told = run(shop, "orders").out
    assert "zoller           due 1 December 2026, in 6 days" in told and "no day" in told


def test_what_is_closed_stands_last_and_waits_for_nobody(shop):
    run(shop, "proof", "zoller").ended(0)
    run(shop, "withdraw", "zoller").ended(0)
    assert names(shop)[-1] == "zoller"
    row = state(shop, "zoller")
    assert (row["waits_for"], row["waits_since"], row["days_left"]) == ("", None, None)


def test_it_waits_for_whoever_is_to_move_since_the_day_that_was_noted(shop):
    assert waits(shop) == ("maker", None)
    run(shop, "proof", "fenn").ended(0)
    assert waits(shop) == ("maker", "2026-11-25")
    today(shop, "2026-11-26")
    run(shop, "letter", "fenn", "--sent").ended(0)
    today(shop, "2026-11-28")
    assert waits(shop) == ("customer", "2026-11-26")
    told = run(shop, "orders").out
    assert "Waits for Odalys Fenn since 26 November 2026." in told
    today(shop, "2026-12-03")
    assert waits(shop) == ("maker", "2026-11-30")  # its last day
    today(shop, "2026-11-29")
    run(shop, "answer", "-", typed=code_seen(shop, "ok")).ended(0)
    assert waits(shop) == ("maker", "2026-11-29")
    today(shop, "2026-12-24")
    row = state(shop, "fenn")
    assert row["days_left"] == -4 and "4 days late" in run(shop, "orders").out
    today(shop, "2026-11-29")
    order = shop / "orders" / "fenn" / "order.yaml"
    write(order, order.read_text("utf-8").replace("Bram", "Brom"))
    assert waits(shop) == ("maker", None)  # nobody noted when it was changed
