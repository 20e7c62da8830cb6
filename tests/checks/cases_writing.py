"""Table of the checks of how words are written: alphabets, quotes, spaces, names once seen."""

from __future__ import annotations

from pathlib import Path

from proofgen.model import Customer
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.cases_words import _row, _text
from tests.checks.factory import given, line, order

_L = "words/look-alikes"
ALPHABETS = [
    *(
        _row(_L, text)
        for text in [
            "Tシャツ",
            "漢字かな",
            "한글漢字",
            "ΟΔΥΣΣΕΥΣ",
            "Oʻzbek",
            "Işıl",
            "नरेन्द्र",
            "ნინო",
            "2027",
            "12th",
            "SW1A 1AA",
            "K1A 0B1",
            "H2O",
            "4ever",
            "1st",
            "10:30",
            "Հայկ",
        ]
    ),
    # Greek capitals among Latin letters; the shop's own alphabet decides which are the odd ones.
    _row(_L, "\u0391nna", ("warn", "mixed"), says=("“Α” (greek capital letter alpha, U+0391)",)),
    _row(_L, "Αnna", ("warn", "mixed"), says=("among Latin letters",), language="el"),
    _row(_L, "Ανnα", ("warn", "mixed"), says=("“n” (latin small letter n",), language="el"),
    _row(_L, "Ο\u043e", ("warn", "mixed"), says=("among Greek letters",), language="el"),
    _row(_L, "Ο\u043e", ("warn", "mixed"), says=("among Cyrillic letters",), language="uk"),
    _row(_L, "カ漢б", ("warn", "mixed"), says=("“б” (cyrillic small letter be",), language="ja"),
    _row(_L, "ΑΝΝΑ", ("warn", "other-alphabet"), says=("looks Latin", "in Greek letters")),
    _row(_L, "ΑΝΝΑ", language="el"),
    _row(_L, "ꓮꓠꓠꓮ", ("warn", "other-alphabet"), says=("in Lisu letters",)),
    _row(_L, "\u0251nna", ("warn", "odd-form"), says=("latin small letter alpha", "by hand")),
    _row(_L, "𝓐nna", ("warn", "odd-form"), says=("Write “A” in plain letters.",)),
    _row(
        _L,
        "Wi11iam",
        ("warn", "digit"),
        says=("“Wi11iam” has the digit 1 among letters; an l or an I looks the same",),
    ),
    _row(_L, "R0SALIE", ("warn", "digit"), says=("an O looks the same",)),
    _row(_L, "b0b", ("warn", "digit")),
    _row(
        _L, "2O27", ("warn", "digit"), says=("has the letter O among digits; a 0 looks the same",)
    ),
]

_H = "words/hidden-characters"
SPACES = [
    *(
        _row(_H, text)
        for text in [
            "Bo, Di & Kai", "Bo ... Di", "Qui ? Moi", "pre- and post-war", "5 - 6",
            "dancin’ in the rain", "in ’t Veld", "Bo :)", "(Bo)", "Bo (2)", ".5",
        ]
    ),
    _row(_H, "Bo , Di", ("warn", "stray-space"), says=("has a space where none belongs: “o ,”",)),
    _row(_H, "With love .", ("warn", "stray-space")),
    _row(_H, "( Bo)", ("warn", "stray-space")),
    _row(_H, "(Bo )", ("warn", "stray-space")),
    _row(_H, "Anne -Marie", ("warn", "stray-space"), says=("“Anne -Marie”",)),
    _row(_H, "O’ Neil", ("warn", "stray-space")),
    _row(_H, "Fenn’ s", ("warn", "stray-space")),
    _row(_H, "two \nlines", ("warn", "edge-space")),
]  # fmt: skip

_Q = "words/quotes"
QUOTES = [
    Case(_Q, "no words", given(of=order(line([""]))), (NOT_NEEDED,)),
    *(
        _row(_Q, text)
        for text in [
            "Bo", "“Bo”", 'Bo "the Bear" Fenn', "„Anna“", "„Anna”", "»Anna«", "«Anna»", "”Anna”",
            "‘Don’t’", "“‘Bo’”", "D’Arcy", "O'Neil", "the Fenns’ house", "’90s", "Rock ’n’ roll",
            "5'10\"", '12" vinyl', "（漢字）", "「漢字」", "Love you :)", "Love you :-)", "(Bo :)",
            "a) Bo b) Di", "1) Bo", "(Bo [and Di])", "Hawai‘i",
        ]
    ),
    _row(
        _Q,
        "“Bo",
        ("warn", "unclosed"),
        says=("has a left double quotation mark that nothing closes.",),
    ),
    _row(_Q, "(Bo & Di", ("warn", "unclosed")),
    _row(_Q, "„Anna", ("warn", "unclosed")),
    _row(_Q, "Bo”", ("warn", "unopened"), says=("that nothing opens",)),
    _row(_Q, "Bo & Di)", ("warn", "unopened")),
    _row(_Q, "“(Bo”)", ("warn", "unclosed"), ("warn", "unopened")),
    _row(_Q, "O‘Neil", ("warn", "turned-apostrophe"), says=("Write “O’Neil”, if that is meant.",)),
    _row(_Q, "‘90s", ("warn", "turned-apostrophe")),
    _row(_Q, "O`Neil", ("warn", "accent"), says=("grave accent", "Write “O’Neil”")),
    _row(_Q, "O´Neil", ("warn", "accent")),
]  # fmt: skip

