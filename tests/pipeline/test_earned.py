"""What an evening earned, reckoned by hand: shared sheets, one warm-up, stock, the unknown."""

from __future__ import annotations

import re
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from proofgen.shop.blank_reader import BUILT_IN
from tests.cli.small import make_shop, order_text, run, write
from tests.pipeline.test_tally import BLANK, RATES, tally

ORDERS = ("fenn", "quill", "stall", "wade")


def text(quantity: int, customer: str) -> str:
    words = order_text("Odalys", customer=customer).replace("quantity: 2", f"quantity: {quantity}")
    return re.sub(r"customer: .*\n", "customer: none\n", words) if not customer else words


@pytest.fixture(scope="module")
def pressed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One coaster each for two customers, on one sheet; two for the shop itself; a pouch, whose
    cost nobody wrote down: all pressed on one day."""
    folder = make_shop(tmp_path_factory.mktemp("earned") / "shop", *ORDERS)
    for name, quantity, customer in (
        ("fenn", 1, "A Fenn"),
        ("quill", 1, "B Quill"),
        ("stall", 2, ""),
    ):
        write(folder / "orders" / name / "order.yaml", text(quantity, customer))
    pouch = text(1, "C Wade").replace("coaster-round", "pouch-flat")
    write(folder / "orders" / "wade" / "order.yaml", pouch)
    write(folder / "blanks" / "coaster-round.yaml", BLANK)
    write(folder / "shop.yaml", (folder / "shop.yaml").read_text() + RATES)
    run(folder, "proof").ended(0)
    for name in ORDERS:
        run(folder, "answer", name, "--in-person", "Odalys").ended(0)
    run(folder, "press").ended(0)
    for name in ORDERS:
        run(folder, "press", name, "--done").ended(0)
    return folder


@pytest.fixture
def shop(pressed: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(pressed, tmp_path / "shop"))


def test_the_whole_of_each_order_and_of_the_evening(shop: Path) -> None:
    document = tally(shop)
    fenn, quill, stall, wade = document["orders"]
    # A blank, its part of the one sheet, 105 s at 0.40 a minute.
    paper = Decimal(document["lines"][0]["paper"])
    assert paper == Decimal(document["lines"][1]["paper"])
    whole = Decimal("0.80") + paper + Decimal(105) / 60 * Decimal("0.40")
    for one in (fenn, quill):
        assert (one["price"], Decimal(one["cost"])) == ("5.00", whole)
        assert Decimal(one["left"]) == 5 - whole
    assert stall["own"] and (stall["price"], stall["left"]) == (None, None)
    assert Decimal(stall["cost"]) > 2 * Decimal("0.80")
    assert wade["cost"] is None and "add cost: to blanks/pouch-flat.yaml" in wade["lacks"]
    total = document["total"]
    assert (total["orders"], total["known"], total["pieces"]) == (3, 2, 2)
    assert total["stock_pieces"] == 2 and total["stock_cost"] == stall["cost"]
    # 600 s of warming up, once for all four; nothing of it is of another order alone.
    assert (total["evenings"], Decimal(total["warming_up"])) == (1, Decimal("4.00"))
    assert Decimal(total["warming_up_else"]) == 0
    assert Decimal(total["left"]) == 10 - 2 * whole - 4


def test_another_heat_is_one_change_more(shop: Path) -> None:
    path = shop / "blanks" / "pouch-flat.yaml"
    text = (BUILT_IN / "pouch-flat.yaml").read_text("utf-8")
    hotter = re.sub(r"\bheat: [^,}\n]+", "heat: 210 C", text)
    assert hotter != text
    write(path, f"{hotter.rstrip()}\ncost: 1.10\n")
    assert Decimal(tally(shop)["total"]["warming_up"]) == Decimal("0.40") * (600 + 300) / 60


def test_what_is_left_has_the_warming_up_of_its_own_orders_alone(shop: Path) -> None:
    path = shop / "blanks" / "pouch-flat.yaml"
    text = (BUILT_IN / "pouch-flat.yaml").read_text("utf-8")
    write(path, re.sub(r"\bheat: [^,}\n]+", "heat: 210 C", text))  # and nobody knows its cost
    total = tally(shop)["total"]
    assert Decimal(total["warming_up"]) == Decimal("0.40") * 600 / 60
    assert Decimal(total["warming_up_else"]) == Decimal("0.40") * 300 / 60
    told = " ".join(run(shop, "orders", "--tally").ended(0).out.split())
    assert "Warming up for other orders: 2.00" in told
    # Without a price nothing of these orders is known, so no warming up is theirs.
    path = shop / "blanks" / "coaster-round.yaml"
    write(path, BLANK.replace("cost: 0.80\n", ""))
    total = tally(shop)["total"]
    assert (total["known"], total["evenings"]) == (0, 0)
    assert (Decimal(total["warming_up"]), total["left"]) == (0, None)
    assert Decimal(total["warming_up_else"]) == Decimal("0.40") * (600 + 300) / 60


def test_no_sheet_of_several_orders_is_counted_twice(shop: Path) -> None:
    made = run(shop, "press", "--json").ended(0).document
    papers = tally(shop)["papers"]
    # As many sheets as were printed; `press` lists none now, so they are counted by hand:
    # three coasters and one more fill two sheets, the pouch its own.
    assert not made["sheets"]
    assert Decimal(papers["A4"]) == 3


def test_it_is_said_and_lies_in_the_workroom(shop: Path) -> None:
    told = " ".join(run(shop, "orders", "--tally").ended(0).out.split())
    assert "of 2 of 3 orders: 2 pieces, price 10.00" in told
    assert "Not known for wade: add cost: to blanks/pouch-flat.yaml." in told
    assert "Stock made for the shop itself: 2 pieces" in told
    assert "coaster-round, white 4 0 4" in told and "pouch-flat" in told
    page = (shop / "workroom" / "tally.html").read_text("utf-8")
    assert "of 2 of 3 orders" in page and "What orders bring, EUR" in page
    index = (shop / "workroom" / "index.html").read_text("utf-8")
    assert '<a href="tally.html">Stock and costs</a>' in index
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert not (shop / "workroom" / "tally.html").exists()
