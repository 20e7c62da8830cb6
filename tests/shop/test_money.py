"""A price as people write it, in the money of the shop and in no other."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from pathlib import Path

import pytest
from babel.numbers import get_currency_symbol

from proofgen.shop import read_shop, write_count
from proofgen.shop.money import SIGNS, parse_priced
from tests.cli.small import make_shop, order_text, write


@pytest.mark.parametrize(
    ("text", "currency", "amount"),
    [
        ("14,99 zł", "PLN", "14.99"),
        ("zł 14.99", "PLN", "14.99"),
        ("15 €", "EUR", "15"),
        ("€15", "EUR", "15"),
        ("15\u00a0€", "EUR", "15"),
        ("EUR 15", "EUR", "15"),
        ("15 euro", "EUR", "15"),
        ("£12", "GBP", "12"),
        ("12.50", "GBP", "12.50"),
        ("$ 3", "CAD", "3"),
        ("120 kr", "SEK", "120"),
        ("US$ 12", "USD", "12"),
        ("C$ 12", "CAD", "12"),
        ("Rs 12", "INR", "12"),
        ("Rs. 1,250.50", "INR", "1250.50"),
        ("12,-", "EUR", "12"),
        ("12,– €", "EUR", "12"),
        ("1.234,-", "EUR", "1234"),
        ("CHF 12.-", "CHF", "12"),
        ("CHF 1’234.50", "CHF", "1234.50"),
        ("1'234'567.50", "CHF", "1234567.50"),
        ("€ 1.234,50", "EUR", "1234.50"),
        ("$1,234.5", "USD", "1234.5"),
        ("1 234,50 €", "EUR", "1234.50"),
        ("1\u00a0234,50 €", "EUR", "1234.50"),
        ("1\u202f234,50\u00a0€", "EUR", "1234.50"),
        ("1 500 Ft", "HUF", "1500"),
        ("12 500", "HUF", "12500"),
    ],
)
def test_the_shops_own_money_is_taken(text: str, currency: str, amount: str) -> None:
    assert parse_priced(text, currency) == Decimal(amount)


@pytest.mark.parametrize("text", ["£12", "14 zł", "USD 3", "12 kr", "US$ 12", "1 500 Ft"])
def test_other_money_is_refused_in_plain_words(text: str) -> None:
    with pytest.raises(ValueError, match="is not in EUR, which the shop’s prices are in"):
        parse_priced(text, "EUR")


_UNCLEAR = ("1.234 €", "1,234", "1 23 €", "0 500 €", "12 50", "1 234'567", "1.23,50", "12.50.-")


@pytest.mark.parametrize("text", ["-3 €", "12 cups", "", "€", "12 € 50", *_UNCLEAR])
def test_what_is_no_amount_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not an amount; write it like 14"):
        parse_priced(text, "EUR")


@pytest.mark.parametrize(
    ("currency", "language"),
    [
        ("EUR", "de"), ("GBP", "en"), ("PLN", "pl"), ("CZK", "cs"), ("HUF", "hu"), ("BGN", "bg"),
        ("TRY", "tr"), ("UAH", "uk"), ("INR", "en_IN"), ("ILS", "he"), ("JPY", "ja"),
        ("CNY", "zh"), ("KRW", "ko"), ("BRL", "pt"), ("ZAR", "en_ZA"), ("AED", "ar"),
        ("SEK", "sv"), ("NOK", "nb"), ("DKK", "da"), ("ISK", "is"), ("USD", "en_US"),
        ("CAD", "en_CA"), ("MXN", "es_MX"), ("USD", "en_CA"), ("CAD", "en"), ("NZD", "en"),
        ("MXN", "en"), ("HKD", "en"), ("AUD", "de"), ("AUD", "en_US"),
    ],
)  # fmt: skip
def test_signs_are_those_of_cldr(currency: str, language: str) -> None:
    sign = get_currency_symbol(currency, language)
    assert sign.strip("\u200f") in SIGNS[currency]
    assert parse_priced(f"5 {sign}", currency) == 5


def test_files_take_it_and_tell_where_it_is_other_money(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    design = shop / "designs" / "tag" / "design.md"
    text = design.read_text("utf-8")
    write(design, text.replace("pouch-flat: 9.00", "pouch-flat: 9.50 €"))
    order = order_text() + "postage: 3 €\ndiscount: EUR 1\n"
    write(shop / "orders" / "fenn" / "order.yaml", order)
    found = read_shop(shop)
    assert found.faults == ()
    assert found.orders["fenn"].postage == 3
    write(shop / "orders" / "fenn" / "order.yaml", order.replace("3 €", "£3"))
    (fault,) = read_shop(shop).faults
    assert "“£3” is not in EUR" in fault.problem and "like 14.50" in fault.cure


def test_a_blanks_cost_is_money_as_prices_are(tmp_path: Path) -> None:
    """A price took “€ 1,10”; the cost of a blank beside it was no amount."""
    shop = make_shop(tmp_path / "shop")
    file = shop / "blanks" / "coaster-round.yaml"
    write(file, "cost: € 1,10\nstock: {white: 24, counted: 2026-11-20}\n")
    read = read_shop(shop)
    assert read.faults == () and read.blanks["coaster-round"].cost == Decimal("1.10")
    write_count(shop, read.blanks["coaster-round"], {"white": 7}, datetime(2026, 11, 24, 9, 30))
    assert "cost: € 1,10\n" in file.read_text("utf-8")
    assert read_shop(shop).blanks["coaster-round"].stock.pieces == {"white": 7}
    write(file, "cost: 1.10 PLN\n")
    (fault,) = read_shop(shop).faults
    assert "is not in EUR" in fault.problem
    assert fault.place and str(fault.place) == "blanks/coaster-round.yaml:1"
