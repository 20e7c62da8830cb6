"""Money as people write it in a file: 14.50, 14,99 zł, £12, 15 €, EUR 15."""

from __future__ import annotations

import functools
import re
from decimal import Decimal

from proofgen.say import quoted
from proofgen.shop.values import Kind
from proofgen.units import parse_money

# What people write for a currency beside its code (ISO 4217). The signs are those of CLDR as Babel
# has them (tests/shop/test_money.py holds them together), and words for it in our languages.
SIGNS = {
    "EUR": ("€", "euro", "euros"),
    "GBP": ("£",),
    "PLN": ("zł", "zl"),
    "CZK": ("Kč",),
    "HUF": ("Ft",),
    "RON": ("lei",),
    "BGN": ("лв.", "лв"),
    "CHF": ("Fr.", "Fr", "SFr."),
    "TRY": ("₺", "TL"),
    "UAH": ("₴",),
    "INR": ("₹",),
    "ILS": ("₪",),
    "JPY": ("¥", "￥"),
    "CNY": ("¥",),
    "KRW": ("₩",),
    "BRL": ("R$",),
    "ZAR": ("R",),
    "AED": ("د.إ.",),
    **dict.fromkeys(("SEK", "NOK", "DKK", "ISK"), ("kr", "kr.")),
    **dict.fromkeys(("USD", "CAD", "AUD", "NZD", "MXN", "ARS", "CLP", "COP", "SGD", "HKD"), ("$",)),
}
_MARKS = re.compile("[\u200e\u200f]")  # which way a sign runs
_WRITTEN = re.compile(
    r"(?P<before>[^\d\s.,+-][^\d\s+-]*)?\s*(?P<amount>[+-]?\d[\d.,]*)\s*(?P<after>\D*)"
)


def _is_of(sign: str, currency: str) -> bool:
    return sign.casefold() in {currency.casefold(), *map(str.casefold, SIGNS.get(currency, ()))}


def _is_money(sign: str) -> bool:
    """Whether it stands for any currency."""
    from babel.numbers import list_currencies  # only a slip needs it

    return any(_is_of(sign, code) for code in SIGNS) or sign.upper() in list_currencies()


def parse_priced(text: str, currency: str) -> Decimal:
    """An amount in the shop's currency (ISO 4217), its sign or code before or behind it or left
    out. ValueError says what to write."""
    found = _WRITTEN.fullmatch(" ".join(_MARKS.sub("", text).split()))
    signs = [s for k in ("before", "after") if (s := (found[k] or "").strip())] if found else []
    if not found or not signs or not currency:
        return parse_money(text)
    for sign in signs:
        if _is_of(sign, currency):
            continue
        if _is_money(sign):
            raise ValueError(
                f"{quoted(text)} is not in {currency}, which the shop’s prices are in; write it in "
                f"{currency}, like 14.50"
            )
        return parse_money(text)  # which says what it is
    try:
        return parse_money(found["amount"])
    except ValueError:
        return parse_money(text)


@functools.cache
def money(currency: str) -> Kind[Decimal]:
    """An amount of money in a shop of this currency."""
    return Kind(lambda text: parse_priced(text, currency), Decimal(0))
