"""Table of the checks of whole orders."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from proofgen.checks import CheckInput
from proofgen.model import Customer, PhotoUse, Rights, Stock
from proofgen.store import file_digest
from tests.checks.case import PASS, Case
from tests.checks.factory import TODAY, blank, design, facts, given, line, order

_NAMES = ["Bo", "Di", "Kai"]
LIST = [
    Case("order/list-length", "no list", given(of=order(line(quantity=7))), (PASS,)),
    Case("order/list-length", "as many", given(of=order(line(_NAMES))), (PASS,)),
    Case(
        "order/list-length",
        "one short",
        given(of=order(line(_NAMES, quantity=4))),
        (("stop", "differs"),),
        ("The list has 3 names, but 4 pieces are ordered.",),
    ),
    Case(
        "order/list-length",
        "one too many",
        given(of=order(line(["Bo", "Di"], quantity=1))),
        (("stop", "differs"),),
        ("but 1 piece is ordered.",),
    ),
]


_TIGHT = (("warn", "tight"),)


def _due(days, **changes):
    return given(of=order(due=TODAY + timedelta(days=days), **changes))


LIMITS = [
    Case("order/limits-read", "read", given(), (PASS,)),
    Case(
        "order/limits-read",
        "with a slip",
        given(settings={"limits_sound": False}),
        (("stop", "not-read"),),
        ("a slip in the limits of shop.yaml",),
    ),
]

_NOTHING = replace(given(), variants=[], order=replace(order(draft=True), lines=()))
ORDERED = [
    Case("order/ordered", "one", given(), (PASS,)),
    Case(
        "order/ordered",
        "none, of a draft",
        _NOTHING,
        (("stop", "none"),),
        ("does not say yet what is ordered", "stands in asked.txt"),
    ),
]

DUE = [
    Case("order/due", "time enough", _due(15), (PASS,)),
    Case(
        "order/due",
        "a day too few",
        _due(14),
        (("warn", "tight"),),
        (
            "due on 7 December 2026, in 14 days; answering the proof (5) and making (10) take 15.",
            "asks for its answer by 27 November 2026; have it by then, or agree on 8 December 2026",
        ),
    ),
    Case("order/due", "made with an answer of today", _due(10), _TIGHT, ("by 23 November 2026;",)),
    Case("order/due", "too near for making", _due(9), _TIGHT, ("fewer, or agree on 8 December",)),
    Case("order/due", "today", _due(0), (("warn", "tight"),)),
    Case("order/due", "tomorrow", _due(1), (("warn", "tight"),), ("in 1 day;",)),
    Case("order/due", "yesterday", _due(-1), (("stop", "past"),), ("1 day ago",)),
    Case("order/due", "no date", given(of=order(due=None)), (("skipped", "no-date"),)),
    Case(
        "order/due",
        "the shop's own days",
        given(of=order(due=date(2026, 11, 26)), settings={"answer_days": 1, "lead_days": 2}),
        (PASS,),
    ),
]

_STOCK = {"white": 24}


def _stock(pieces, have=_STOCK, cloth="white", spares=0.05, others=()):
    return given(
        of=order(line(quantity=pieces, cloth=cloth)),
        on=blank(stock=Stock(pieces=have)),
        settings={"spares": spares},
        others=others,
    )


STOCK = [
    Case("order/stock", "not counted here", _stock(500, {}), (PASS,)),
    Case("order/stock", "enough", _stock(22), (PASS,)),
    # 100 pieces at 5 % spoiled: ceil(100 / 0.95) = 106, not 105.
    Case("order/stock", "exactly", _stock(100, {"white": 106}), (PASS,)),
    Case(
        "order/stock",
        "one short",
        _stock(100, {"white": 105}),
        (("warn", "short"),),
        ("needs 106 of Can wrap, white (spares counted); 105 are in stock.", "Order 1 more"),
    ),
    Case("order/stock", "no spares", _stock(24, spares=0.0), (PASS,)),
    Case("order/stock", "another cloth", _stock(1, cloth="sky"), (("skipped", "not-told"),)),
    Case(
        "order/stock",
        "enough for this one, too few for both",
        _stock(20, others=(replace(order(line(quantity=3)), id="quill"),)),
        (("warn", "short"),),
        ("needs 22 of Can wrap, white (spares counted), the other open orders 4; 24 are",),
    ),
    Case(
        "order/stock",
        "two lines together",
        given(
            of=order(line(quantity=14), line(number=2, quantity=14)),
            on=blank(stock=Stock(pieces=_STOCK)),
        ),
        (("warn", "short"),),
    ),
]

_STEPS = replace(design(), offered={"can-wrap": ((10, Decimal("10.50")), (50, Decimal("9.00")))})


def _steps(pieces, price):
    steps = ((1, Decimal("12.00")), (10, Decimal(price)))
    designs = (replace(design(), offered={"can-wrap": steps}),)
    return given(of=order(line(quantity=pieces)), designs=designs)


PRICE_BREAK = [
    Case("order/price-break", "one price", given(), (PASS,)),
    Case(
        "order/price-break",
        "ten cost less than nine",
        _steps(9, "10.50"),
        (("note", "more-for-less"),),
        ("10 pieces at 10.50 are 105.00 in all; 9 at 12.00, as ordered, are 108.00",),
    ),
    Case("order/price-break", "ten cost as much as eight", _steps(8, "9.60"), (PASS,)),
    Case("order/price-break", "ten are ordered", _steps(10, "10.50"), (PASS,)),
]
PRICE = [
    Case("order/price", "priced", given(), (PASS,)),
    Case("order/price", "from ten", given(of=order(line(quantity=10)), designs=(_STEPS,)), (PASS,)),
    Case(
        "order/price",
        "nine",
        given(of=order(line(quantity=9)), designs=(_STEPS,)),
        (("warn", "too-few"),),
        ("from 10 pieces on; 9 are ordered",),
    ),
    Case(
        "order/price",
        "not offered",
        given(of=order(line(blank="can-fold"))),
        (("warn", "not-offered"),),
    ),
    Case(
        "order/price",
        "no design",
        given(of=order(line(design="gone"))),
        (("skipped", "no-design"),),
    ),
]

# Bytes are compared, so the “photos” are two files that lie here anyway.
_ONE, _TWO = (Path(__file__).with_name(n) for n in ("factory.py", "case.py"))


def _uses(file, **changes):
    return line(photos={"photo": PhotoUse(file=file)}, **changes)


def _same(*others, file=_TWO, known=True):
    read = facts(bytes=file.stat().st_size, sha256=file_digest(file))
    return given(of=order(_uses(file)), photos={str(file): read} if known else {}, others=others)


_ELSE = Customer(name="Bram Quill", email="bram@example.org")
SAME = [
    Case("order/same-photo", "the only order", _same(), (PASS,)),
    Case(
        "order/same-photo",
        "another photo",
        _same(order(_uses(_ONE), id="quill", customer=_ELSE)),
        (PASS,),
    ),
    Case(
        "order/same-photo",
        "the same for two",
        _same(order(_uses(_TWO), id="quill", customer=_ELSE)),
        (("warn", "two-customers"),),
        ("order quill.",),
    ),
    Case(
        "order/same-photo",
        "the same customer again",
        _same(order(_uses(_TWO), id="fenn-2")),
        (PASS,),
    ),
    Case(
        "order/same-photo",
        "not read",
        _same(order(_uses(_TWO), id="quill", customer=_ELSE), known=False),
        (PASS,),
    ),
    Case(
        "order/same-photo",
        "a photo that is gone",
        _same(order(_uses(Path("gone.jpg")), id="quill", customer=_ELSE)),
        (PASS,),
    ),
    Case(
        "order/same-photo",
        "too many",
        _same(
            order(
                line(photos={str(n): PhotoUse(file=_TWO) for n in range(2001)}),
                id="quill",
                customer=_ELSE,
            )
        ),
        (("skipped", "too-many"),),
    ),
]


def _speaks(language: str, shop: str = "en") -> CheckInput:
    customer = Customer(name="Odalys Fenn", language=language)
    return given(of=order(line(), customer=customer), settings={"language": shop})


LANGUAGE = [
    *(
        Case(
            "order/language",
            f"{customer or 'nothing'} in a shop of {shop}",
            _speaks(customer, shop),
            (PASS,),
        )
        for customer, shop in (("de-AT", "en"), ("", "es"), ("en-IE", "ar"), ("", "en"))
    ),
    Case(
        "order/language",
        "one without sentences",
        _speaks("pl", "de"),
        (("note", "no-sentences"),),
        ("no sentences in Polish", "pages are in German", "Arabic (ar)", "English (en)"),
    ),
    Case(
        "order/language",
        "of the shop, without sentences",
        _speaks("", "sv"),
        (("note", "no-sentences"),),
        ("in Swedish", "pages are in English"),
    ),
]

_PHOTO = order(_uses(_ONE))
RIGHTS = [
    Case("order/rights", "allowed", given(of=_PHOTO, photos={}), (PASS,)),
    Case(
        "order/rights",
        "no picture of theirs",
        given(of=order(line(photos={})), rights=Rights()),
        (PASS,),
    ),
    Case(
        "order/rights",
        "nobody said",
        given(of=_PHOTO, photos={}, rights=Rights(show=True)),
        (("warn", "not-said"),),
        ("write rights: {print: yes} into order.yaml",),
    ),
    Case(
        "order/rights",
        "not allowed",
        given(of=_PHOTO, photos={}, rights=Rights(print=False, show=True)),
        (("stop", "refused"),),
        ("does not allow",),
    ),
]

_ON_FLAT = given(on=blank("flat"), of=order(line(blank=blank("flat").id)))
FACES = [
    Case("layout/face-there", "all there", given(), (PASS,)),
    Case(
        "layout/face-there",
        "round on a coaster",
        _ON_FLAT,
        (("stop", "lacking"),),
        ("The design “Harbour photo” draws on all the way round", "has only the front"),
    ),
    Case("layout/face-there", "unknown blank", given(of=order(line(blank="none"))), (PASS,)),
]

CASES = [
    *LIMITS,
    *ORDERED,
    *LIST,
    *DUE,
    *STOCK,
    *PRICE,
    *PRICE_BREAK,
    *SAME,
    *LANGUAGE,
    *RIGHTS,
    *FACES,
]
