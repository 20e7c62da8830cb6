"""Prices of an order: agreed on, taken off, added, paid; on the bill and kept with the edition."""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path

import pytest

from proofgen.model import Discount, Settings, Shop
from proofgen.model.bill import brought_each
from proofgen.shop import read_shop
from proofgen.signoff import Records
from tests.cli.small import code_seen, make_shop, order_text, page, run, state, write


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop", "fenn")


def terms(shop: Path) -> dict[str, object]:
    latest = Records(shop / "records").latest("fenn")
    assert latest and latest.terms
    return json.loads(json.dumps(latest.terms))


def ask(shop: Path, *lines: str, line: str = "") -> None:
    text = order_text().replace("due:", "\n".join([*lines, "due:"]))
    write(
        shop / "orders/fenn/order.yaml",
        text.replace("    quantity: 2\n", f"    quantity: 2\n{line}"),
    )


def test_what_is_said_of_the_price_stands_on_the_bill(shop: Path) -> None:
    """2 at 4.40 are 8.80; 15 % of it, 1.32, are taken off, 3.90 are added: 11.38; 5 are paid."""
    ask(
        shop, "postage: 3.90", "discount: 15 %", "paid: 5.00", 'note: "As <agreed> at the stall"',
        line="    price: 4.40\n    note: the pale one\n",
    )  # fmt: skip
    run(shop, "proof", "fenn").ended(0)
    kept = terms(shop)
    assert [kept[k] for k in ("discount", "postage", "total", "paid")] == [
        "1.32", "3.90", "11.38", "5.00",
    ]  # fmt: skip
    shown = page(shop, "fenn")
    for said in ("€4.40", "€8.80", "−€1.32", "€3.90", "€11.38", "€5.00", "€6.38", "Still to pay"):
        assert said in shown, said
    assert "the pale one" in shown and "As &lt;agreed&gt; at the stall" in shown
    found = run(shop, "check", "fenn", "--json").document["orders"][0]["findings"]
    assert not [f for f in found if f["check"] == "order/price" and f["status"] != "pass"]


def test_an_order_that_says_nothing_keeps_what_it_kept(shop: Path) -> None:
    """No key more in its terms, so that records of before stay what they are."""
    run(shop, "proof", "fenn").ended(0)
    kept = terms(shop)
    assert not {"discount", "postage", "paid", "note"} & set(kept) and kept["total"] == "10.00"
    assert not {"note", "discount"} & set(kept["bill"][0])  # type: ignore[index]


def test_a_line_has_a_discount_of_its_own(shop: Path) -> None:
    """2 at 4.40 are 8.80; 2.00 of the line are taken off, then 15 % of 6.80, 1.02: 5.78."""
    ask(shop, "discount: 15 %", line="    price: 4.40\n    discount: 2,00\n")
    run(shop, "proof", "fenn").ended(0)
    kept = terms(shop)
    (line,) = kept["bill"]  # type: ignore[misc]
    assert (line["unit_price"], line["discount"], line["total"]) == ("4.40", "2.00", "6.80")
    assert (kept["discount"], kept["total"]) == ("1.02", "5.78")
    shown = " ".join(page(shop, "fenn").split())
    own, whole = shown.index("Discount on "), shown.index("<td>Discount</td>")
    assert shown.index("€8.80") < own < shown.index("−€2.00") < whole < shown.index("−€1.02")
    assert "€5.78" in shown and "€6.80" not in shown
    # What is signed is the line's too: another discount is told, and changes no pixel.
    before = state(shop, "fenn")["fingerprint"]
    ask(shop, "discount: 15 %", line="    price: 4.40\n    discount: 50 %\n")
    now = state(shop, "fenn")
    assert now["fingerprint"] == before
    assert "discount of the line was €2.00, is €4.40" in now["told"]


