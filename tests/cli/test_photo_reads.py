"""How often a command reads the photos of a shop: twice the orders, at most twice the reads."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from proofgen import again
from tests.cli.small import make_shop, order_text, paint, run, write

COMMANDS = [("orders", "--json"), ("check", "--json"), ("build",)]


def shop_of(folder: Path, orders: int) -> Path:
    """So many orders of as many customers, and all of them came with the same photo."""
    shop = make_shop(folder)
    photo = paint(folder / "one.jpg", side=200).read_bytes()
    for number in range(orders):
        text = order_text(design="snap", customer=f"Guest {number}")
        order = shop / "orders" / f"guest-{number}"
        write(order / "order.yaml", text.replace("someone@", f"guest{number}@"))
        (order / "photos").mkdir()
        (order / "photos" / "pier.jpg").write_bytes(photo)
    return shop


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each photo of an order was opened."""
    opened: Counter[str] = Counter()
    plain = Path.open

    def counted(self: Path, *arguments: Any, **more: Any) -> Any:
        if self.parent.name == "photos":
            opened[str(self)] += 1
        return plain(self, *arguments, **more)

    monkeypatch.setattr(Path, "open", counted)
    return opened


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_twice_the_orders_are_at_most_twice_the_reads(
    tmp_path: Path, reads: Counter[str], command: tuple[str, ...]
) -> None:
    counts = []
    for orders in (3, 6):
        shop = shop_of(tmp_path / str(orders), orders)
        reads.clear()
        run(shop, *command)
        counts.append(reads.total())
    assert counts[0] >= 3
    assert counts[1] <= 2 * counts[0]


@pytest.mark.parametrize("command", COMMANDS[:2], ids=lambda command: command[0])
def test_a_photo_that_stayed_the_same_is_not_read_again_to_compare_it(
    tmp_path: Path,
    reads: Counter[str],
    command: tuple[str, ...],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(again, "WINDOW_NS", 0)  # else what was just made is looked at once more
    counts = []
    for orders in (1, 3):  # where there is one, there is nothing to compare
        shop = shop_of(tmp_path / str(orders), orders)
        run(shop, *command)
        reads.clear()
        run(shop, *command)
        counts.append(reads.total())
    assert counts[1] == 3 * counts[0]


def test_a_photo_that_was_replaced_is_compared_anew(tmp_path: Path) -> None:
    shop = shop_of(tmp_path, 2)
    codes = [f["code"] for f in _findings(shop)]
    assert codes.count("two-customers") == 2
    other = paint(tmp_path / "other.jpg", side=200, lot=4).read_bytes()
    ours = (shop / "orders/guest-0/photos/pier.jpg").read_bytes()
    long = max(len(ours), len(other))  # equally long, so that their sizes tell nothing
    for number, content in enumerate((ours, other)):
        photo = shop / f"orders/guest-{number}/photos/pier.jpg"
        photo.write_bytes(content.ljust(long, b"\0"))
    assert "two-customers" not in [f["code"] for f in _findings(shop)]


def _findings(shop: Path) -> list[dict[str, Any]]:
    document = run(shop, "check", "--json").document
    return [finding for order in document["orders"] for finding in order["findings"]]
