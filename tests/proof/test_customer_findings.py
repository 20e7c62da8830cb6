"""What a customer is told of findings: a calm sentence for each code, or a reason for none."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from proofgen.model import Customer, Finding, PhotoFacts
from proofgen.proof.customer_findings import CustomerFinding, for_customer
from proofgen.proof.finding_sentences import SAYS
from proofgen.proof.wishes import WISHES, wishes
from proofgen.say.tongue import Tongue
from tests.checks.factory import given, line, order

_NOT_LOOKED = "a check that could not look says so to the maker, who looks by eye"
_DESIGN = "a fault of the design or of its pictures, which the maker mends"
_BLANK = "the maker's own trade: what the blank is and how it is pressed"
_COLOURS = "the page shows and says in its part on colour what this cloth does to these colours"
_PRICE = "the bill shows the price, or that there is none yet"
_FAINT = "a guess from faint traces, or harmless: it would only worry"

# Check or code of a check, and why it stays with the maker.
STAYS = {
    "order/limits-read": "the shop's own settings",
    "order/ordered": "there is no page of it yet",
    "order/due": "the page names the day, and until when to answer; a new day is agreed on by hand",
    "order/stock": "the maker's store room",
    "order/language": "the customer sees which language it is",
    "order/rights": "the order's own question to the customer, which the maker asks once",
    "order/same-photo": "nobody else's order is named to a customer",
    "order/price": _PRICE,
    "order/price-break": "the maker tells it, or changes the steps of the price",
    "blank/closes": _BLANK,
    "blank/dye-takes": _BLANK,
    "blank/finish": _BLANK,
    "blank/fits-press": _BLANK,
    "blank/heat": _BLANK,
    "blank/holes": _BLANK,
    "blank/heat-agrees": _BLANK,
    "blank/two-sides-foam": _BLANK,
    "blank/strong-cloth": _COLOURS,
    "blank/cloth-suits": _COLOURS,
    "order/remark": "the customer wrote it",
    "order/cloth-written": "a guess from a mail; the proof shows the cloth in its colour",
    "order/quantity-written": "a guess from a mail; the proof tells how many pieces there are",
    "words/as-written": "a guess from a mail, with which the maker compares the words before",
    "words/spelling": "names on the shop's list are other people's",
    "photo/file-name": _FAINT,
    "photo/enlarged:perhaps-enlarged": _FAINT,
    "photo/enlarged:made-smaller": "the photo holds its fine detail all the same",
    "photo/screenshot:screen-size": _FAINT,
    "photo/screenshot:bars-cut": "what is printed leaves the bars out",
    "layout/picture-resolution": _DESIGN,
    "layout/photo-size": "the page shows the photo as large as it will be",
    "layout/bleed": _DESIGN,
    "layout/pattern:scaled": "by design: the page shows the pattern as it will be",
    "words/hidden-characters:odd-space": "set as a plain space, which the page shows",
    "words/hidden-characters:edge-space": "left out when the words are set",
    "photo/present:no-design": "the order's file names a design that is not there",
    "words/empty:no-design": "the order's file names a design that is not there",
    "words/contrast:over-picture": _NOT_LOOKED,
    "photo/readable:not-looked-at": _NOT_LOOKED,
    "photo/effective-resolution:unmeasured": _NOT_LOOKED,
    "photo/blur:not-looked-at": _NOT_LOOKED,
    "photo/compressed-before:not-looked-at": _NOT_LOOKED,
    "photo/enlarged:not-looked-at": _NOT_LOOKED,
    "photo/exposure:not-looked-at": _NOT_LOOKED,
    "photo/screenshot:not-looked-at": _NOT_LOOKED,
    "photo/old-print:not-looked-at": _NOT_LOOKED,
    "layout/focus:unknown": _NOT_LOOKED,
    "layout/faces:none-found": _NOT_LOOKED,
    "layout/focus:chosen-anew": "the page shows the part that was chosen, and asks about it",
    "layout/faces:chin": "the page shows it, and little is lost",
    "layout/focus:chosen": "the page shows the part that was chosen, and asks about it",
}

_EVERY = [f"{check.id}:{code}" for check in CHECKS.values() for code in check.codes]


def finding(key: str, status: str = "warn", **more: object) -> Finding:
    check, _, code = key.partition(":")
    return Finding(check=check, code=code, status=status, says="for the maker", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("key", _EVERY)
def test_every_code_has_a_sentence_or_a_reason_why_it_stays_with_the_maker(key: str) -> None:
    stays = key in STAYS or key.partition(":")[0] in STAYS
    assert (key in SAYS) != stays


def test_no_sentence_and_no_reason_speaks_of_a_code_that_no_check_has() -> None:
    checks = {key.partition(":")[0] for key in _EVERY}
    assert SAYS.keys() | WISHES.keys() <= set(_EVERY)
    assert STAYS.keys() <= set(_EVERY) | checks


@pytest.mark.parametrize("says", [*SAYS.values(), *WISHES.values()])
def test_sentences_are_whole_short_and_without_the_trades_words(says: str) -> None:
    assert says[0].isupper() and says.endswith(".") and len(says) <= 180
    trade = r"\b(ppi|dpi|pixels?|bleed|trim|original|ask for|sRGB|profile|raster|layout)\b|stop"
    assert not re.search(trade, says.replace("full stop", ""), re.IGNORECASE)


@pytest.mark.parametrize("key", list(WISHES))
def test_a_wish_begins_with_please_and_goes_with_what_is_told(key: str) -> None:
    assert WISHES[key].startswith("Please send ") and (key in SAYS or key in STAYS)


def test_a_customer_reads_neither_the_makers_sentence_nor_the_cure() -> None:
    told = for_customer(
        [
            finding("photo/effective-resolution:soft", cure="Ask for the original"),
            finding("photo/effective-resolution:soft", face="back"),
            finding("order/stock:short"),
            finding("photo/blur:soft", "pass"),
            finding("photo/blur:broken", "broken"),
            finding("words/contrast:vanishing", "stop", accepted="so she wants it"),
        ],
        Tongue(),
    )
    assert told == [
        CustomerFinding("Your photo is a little small for this piece: it may look soft."),
        CustomerFinding(
            "These words have nearly the colour of what is behind them and can hardly be seen.",
            "so she wants it",
        ),
    ]


def test_where_nobody_looked_for_faces_the_customer_is_asked_to() -> None:
    """Else the page would say that there is nothing that could spoil the picture."""
    (told,) = for_customer([finding("layout/faces:not-looked", "skipped")], Tongue())
    assert "not for faces" in told.says and "Please look yourself" in told.says


def test_of_a_photo_that_does_not_tell_its_customer_is_asked_which_way_up_it_is() -> None:
    (told,) = for_customer([finding("layout/faces:way-up-unknown", "skipped")], Tongue())
    assert told.says.startswith("Is your photo the right way up")


@pytest.mark.parametrize(
    ("more", "before"),
    [
        ({"text": "Ma1ia"}, "“Ma1ia”: "),
        ({"some": True, "pieces": (3,)}, "Piece 3: "),
        ({"some": True, "pieces": (1, 2, 3, 4, 7), "text": "Ana"}, "Pieces 1 to 4 and 7, “Ana”: "),
        ({"some": True, "pieces": (1, 3, 5, 7, 9)}, "Pieces 1, 3, 5, 7 and 9: "),
        ({"some": True, "pieces": (1, 3, 5, 7, 9, 11, 12)}, "7 of the 120 pieces: "),
        ({"pieces": (1, 2)}, ""),
        ({"text": "x" * 90}, f"“{'x' * 40}…”: "),
        ({"text": "a\u202eb"}, "“a⟨U+202E⟩b”: "),
    ],
)
def test_words_and_pieces_stand_before_the_sentence(more, before) -> None:
    told = for_customer([finding("words/weekday:no-such-day", **more)], Tongue(), quantity=120)
    assert told[0].says == f"{before}The calendar has no such day."


@pytest.mark.parametrize(
    ("names", "says"),
    [
        (
            ["Bo", "Di", "BO ", "Kai"],
            "Pieces 1 and 3, “Bo”: This name stands on more than one piece.",
        ),
        (
            ["Zoë", "Di", "Zoe", "Anne-Marie"],
            "Pieces 1 and 3, “Zoë / Zoe”: Two names differ only in an accent or a hyphen.",
        ),
    ],
)
def test_of_a_name_that_stands_twice_name_and_pieces_are_told(names: list[str], says: str) -> None:
    found = run_check(CHECKS["words/repeated"], given(of=order(line(names))))
    assert [told.says for told in for_customer(found, Tongue(), quantity=4)] == [says]


def test_who_reads_their_own_name_wrong_is_told_how_the_order_has_it() -> None:
    asked = order(line(["Mairead is 70"]), customer=Customer(name="Mairéad Tveit"))
    (told,) = for_customer(run_check(CHECKS["words/names"], given(of=asked)), Tongue())
    assert told.says == (
        "“Mairead is 70”: Your own name is written “Mairéad” with us. If this is meant to be it, "
        "please look which of the two is right."
    )


@pytest.mark.parametrize("tag", ["de", "es", "ar"])
def test_the_other_spelling_stands_in_every_language_and_cannot_hide_signs(tag: str) -> None:
    found = finding("words/names:accents", "note", text="Zoe", measure="Zo\u202eë{known}")
    (told,) = for_customer([found], Tongue(tag))
    assert "Zo⟨U+202E⟩ë{known}" in told.says and "Elsewhere" not in told.says


SMALL = finding("photo/effective-resolution:soft")


def test_a_wish_is_told_once_and_one_for_another_photo_first() -> None:
    blurred, same = finding("photo/blur:blurred"), finding("photo/enlarged:enlarged")
    assert wishes([SMALL, blurred, same, finding("photo/frames:several")]) == [
        WISHES["photo/blur:blurred"],
        WISHES["photo/effective-resolution:soft"],
    ]


@pytest.mark.parametrize("other", ["photo/screenshot:screenshot", "photo/screenshot:bars"])
def test_who_shall_send_the_photo_itself_is_not_asked_for_the_original_too(other: str) -> None:
    assert wishes([SMALL, finding("photo/enlarged:enlarged"), finding(other)]) == [WISHES[other]]


def photo(**more: object) -> PhotoFacts:
    return PhotoFacts(file=Path("pier.jpg"), format="JPEG", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("came", "original"),
    [
        (photo(width_px=1600, height_px=1200), False),
        (photo(width_px=1600, height_px=1200, private=("camera",)), True),
        (photo(width_px=4000, height_px=3000), True),
    ],
)
def test_who_sent_the_original_is_not_asked_for_it(came: PhotoFacts, original: bool) -> None:
    (wish,) = wishes([SMALL], came)
    assert ("as the camera or the telephone made it" in wish) is not original


def test_who_sent_a_jpeg_is_not_asked_for_one() -> None:
    (wish,) = wishes([finding("photo/readable:unsupported", "stop")], photo())
    assert "JPEG" not in wish and "saved anew" in wish
