"""Money as people write it in a file: 14.50, 14,99 zł, £12, 15 €, EUR 15, 1 500 Ft, CHF 12.-"""

from __future__ import annotations

import functools
import re
from decimal import Decimal

from proofgen.say import quoted
from proofgen.shop.values import Kind
from proofgen.units import parse_money

# What people write for a currency beside its code (ISO 4217). The signs are those of CLDR as Babel
# has them, at home and abroad (tests/shop/test_money.py holds them together), and words for it in
# our languages.
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
    "INR": ("₹", "Rs", "Rs."),
    "ILS": ("₪",),
    "JPY": ("¥", "￥"),
    "CNY": ("¥",),
    "KRW": ("₩",),
    "BRL": ("R$",),
    "ZAR": ("R",),
    "AED": ("د.إ.",),
    **dict.fromkeys(("SEK", "NOK", "DKK", "ISK"), ("kr", "kr.")),
    **dict.fromkeys(("PKR", "LKR", "NPR", "MUR"), ("Rs", "Rs.")),
    "USD": ("$", "US$"),
    "CAD": ("$", "C$", "CA$"),
    "AUD": ("$", "A$", "AU$"),
    "NZD": ("$", "NZ$"),
    "MXN": ("$", "MX$"),
    "SGD": ("$", "S$"),
    "HKD": ("$", "HK$"),
    **dict.fromkeys(("ARS", "CLP", "COP"), ("$",)),
}
_MARKS = re.compile("[\u200e\u200f]")  # which way a sign runs
_WRITTEN = re.compile(
    r"(?P<before>[^\d\s.,+-][^\d\s+-]*)?\s*(?P<amount>[+-]?\d[\d.,]*)\s*(?P<after>\D*)"
)
# A number whose digits stand in groups of three. A dot or a comma parts them only where the other
# one stands before the cents: 1.234 may be a thousand or one and a bit.
_GROUPS = re.compile(
    r"(?<![\d.,])[1-9]\d{0,2}(?:"
    r"(?P<between>[ '’])\d{3}(?:(?P=between)\d{3})*(?!\d)"
    r"|(?:\.\d{3})+(?=,\d\d?(?![\d.,]))"
    r"|(?:,\d{3})+(?=\.\d\d?(?![\d.,]))"
    r")"
)
_NO_CENTS = re.compile(r"(?<=\d)([.,])[-–—]{1,2}(?=\D*$)")


def _plainly(text: str) -> str:
    """The text in one kind of space, its amount without what only helps the eye."""
    text = _NO_CENTS.sub(r"\g<1>00", " ".join(_MARKS.sub("", text).split()))
    return _GROUPS.sub(lambda found: re.sub(r"\D", "", found[0]), text)


def _is_of(sign: str, currency: str) -> bool:
    return sign.casefold() in {currency.casefold(), *map(str.casefold, SIGNS.get(currency, ()))}


def _is_money(sign: str) -> bool:
    """Whether it stands for any currency."""
    from babel.numbers import list_currencies  # only a slip needs it

    return any(_is_of(sign, code) for code in SIGNS) or sign.upper() in list_currencies()


def parse_priced(text: str, currency: str) -> Decimal:
    """An amount in the shop's currency (ISO 4217; '' is not known here, so any), its sign or code
    before or behind it or left out. ValueError says what to write."""
    plain = _plainly(text)
    found = _WRITTEN.fullmatch(plain)
    signs = [s for k in ("before", "after") if (s := (found[k] or "").strip())] if found else []
    if not found or not signs:
        return _amount(plain, text)
    for sign in signs:
        if _is_of(sign, currency):
            continue
        if (is_money := _is_money(sign)) and not currency:
            continue
        if is_money:
            raise ValueError(
                f"{quoted(text)} is not in {currency}, which the shop’s prices are in; write it in "
                f"{currency}, like 14.50"
            )
        return parse_money(text)  # which says what it is
    return _amount(found["amount"], text)


def _amount(plain: str, text: str) -> Decimal:
    """The amount; what is wrong is said of the text as it was written."""
    try:
        return parse_money(plain)
    except ValueError:
        return parse_money(text)


@functools.cache
def money(currency: str) -> Kind[Decimal]:
    """An amount of money in a shop of this currency."""
    return Kind(lambda text: parse_priced(text, currency), Decimal(0))