def test_a_line_without_a_price_shows_no_discount_of_it(shop: Path) -> None:
    """Nothing is known that it could be taken off."""
    design = shop / "designs/tag/design.md"
    text = design.read_text("utf-8")
    assert "coaster-round: {1: 5.00, 10: 4.00}, " in text
    write(design, text.replace("coaster-round: {1: 5.00, 10: 4.00}, ", ""))
    ask(shop, line="    discount: 10 %\n")
    assert run(shop, "proof", "fenn").code in (0, 1)
    kept = terms(shop)
    assert kept["total"] is None and "discount" not in kept["bill"][0]  # type: ignore[index]
    assert "Discount on" not in page(shop, "fenn")


def test_what_changes_after_the_signature_is_told_and_opens_nothing_less(shop: Path) -> None:
    """The pixels are the same, so the press stays open; what was signed is charged."""
    before = state(shop, "fenn")["fingerprint"]
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    signed = state(shop, "fenn")
    ask(shop, "postage: 3.90", "discount: 2.00")
    now = state(shop, "fenn")
    assert now["state"] == "signed" and now["fingerprint"] == signed["fingerprint"] != before
    assert (
        "postage was none, is €3.90" in now["told"] and "discount was none, is €2.00" in now["told"]
    )
    assert "total was €10.00, is €11.90" in now["told"]
    told = run(shop, "press").ended(0).out
    assert "The customer signed €10.00; today’s price is €11.90: charge what was signed." in told
    assert "€3.90" not in page(shop, "fenn")
    ask(shop, "paid: 4.00")  # what is paid goes on, and is no other promise
    assert state(shop, "fenn")["told"] == []


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("discount: 120 %", "no part of a price"),
        ("discount: some", "some"),
        ("postage: -1", "-1"),
        ("note: [a]", "single value"),
    ],
)
def test_what_is_no_price_is_told_with_its_line(shop: Path, line: str, says: str) -> None:
    ask(shop, line)
    told = run(shop, "check", "fenn").ended(3).err
    assert says in told and "orders/fenn/order.yaml:2" in told


@pytest.mark.parametrize(("line", "says"), [("120 %", "no part of a price"), ("some", "some")])
def test_what_is_no_discount_of_a_line_is_told(shop: Path, line: str, says: str) -> None:
    ask(shop, line=f"    discount: {line}\n")
    told = run(shop, "check", "fenn").ended(3).err
    assert says in told and "orders/fenn/order.yaml:" in told


@pytest.mark.parametrize(
    ("discount", "goods", "off"),
    [
        (Discount(share=Decimal("0.1")), "9.95", "1.00"),  # .995: half a cent up
        (Discount(amount=Decimal("2.5")), "9.95", "2.5"),
        (Discount(amount=Decimal(20)), "9.95", "9.95"),
        (Discount(share=Decimal(1)), "9.95", "9.95"),
    ],
)
def test_a_discount_is_of_whole_cents_and_never_more_than_all(
    discount: Discount, goods: str, off: str
) -> None:
    assert discount.of(Decimal(goods)) == Decimal(off)


def test_prices_are_read_where_they_stand(shop: Path) -> None:
    ask(shop, "postage: 3,90", "discount: 2.50", line="    price: 0\n")
    order = read_shop(shop).orders["fenn"]
    assert (order.postage, order.lines[0].price) == (Decimal("3.90"), Decimal(0))
    assert order.discount == Discount(amount=Decimal("2.50"))


def test_prices_are_typed_with_the_order(shop: Path) -> None:
    typed = (
        "order", "--customer", "Jo", "--design", "tag", "--blank", "coaster-round", "--cloth",
        "white", "--words", "Jo", "--quantity", "1",
    )  # fmt: skip
    run(
        shop, *typed, "--price", "4.40", "--postage", "3.90", "--discount", "10 %",
        "--note", "collected: at the stall", "--paid", "2",
    ).ended(0)  # fmt: skip
    order = read_shop(shop).orders["jo"]
    assert (order.lines[0].price, order.postage, order.paid) == (
        Decimal("4.40"), Decimal("3.90"), Decimal(2),
    )  # fmt: skip
    assert order.discount == Discount(share=Decimal("0.1"))
    assert order.note == "collected: at the stall"
    told = run(shop, *typed, "--discount", "much").ended(2).err
    assert "discount" in told and "much" in told and not (shop / "orders" / "jo-2").exists()


