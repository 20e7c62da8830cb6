"""Order slips: what mail programs do to them, what is believed of them, and what never is."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

import pytest

from proofgen.intake.keeping import ASKED
from proofgen.signoff.order_slip import slips_in, unpacked
from proofgen.workshop import Workshop
from tests.intake.conftest import all_of, away, one_of, order_of, orders
from tests.order_slips import GOOD, as_json, block, order_slip, packed
from tests.signoff.test_slip import SURVIVES, SURVIVES_NEW

WAYS: dict[str, Callable[[str], str]] = {**SURVIVES, **SURVIVES_NEW}

SPELLED = (
    ("ANSWER", "ORDER"),
    ("Answer", "Order"),
    ("answer", "order"),
    ("ＡＮＳＷＥＲ", "ＯＲＤＥＲ"),
    ("\u200b".join("ANSWER"), "\u200b".join("ORDER")),
)


def mangled(way: str, text: str) -> str:
    """A mail's doing to an order slip; those that look for the mark of an answer find it."""
    told = WAYS[way](text.replace("ORDER CODE", "ANSWER CODE"))
    for old, new in SPELLED:
        told = told.replace(old, new)
    return told


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("deflated", [True, False])
def test_a_slip_survives_the_mail(way: str, deflated: bool) -> None:
    found = slips_in(mangled(way, order_slip(deflated)))
    assert found and all(one == GOOD for one in found)


def test_it_becomes_a_draft_to_the_letter(workshop: Workshop) -> None:
    taken = one_of(workshop, order_slip())
    assert taken.is_new and taken.order == "odalys-fenn" and not taken.asks
    assert taken.missing == ("the photo for “photo”",)
    assert taken.step == "proofgen take PHOTO --for odalys-fenn"
    assert order_of(workshop, taken.order) == {
        "customer": {"name": "Odalys Fenn", "email": "odalys@example.org", "language": "de"},
        "due": "2026-12-20",
        "rights": {"print": "yes"},
        "draft": "yes",
        "lines": [
            {
                "design": "harbour-photo",
                "blank": "can-wrap-linen",
                "cloth": "white",
                "quantity": "2",
                "words": GOOD["words"],
            }
        ],
    }
    kept = (workshop.folder / "orders" / taken.order / ASKED).read_text("utf-8")
    assert slips_in(kept) == [GOOD] and "Order: Harbour photo" in kept


def test_the_same_slip_twice_is_nothing_new(workshop: Workshop) -> None:
    first = one_of(workshop, order_slip())
    again = one_of(workshop, mangled("quoted, then wrapped", order_slip(deflated=False)))
    assert (again.order, again.is_new) == (first.order, False)
    later = one_of(workshop, order_slip(time="2026-11-26T14:03:00Z"))
    assert later.told == (
        "odalys-fenn asks for the same: if it was sent twice, delete one of the two folders",
    )
    assert later.is_new and orders(workshop) == ["odalys-fenn", "odalys-fenn-2"]


def test_two_slips_in_one_mail_are_two_orders(workshop: Workshop) -> None:
    tags = order_slip(
        design="gull-coaster", blank="coaster-round", photos=None, price="6.50",
        words={"name": "Gull Cottage"},
    )  # fmt: skip
    taken = all_of(workshop, order_slip() + "\n\n" + tags)
    assert len(taken) == 2 and len(orders(workshop)) == 2


LISTED = {"name": ["Ida", "Zoë ‘Q’", 'O"Neil; Jr, III', "محمد"]}


def test_a_list_becomes_the_orders_list(workshop: Workshop) -> None:
    taken = one_of(workshop, order_slip(words={"line": "x"}, lists=LISTED, many=4))
    written = order_of(workshop, taken.order)["lines"]
    assert isinstance(written, list) and written[0]["list"] == "guests.csv"
    from proofgen.shop import read_shop

    read = read_shop(workshop.folder)
    assert read.faults == ()
    pieces = read.orders[taken.order].lines[0].pieces
    assert [piece.words["name"] for piece in pieces] == LISTED["name"]


