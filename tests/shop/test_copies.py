"""What a synchroniser leaves beside a file that was changed on two machines is told, and never
read."""

from __future__ import annotations

from pathlib import Path

import pytest

from proofgen.shop import read_shop
from proofgen.shop.copies import copy_of
from tests.cli.small import make_shop, order_text, run, write

LEFT = [
    "order (conflicted copy of Tuesday 2026-11-24).yaml",
    "order 2.yaml",
    "order (1).yaml",
    "order-DESKTOP-7F3KQ.yaml",
    "order.sync-conflict-20261124-101500-ABCDEF.yaml",
    "order - Copy.yaml",
]


@pytest.mark.parametrize("name", LEFT)
def test_a_copy_of_an_order_is_told_and_not_read(tmp_path: Path, name: str) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    copy = write(shop / "orders" / "fenn" / name, order_text("Wrong words"))
    told = run(shop, "orders").ended(3)
    says = "this looks like a second copy of “orders/fenn/order.yaml”"
    assert f"orders/fenn/{name}: {says}" in told.err
    assert "fenn" in told.out and len(read_shop(shop).orders) == 1
    assert read_shop(shop).orders["fenn"].lines[0].words == {"name": "Odalys & Bram"}
    copy.replace(tmp_path / "away.yaml")
    run(shop, "orders").ended(0)


def test_copies_of_folders_designs_and_the_shop_are_told(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", "quill")
    write(shop / "orders" / "fenn 2" / "order.yaml", order_text())
    write(shop / "designs" / "tag (1)" / "design.md", "x")
    write(shop / "designs" / "tag" / "design 2.md", "x")
    write(shop / "shop (conflict).yaml", "x")
    run(shop, "proof", "fenn").ended(3)
    write(shop / "records" / "journal 2.jsonl", "x")
    read = read_shop(shop)
    assert set(read.orders) == {"fenn", "quill"} and "tag" in read.designs
    told = {str(fault.place) for fault in read.faults}
    assert told == {
        "orders/fenn 2",
        "designs/tag (1)",
        "designs/tag/design 2.md",
        "shop (conflict).yaml",
        "records/journal 2.jsonl",
    }


@pytest.mark.parametrize(
    "name", ["order.yaml", "table 2.yaml", "desktop.yaml", "order-2.yaml", "order-large.yaml"]
)
def test_a_name_of_its_own_is_no_copy(tmp_path: Path, name: str) -> None:
    (tmp_path / "order.yaml").touch()
    (tmp_path / name).touch()
    assert copy_of(tmp_path / name) is None