def test_what_an_order_brings_is_told_with_its_discounts_off(shop: Path) -> None:
    """As on its bill: 2 at 4.40 less 2.00 are 6.80, less 15 % are 5.78; before it is signed and
    after."""
    ask(shop, "discount: 15 %", line="    price: 4.40\n    discount: 2,00\n")

    def told() -> tuple[str, str]:
        (line,) = run(shop, "orders", "--cost", "fenn", "--json").ended(0).document["lines"]
        return line["price_each"], line["price"]

    assert told() == ("2.89", "5.78")
    run(shop, "proof", "fenn").ended(0)
    ask(shop, line="    price: 4.40\n")
    assert told() == ("2.89", "5.78")


def test_a_discount_is_shared_among_the_lines_and_right_to_the_cent() -> None:
    totals = {1: Decimal("10.00"), 2: Decimal("20.00")}
    each = brought_each(totals, {1: 3, 2: 7}, Decimal("1.00"))
    assert sum((each[n] * m for n, m in {1: 3, 2: 7}.items()), Decimal(0)).quantize(
        Decimal("0.0001")
    ) == Decimal(29)
    assert brought_each({1: Decimal(0)}, {1: 2}, Decimal(0)) == {1: Decimal(0)}


def test_how_it_is_paid_and_sent_is_said_once_and_told_everywhere(shop: Path) -> None:
    """Under the bill, in the letter; what was told stays, and other words are told to the maker."""
    write(shop / "words/paying.md", "# Paying\n\nBy *transfer*, once it is signed.\n")
    run(shop, "proof", "fenn").ended(0)
    assert terms(shop)["paying"] == "By *transfer*, once it is signed."
    assert "By <em>transfer</em>, once it is signed." in page(shop, "fenn")
    run(shop, "letter", "fenn").ended(0)
    letter = (shop / "workroom" / "letters" / "fenn.txt").read_text("utf-8")
    assert "By *transfer*, once it is signed." in letter
    write(shop / "words/paying.md", "In cash.\n")
    assert any("words/paying.md" in told for told in state(shop, "fenn")["told"])
    assert "By <em>transfer</em>" in page(shop, "fenn")


def test_customers_read_what_the_shop_wrote_in_their_language(shop: Path) -> None:
    write(shop / "words/paying.md", "In cash.\n")
    write(shop / "words/paying-de.md", "In bar.\n")
    for tag, words in {"de": "In bar.", "es": "In cash."}.items():
        text = order_text(customer=f"Odalys Fenn, language: {tag}")
        write(shop / "orders/fenn/order.yaml", text)
        run(shop, "proof", "fenn").ended(0)
        assert terms(shop)["paying"] == words
    write(shop / "words/photo-faq.md", "Which photo is best?\n")
    write(shop / "words/care-kit.md", "What we put in.\n")
    assert set(read_shop(shop).pages_of_words) == {"paying", "photo-faq", "care-kit"}


def test_a_text_that_must_be_read_is_in_its_readers_language() -> None:
    words = {"care": "Wash it.", "care-pt-br": "Lave.", "care-de": "Waschen."}
    ours = Settings(name="Ours", contact="us@example.org", language="en")
    shop = Shop(folder=Path(), settings=ours, blanks={}, designs={}, orders={}, words=words)
    said = {tag: shop.house_text("care", tag, to_be_read=True) for tag in ("en-GB", "de-AT", "ar")}
    assert said == {"en-GB": "Wash it.", "de-AT": "Waschen.", "ar": ""}
    assert shop.house_text("care", "ar") == "Wash it." and shop.house_text("paying", "en") == ""
    assert [shop.house_text("care", tag) for tag in ("pt-BR", "pt")] == ["Lave.", "Wash it."]