REFUSED = {
    "no such design": ({"design": "harbor-photo"}, "no design “harbor-photo”"),
    "a path for a design": ({"design": "../../shop.yaml"}, "no design “../../shop.yaml”"),
    "a blank it is not on": ({"blank": "coaster-round"}, "not offered on “coaster-round”"),
    "a path for a blank": ({"blank": "../blanks/can"}, "not offered on"),
    "no such cloth": ({"cloth": "plaid"}, "no cloth “plaid”"),
    "too many pieces": ({"many": 5001}, "5001 pieces are asked for, 5000 are the most"),
    "too many names": (
        {"words": {"line": "x"}, "lists": {"name": ["A"] * 1001}, "many": 1001},
        "a list of 1001 names, 1000 are the most",
    ),
    "names that do not fit the number": (
        {"words": {"line": "x"}, "lists": {"name": ["A", "B"]}, "many": 3},
        "asks for 3 pieces and lists 2 names",
    ),
    "a slot of no design": ({"words": {"../x": "a"}}, "no place “../x”"),
    "a photo slot of no design": (
        {"photos": {"order.yaml": GOOD["photos"]["photo"]}}, "no place “order.yaml”",
    ),
    "words in two ways": ({"lists": {"name": ["A", "B"]}}, "“name” in two ways"),
    "control characters": ({"words": {"name": "a\x1b[2J"}}, "holds a control character"),
    "a line's end in a name": ({"name": "Odalys\r\nBcc: x"}, "holds a control character"),
    "a formula": (
        {"words": {"line": "x"}, "lists": {"name": ["A", "=HYPERLINK(1)"]}},
        "a spreadsheet would run it",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_no_page_puts_together_is_turned_away(case: str, workshop: Workshop) -> None:
    changed, says = REFUSED[case]
    error = away(workshop, order_slip(**changed))
    assert says in error.problem and error.cure and error.exit_code == 4
    assert "\n" not in error.problem and error.problem.isprintable()


DAMAGED = {
    "a letter": lambda t: re.sub("(?<=CODE\n.{30}).", "Q", t),
    "no end": lambda t: t.replace("END ORDER CODE", ""),
    "half": lambda t: t[: len(t) // 2] + "END ORDER CODE",
    "a field too many": lambda _: block(packed(as_json({**GOOD, "total": "1.00"}))),
    "a field of another kind": lambda _: block(packed(as_json({**GOOD, "many": "2"}))),
    "a number below one": lambda _: block(packed(as_json({**GOOD, "many": 0}))),
    "no object": lambda _: block(packed(b"[1]")),
    "no JSON": lambda _: block(packed(b"{")),
    "not canonical": lambda _: block(packed(b" " + as_json(GOOD))),
    "a bomb": lambda _: block(packed(b'"' + b"a" * 5_000_000 + b'"')),
    "nested": lambda _: block(packed(b"[" * 20_000)),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_a_damaged_slip_is_said_to_be_one(case: str, workshop: Workshop) -> None:
    assert "damaged on the way" in away(workshop, DAMAGED[case](order_slip())).problem


def test_prices_are_the_shops_own(workshop: Workshop) -> None:
    """What a slip says of them is told where it differs, and written nowhere."""
    taken = one_of(workshop, order_slip(price="0.01"))
    assert taken.asks and "“0.01 EUR” each, today’s price is €14.50" in taken.told[0]
    line = order_of(workshop, taken.order)
    assert "price" not in str(line) and "0.01" not in str(line)
    design = workshop.shop.designs["harbour-photo"]
    assert design.price("can-wrap-linen", 2) == Decimal("14.50")
    other = one_of(workshop, order_slip(currency="USD", time="2026-11-26T14:03:00Z"))
    assert other.asks and "USD" in other.told[0]


def test_what_is_no_block_of_ours_is_none() -> None:
    assert unpacked(b"") is None and unpacked(b"\1") is None and unpacked(b"\2" + b"x" * 40) is None
