"""Samples and stall stock: an order without a customer goes the same way, signed in person."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cli.small import files, make_shop, order_text, page, run, state, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = re.sub(r"customer: .*\n", "customer: none\n", order_text())
    write(shop / "orders" / "stall" / "order.yaml", text)
    return shop


def test_from_the_folder_to_the_sheet_without_a_letter(shop: Path) -> None:
    run(shop, "proof", "stall").ended(0)
    row = state(shop, "stall")
    assert (row["customer"], row["waits_for"]) == ("", "maker")
    assert "proofgen answer stall --in-person NAME" in row["next"]
    assert not [name for name in files(shop / "workroom") if "letters/stall" in name]
    assert "Puffin" in page(shop, "stall")  # the shop's own name stands in for a customer's
    refused = run(shop, "letter", "stall").ended(4)
    assert "nobody to write to" in refused.err and "--in-person" in refused.err
    run(shop, "press", "stall").ended(4)
    told = run(shop, "answer", "stall", "--in-person", "Maren").ended(0)
    assert "receipt" not in told.out
    run(shop, "press", "stall").ended(0)
    made = set(files(shop / "workroom" / "press"))
    assert "stall-ticket.pdf" in made and "stall-packing.pdf" not in made
    run(shop, "press", "stall", "--done").ended(0)
    refused = run(shop, "letter", "stall", "--ready").ended(4).err
    assert "nobody to write to" in refused and "--in-person" not in refused
    assert state(shop, "stall")["next"].startswith("Put it on the shelf, then note it: ")
    assert "on the shelf" in run(shop, "handed-over", "stall").ended(0).out
    assert state(shop, "stall")["next"] == "Nothing is left to do."


def test_one_can_be_taken_by_options_and_copied(shop: Path) -> None:
    run(shop, "order", "--like", "stall", "--name", "more").ended(0)
    run(
        shop, "order", "--like", "fenn", "--customer", "none", "--name", "sample",
    ).ended(0)  # fmt: skip
    for name in ("more", "sample"):
        assert "customer: none\n" in (shop / "orders" / name / "order.yaml").read_text("utf-8")
        assert state(shop, name)["customer"] == ""


def test_a_customer_without_a_name_is_still_a_fault(shop: Path) -> None:
    write(shop / "orders" / "odd" / "order.yaml", order_text().replace("customer:", "client:"))
    assert "an order lacks customer" in run(shop, "check", "odd").ended(3).err


def test_the_days_of_keep_are_watched(shop: Path) -> None:
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", text + "keep: 30 days\n")
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    run(shop, "handed-over", "fenn").ended(0)
    assert not [n for n in files(shop / "workroom" / "press") if n.endswith("sheets.pdf")]
    assert state(shop, "fenn")["forget_since"] is None
    for day, since in (("2026-12-24", None), ("2026-12-25", "2026-12-25")):
        text = (shop / "shop.yaml").read_text("utf-8")
        write(shop / "shop.yaml", re.sub(r"today: .*", f"today: {day}", text))
        assert state(shop, "fenn")["forget_since"] == since
        told = run(shop, "orders").out
        assert ("The days of keep: are over for fenn" in told) is (since is not None)