_S = "words/spelling"
KNOWN = frozenset({"Odalys Fenn", "Zoë", "Margarethe", "Bo", "Anne-Marie", "Nguyễn"})


def _name(text, *codes, says=(), names=KNOWN):
    asked = _text(text).order
    return Case(_S, text, given(of=asked, names=names), tuple(codes) or (PASS,), says)


SPELLING = [
    Case(_S, "no words", given(of=order(line([""])), names=KNOWN), (NOT_NEEDED,)),
    Case(_S, "no words and no list", given(of=order(line([""]))), (NOT_NEEDED,)),
    Case(
        _S,
        "no list, told once",
        given(of=order(line(["Bo", "Di", "Kai"]))),
        (("skipped", "no-list"),),
        ("the shop has no list of names", "one name on each line"),
    ),
    *(
        _name(text)
        for text in [
            "Odalys", "ODALYS & BO", "Fenn", "zoë", "Ottoline", "Bea", "Jo", "Anne-Marie",
            "Odolis", "12 Fenns’", "Nguye\u0302\u0303n",
        ]
    ),
    _name("Odalis", ("note", "near"), says=("“Odalis” is almost “Odalys”, which this shop",)),
    _name("Odlays", ("note", "near")),
    _name("Odals", ("note", "near")),
    _name("Odallys", ("note", "near")),
    _name("Zoe", ("note", "near"), says=("“Zoe” is almost “Zoë”",)),
    _name("Nguyen", ("note", "near"), says=("almost “Nguyễn”",)),
    _name("Margarete & Odalis", ("note", "near"), ("note", "near")),
    _name("Anna-Marie", ("note", "near")),
    _name("Odalis", names=frozenset()),
    _name("Odalys", names=frozenset({"Odalis"})),  # as the customer's own name is
]  # fmt: skip

_N = "words/names"
MAIREAD = Customer(name="Mairéad Tveit", language="en")
CUSTOMER, ACCENTS = ("note", "customer"), ("note", "accents")


def _by(customer, names, *codes, says=(), label=""):
    """A list of names, ordered by somebody."""
    asked = order(line(names, list_file=Path("guests.csv")), customer=Customer(name=customer))
    return Case(_N, label or ", ".join(names), given(of=asked), tuple(codes) or (PASS,), says)


def _hers(text, *codes, says=()):
    asked = order(line([text]), customer=MAIREAD)
    return Case(_N, text, given(of=asked), tuple(codes) or (PASS,), says)


NAMES = [
    Case(_N, "no words", given(of=order(line([""]))), (NOT_NEEDED,)),
    _hers("Mairead is 70", CUSTOMER, says=("“Mairead” is almost “Mairéad”, as the customer’s",)),
    *(
        _hers(text, CUSTOMER)
        for text in ["mairead is 70", "MAIREAD", "Mairéed", "Mairead’s 70", "Tviet"]
    ),
    *(
        _hers(text)
        for text in ["Mairéad is 70", "MAIRÉAD’S 70", "The Tveits", "tweet", "Mary", "70"]
    ),
    _by("Anna Lee", ["Bo", "Anne", "Lea", "Di"], CUSTOMER),
    _by("Anna Lee", ["Bo", "Anne", "Anna", "Di"], label="the customer and somebody else"),
    _by("Jo Orr", ["Anna Orr", "Anne Orr", "Jan Ek", "Jana Ek"]),
    _by(
        "Jo Orr",
        ["Malgorzata Ferreira", "Małgorzata Novák", "Di"],
        ACCENTS,
        says=("“Malgorzata” is written “Małgorzata” elsewhere in this order.",),
    ),
    _by("Jo Orr", ["Soren Ek", "Søren Falk", "Eva Weiß", "Tom Weiss"], ACCENTS, ACCENTS),
    _by("Jo Orr", ["Zoe Ek", "Zoë Ek", "Di Ek"], label="the whole name, which is told of alike"),
    _by("Jo Orr", ["TOM WEISS", "Eva Weiß", "Di"], label="a sharp s in capitals"),
    _by("Jo Orr", ["Bo a", "Di à", "Kai"], label="short words"),
    _by("Jo Orr", ["Nguyễn Văn Thanh", "Trần Văn Thành", "Di"], label="tones"),
    _by("Jo Orr", ["Андрей Ли", "Андреи Ко", "かな", "がな"], label="other alphabets"),
]  # fmt: skip

CASES = [*ALPHABETS, *SPACES, *QUOTES, *SPELLING, *NAMES]
