"""What was ordered, held against what is shown: told with the proof, and on the customer's page."""

from __future__ import annotations

import shlex
from html import unescape
from pathlib import Path

from tests.cli.small import make_shop, order_text, run, write
from tests.order_slips import WRITTEN, asked_text

SLIP = {"v": 1, "time": WRITTEN, "design": "tag", "blank": "coaster-round", "cloth": "sky"}
ASKED = asked_text({**SLIP, "many": 3, "words": {"name": "Mikołaj"}})


def _page(shop: Path) -> str:
    (page,) = (shop / "site" / "p").glob("*/index.html")
    return " ".join(unescape(page.read_text("utf-8")).split())


def test_what_differs_is_told_before_the_customer_sees_it_and_to_the_customer(
    tmp_path: Path,
) -> None:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Mikolaj"))
    write(shop / "orders" / "fenn" / "asked.txt", ASKED)
    made = run(shop, "proof", "fenn").ended(0).out
    head, _, told = made.partition("Not as it was ordered; look before the customer does:")
    assert head and "letter fenn" in told.partition("Next:")[2]
    for said in ("the cloth “sky”", "ordered 3 pieces", "“Mikołaj”, and “Mikolaj” would be"):
        assert said in told, said
    page = _page(shop)
    for said in (
        "When you ordered, you wrote “Mikołaj”.",
        "The cloth has not the colour that you ordered.",
        "There are not as many pieces as you ordered.",
    ):
        assert said in page, said
    words = page.partition('id="words"')[2] or page
    assert words.count("When you ordered, you wrote") >= 1

    checked = " ".join(run(shop, "check", "fenn").out.split())
    accept = 'check fenn --accept order/as-ordered:cloth --because "'
    assert f"proofgen {accept}" in checked
    run(shop, *shlex.split(f'{accept}he wrote that white is fine"')).ended(0)
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Mikołaj"))
    made = run(shop, "proof", "fenn").ended(0).out
    assert "Mikolaj" not in made and "sky" not in made and "ordered 3 pieces" in made
    assert "When you ordered" not in _page(shop)


def test_what_the_customer_wrote_otherwise_is_told_before_they_see_it(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Mikolaj"))
    write(tmp_path / "mail.txt", "Hello,\n\nthe name is Mikołaj.\n")
    run(shop, "take", tmp_path / "mail.txt", "--for", "fenn").ended(0)
    told = run(shop, "proof", "fenn").ended(0).out
    told = told.partition("Not as it was ordered; look before the customer does:")[2]
    assert "“Mikolaj” does not stand in what the customer wrote" in told
    write(shop / "orders" / "fenn" / "order.yaml", order_text("Mikołaj"))
    assert "Not as it was ordered" not in run(shop, "proof", "fenn").ended(0).out
