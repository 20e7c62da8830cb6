"""Table of the checks of names, dates and other words."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

from PIL import Image

from proofgen.artwork.materials import Materials
from proofgen.artwork.rasters import raster_png
from proofgen.geometry import Rect
from proofgen.model import Customer, Limits
from proofgen.store import NoStore
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.factory import (
    blank,
    cloth,
    design,
    facts,
    given,
    layer,
    layout,
    line,
    order,
    photo,
    words,
)
from tests.materials import NO_SHOP


def _text(text, language="en", customer="en"):
    asked = order(
        line(words={"name": text}, pieces=line([text]).pieces),
        customer=Customer(name="Odalys Fenn", language=customer),
    )
    return given(of=asked, settings={"language": language})


def _row(check, text, *codes, says=(), **changes):
    wants = tuple(codes) or (PASS,)
    label = text.encode("unicode_escape").decode()
    return Case(check, label or "nothing", _text(text, **changes), wants, says)


MISSING = [
    Case("words/missing-letters", "none", given(layout(words())), (PASS,)),
    Case(
        "words/missing-letters",
        "one",
        given(layout(words("漢 Bo", missing="漢"))),
        (("stop", "missing"),),
        ("Caladea has no “漢” (CJK unified ideograph-6f22, U+6F22).", "has this letter"),
    ),
    Case(
        "words/missing-letters",
        "a mark and another",
        given(layout(words("x", missing="\u0301ж"))),
        (("stop", "missing"),),
        (
            "“◌\u0301” (combining acute accent, U+0301)",
            "or “ж” (cyrillic small letter zhe, U+0436)",
        ),
    ),
    Case(
        "words/missing-letters",
        "a whole foreign text",
        given(layout(words("x", missing="абвгдежзий"))),
        (("stop", "missing"),),
        (
            "or 2 more",
            "or write font: Source Serif Pro in designs/harbour/design.md:7, which has all letters "
            "of these words (so has Manrope).",
        ),
    ),
    Case(
        "words/missing-letters",
        "no font that is here has it",
        given(layout(words("漢 Bo", missing="漢"))),
        (("stop", "missing"),),
        (
            "put a font that has this letter into the shop’s folder fonts/ and write its name in "
            "designs/harbour/design.md:7, as font: NAME",
        ),
    ),
    Case(
        "words/missing-letters",
        "two names, and one font for all",
        given(
            layout(words("Țară", missing="Ț"), words("Жанна", missing="Жан"), words("Ada")),
        ),
        (("stop", "missing"), ("stop", "missing")),
        (
            "write font: Source Serif Pro in designs/harbour/design.md:7, which has all letters of "
            "all words of this order there (so has Manrope).",
            "Please choose another design, or font: Source Serif Pro, as at piece 1.",
        ),
    ),
    Case(
        "words/missing-letters",
        "two names, and no font for both",
        given(layout(words("Țară", missing="Ț"), words("漢", missing="漢"))),
        (("stop", "missing"), ("stop", "missing")),
        (
            "which has all letters of these words, but not of all words of this order there (so "
            "have Manrope and Amatic SC).",
            "into the shop’s folder fonts/",
        ),
    ),
    Case("words/missing-letters", "no words", given(layout()), (NOT_NEEDED,)),
]


def _high(mm, **changes):
    return given(layout(words(letter_mm=mm)), **changes)


HEIGHT = [
    Case("words/letter-height", "high", _high(6.0), (PASS,)),
    Case("words/letter-height", "at the limit", _high(3.0), (PASS,)),
    Case(
        "words/letter-height",
        "a hair under",
        _high(2.9999),
        (("warn", "small"),),
        ("would be 2.9 mm high; below 3 mm",),
    ),
    Case(
        "words/letter-height",
        "at half",
        _high(1.5),
        (("warn", "small"),),
        ("would be 1.5 mm high",),
    ),
    Case("words/letter-height", "under half", _high(1.4999), (("stop", "tiny"),)),
    Case(
        "words/letter-height",
        "own limit",
        _high(3.0, limits=Limits(letter_height_mm=4)),
        (("warn", "small"),),
    ),
    Case("words/letter-height", "no letter to measure", _high(0.0), (PASS,)),
    Case("words/letter-height", "no words", given(layout()), (NOT_NEEDED,)),
]

EMPTY = [
    Case("words/empty", "said", given(layout(words())), (PASS,)),
    Case(
        "words/empty", "nothing", given(layout(words(""))), (("stop", "no-words"),), ("(“name”)",)
    ),
    Case("words/empty", "spaces", given(layout(words(" \u00a0\u200b"))), (("stop", "no-words"),)),
    Case(
        "words/empty",
        "some of a list",
        given(
            layout(words("Bo")),
            layout(words("")),
            layout(words("Di")),
            of=order(line(["Bo", "", "Di"])),
        ),
        (("stop", "no-words"),),
        ("Piece 2: This design has a place",),
    ),
    Case(
        "words/empty",
        "no design",
        given(layout(words()), of=order(line(design="gone"))),
        (("skipped", "no-design"),),
    ),
    Case(
        "words/empty",
        "a design without words",
        given(layout(), designs=(design(slots=()),)),
        (PASS,),
    ),
    Case("words/empty", "nothing laid out", given(), (NOT_NEEDED,)),
]

_H = "words/hidden-characters"
HIDDEN = [
    Case(_H, "no words", given(of=order(line([""]))), (NOT_NEEDED,)),
    # Names that must pass.
    *(
        _row(_H, text)
        for text in [
            "Odalys & Bram",
            "Zoë",
            unicodedata.normalize("NFD", "Zoë"),
            "O’Neil",
            "D’Arcy-Müller",
            "Nguyễn",
            unicodedata.normalize("NFD", "Nguyễn"),
            "محمد",
            "שלום",
            "שַׁבָּת",
            "👨‍👩‍👧",
            "🇬🇧",
            "ß",
            "İi",
            "漢字",
            "می‌خواهم",
            "क्‍ष",
            "ശ്രീമാന്‍",
            "❤️",
            "1️⃣",
            "🏴\U000e0067\U000e0062\U000e0077\U000e006c\U000e0073\U000e007f",
            "👩🏽‍🚒",
            "🏳️‍🌈",
            "two\nlines",
            "a block\n",
            "ज़ें",
        ]
    ),
    _row(
        _H,
        "Zo\u200be",
        ("stop", "invisible"),
        says=("“Zo⟨U+200B⟩e” holds a character nobody can see (zero width space, U+200B).",),
    ),
    _row(_H, "Zo\u200de", ("stop", "invisible")),
    _row(_H, "\u200dZoe", ("stop", "invisible")),
    _row(_H, "Zo\u00ade", ("stop", "invisible")),
    _row(
        _H,
        "Zo\u2060e\ufeff",
        ("stop", "invisible"),
        says=("word joiner, U+2060 and zero width no-break space, U+FEFF",),
    ),
    _row(_H, "Zo\u3164e", ("stop", "invisible")),
    _row(_H, "Zo\ufe0fe", ("stop", "invisible")),
    _row(_H, "Zo\U000e0067e", ("stop", "invisible")),
    _row(_H, "Zo\u2028e", ("stop", "invisible")),
    _row(_H, "Zo\te", ("stop", "control")),
    _row(_H, "Zo\x1b[2Je", ("stop", "control"), says=("“Zo⟨U+001B⟩[2Je”",)),
    _row(_H, "Zo\u202ee", ("stop", "direction"), says=("right-to-left override",)),
    _row(_H, "שלום\u200f", ("stop", "direction")),
    _row(_H, "Zo\ue000e", ("stop", "private")),
    _row(_H, "Zo\u0378e", ("stop", "unassigned")),
    _row(_H, "Zo\ud800e", ("stop", "control")),
    _row(_H, "Zo" + "\u0323\u0301\u0302\u0303" + "e", ("stop", "stacked-marks")),
    _row(_H, "Zoe\u00a0Fenn", ("warn", "odd-space"), says=("no-break space, U+00A0",)),
    _row(_H, "Zoe  Fenn", ("warn", "double-space")),
    _row(_H, "Zoe  Fenn  jr", ("warn", "double-space"), says=("(2 times)",)),
    _row(_H, " Zoe", ("warn", "edge-space")),
    _row(_H, "Zoe ", ("warn", "edge-space")),
    _row(_H, "Zo\u202e\u200be", ("stop", "direction"), ("stop", "invisible")),
    Case(
        _H,
        "one of a list, where it stands in the list",
        given(of=order(line(["Bo", "Zo\u200be", "Di"]))),
        (("stop", "invisible"),),
        ("Piece 2: “Zo⟨U+200B⟩e”",),
    ),
]

_L = "words/look-alikes"
ALIKE = [
    Case(_L, "no words", given(of=order(line([""]))), (NOT_NEEDED,)),
    *(
        _row(_L, text)
        for text in ["Zoë", "Москва", "Zoë и Москва", "محمد", "漢字 Bo", "3ª", "½", "ß"]
    ),
    _row(
        _L,
        "Z\u043ee",
        ("warn", "mixed"),
        says=("“о” (cyrillic small letter o, U+043E) among Latin letters",),
    ),
    _row(
        _L, "\u0430\u0440\u0435", ("warn", "other-alphabet"), says=("written in Cyrillic letters",)
    ),
    _row(_L, "\u0430\u0440\u0435", customer="ru"),
    _row(_L, "\u0430\u0440\u0435", language="uk-UA"),
    _row(_L, "\ufb01nn", ("warn", "odd-form"), says=("Write “fi” in plain letters.",)),
    _row(_L, "\uff22\uff4f", ("warn", "odd-form")),
]

_W = "words/weekday"
WEEKDAY = [
    Case(_W, "no words", given(of=order(line([""]))), (NOT_NEEDED,)),
    *(
        _row(_W, text, **changes)
        for text, changes in [
            ("Saturday 12 June 2027", {}),
            ("Saturday 12 June", {}),
            ("12 June 2027", {}),
            ("Saturday, June 12th, 2027", {}),
            ("Sat 12 Jun 2027", {}),
            ("Saturday 2027-06-12", {}),
            ("Friday 12/06/2026", {}),
            ("Monday 12/06/2027 or 06/12/2027", {}),
            ("Samstag, 12. Juni 2027", {"language": "de"}),
            ("samedi 12 juin 2027", {"customer": "fr"}),
            ("sábado 12 de junio de 2027", {"language": "es"}),
            ("Mona Friday, Sunday May 2027", {}),
            ("Friday 11 June to Sunday 13 June 2027", {}),
            ("Freitag 12. Juni 2027", {"language": "en"}),
        ]
    ),
    _row(
        _W,
        "Friday 12 June 2027",
        ("warn", "mismatch"),
        says=("“Friday 12 June 2027”: 12 June 2027 is a Saturday.",),
    ),
    _row(_W, "Friday, June 12th, 2027", ("warn", "mismatch")),
    _row(_W, "fri 2027-06-12", ("warn", "mismatch")),
    _row(
        _W,
        "Friday 05/06/2027",
        ("warn", "mismatch"),
        says=("5 June 2027 is a Saturday or 6 May 2027 is a Thursday",),
    ),
    _row(_W, "Freitag, 12. Juni 2027", ("warn", "mismatch"), language="de"),
    _row(_W, "vendredi 12 juin 2027", ("warn", "mismatch"), customer="fr"),
    _row(_W, "viernes 12 de junio de 2027", ("warn", "mismatch"), language="es"),
    _row(
        _W,
        "Friday 12 June 2027 and Sunday 13 June 2027",
        ("warn", "mismatch"),
        says=("12 June 2027 is",),
    ),
    _row(
        _W,
        "31 June 2027",
        ("warn", "no-such-day"),
        says=("There is no day such as “31 June 2027”.",),
    ),
    _row(_W, "Sunday 29 February 2027", ("warn", "no-such-day")),
]

REPEATED = [
    Case("words/repeated", "no list", given(), (PASS,)),
    Case("words/repeated", "all different", given(of=order(line(["Bo", "Di", "Kai"]))), (PASS,)),
    Case(
        "words/repeated",
        "twice, in another case",
        given(of=order(line(["Bo", "Di", "BO ", "Kai"]))),
        (("warn", "twice"),),
        ("“Bo” stands in the list more than once: pieces 1 and 3.",),
    ),
    Case(
        "words/repeated",
        "accents",
        given(of=order(line(["Zoë", "Di", "Zoe", "Anne-Marie"]))),
        (("warn", "alike"),),
        ("“Zoë” and “Zoe” differ in little: pieces 1 and 3.",),
    ),
    Case(
        "words/repeated",
        "a column of table numbers",
        given(of=order(line(["1", "1", "1", "2", "2", "2"]))),
        (PASS,),
    ),
    Case("words/repeated", "the same on all pieces", given(of=order(line(["Bo", "Bo"]))), (PASS,)),
]


def _sampled(*names):
    shown = replace(design(), sample_words={"name": "Your name"})
    return given(of=order(line([*names])), designs=(shown,))


SAMPLE = [
    Case("words/sample", "no sample", given(), (PASS,)),
    Case("words/sample", "words of one's own", _sampled("Bo", "Your names"), (PASS,)),
    Case(
        "words/sample",
        "those of the sample",
        _sampled("Bo", " your  Name"),
        (("warn", "unchanged"),),
        ("“ your  Name” is what the design’s sample says.", "the customer’s own words"),
    ),
    Case(
        "words/sample",
        "a guest of that name",
        _sampled("Bo", "Your name", "Zoë", "Ada", "Bram"),
        (("note", "unchanged"),),
    ),
]


def _contrast(colour, *under, cloth="white"):
    return given(layout(*under, words(colour=colour), colour=cloth))


class Painted(NoStore):
    """A store that has the wrap painted already: two inks, parted in the middle of the words."""

    def __init__(self, left: str, right: str) -> None:
        super().__init__()
        image = Image.new("RGB", (504, 224), left)
        # Bleed 6, hidden 22.916, words from 80 to 140: their middle is 138.9 mm from the left.
        image.paste(right, (278, 0, 504, 224))
        self.png = raster_png(image)

    def recall(self, kind: str, key: str) -> bytes:
        return self.png


def _on_picture(colour, left, right=None, cloth="white"):
    asked = _contrast(colour, photo(_ALL, photo=facts(sha256=f"{left}{right}")), cloth=cloth)
    return replace(asked, materials=Materials(NO_SHOP, Painted(left, right or left)))


_ALL = Rect(-30, -6, 260, 112)
_C = "words/contrast"
CONTRAST = [
    Case(_C, "ink on white", _contrast("#1b2a41"), (PASS,)),
    # W3C: #949494 on white is 3.03 to 1, #959595 is 2.995.
    Case(_C, "3.03 to 1", _contrast("#949494"), (PASS,)),
    Case(
        _C,
        "2.995 to 1",
        _contrast("#959595"),
        (("warn", "weak"),),
        ("stand out 2.9 to 1", "3 to 1 is the least"),
    ),
    Case(_C, "yellow", _contrast("#ffd964"), (("warn", "weak"),)),
    Case(_C, "white words on white cloth", _contrast("#ffffff"), (("stop", "vanishing"),)),
    Case(
        _C,
        "white words on dark cloth are dark cloth",
        _contrast("#ffffff", cloth="night"),
        (("stop", "vanishing"),),
    ),
    Case(
        _C,
        "pale words on dark cloth",
        _contrast("#fff4dd", cloth="night"),
        (("stop", "vanishing"),),
        ("Choose a paler cloth.",),  # bare cloth in black ink would stand out 1.5 to 1
    ),
    Case(
        _C,
        "grey words on a dark cloth that would show well through black ink",
        given(
            layout(
                words(colour="#808080"),
                on=blank(cloth=cloth(colours={"slate": "#6b7280"})),
                colour="slate",
            )
        ),
        (("warn", "weak"),),
        (
            "Choose another blank (this one has no paler cloth), or leave the words bare (white) "
            "in a ground of dark ink.",
        ),
    ),
    Case(
        _C,
        "the same where the blank comes in white too",
        given(
            layout(
                words(colour="#808080"),
                on=blank(cloth=cloth(colours={"slate": "#6b7280", "white": "#ffffff"})),
                colour="slate",
            )
        ),
        (("warn", "weak"),),
        ("Choose a paler cloth, or leave the words bare (white) in a ground of dark ink.",),
    ),
    Case(
        _C,
        "white words on a dark colour",
        _contrast("#ffffff", layer("colour", _ALL, colour="#1b2a41")),
        (PASS,),
    ),
    Case(
        _C,
        "dark words on a dark colour",
        _contrast("#1b2a41", layer("colour", _ALL, colour="#22334d")),
        (("stop", "vanishing"),),
    ),
    Case(
        _C,
        "half on a dark colour, half on white",
        _contrast("#1b2a41", layer("colour", Rect(-30, -6, 140, 112), colour="#22334d")),
        (("stop", "vanishing"),),
    ),
    Case(
        _C,
        "a colour elsewhere",
        _contrast("#1b2a41", layer("colour", Rect(-30, -6, 60, 112), colour="#22334d")),
        (PASS,),
    ),
    Case(_C, "on a photo", _contrast("#1b2a41", photo(_ALL)), (("skipped", "over-picture"),)),
    Case(_C, "on a pale photo", _on_picture("#1b2a41", "#dfe4da"), (PASS,)),
    Case(
        _C,
        "on a dark photo",
        _on_picture("#1b2a41", "#22334d"),
        (("stop", "vanishing"),),
        ("nearly that of the picture behind them",),
    ),
    Case(
        _C,
        "on a photo of middle lightness",
        _on_picture("#1b2a41", "#5f6b7c"),
        (("warn", "weak"),),
        (
            "hard to read over parts of the picture: they stand out 2.6 to 1",
            "Put a plain ground behind",
        ),
    ),
    Case(
        _C,
        "on a photo that is dark at one end",
        _on_picture("#1b2a41", "#dfe4da", "#22334d"),
        (("warn", "weak"),),
        ("stand out 1.1 to 1",),
    ),
    Case(
        _C,
        "pale words on a dark photo, on dark cloth",
        _on_picture("#fff4dd", "#22334d", cloth="night"),
        (("warn", "weak"),),
    ),
    Case(_C, "where the photo lacks", _contrast("#1b2a41", photo(_ALL, photo=None)), (PASS,)),
    Case(
        _C,
        "on a plain band over a photo",
        _contrast("#1b2a41", photo(_ALL), layer("colour", Rect(70, 40, 80, 20), colour="#ffffff")),
        (PASS,),
    ),
    Case(
        _C,
        "half on a photo, and weak on the rest",
        _contrast("#ffd964", photo(Rect(-30, -6, 140, 112))),
        (("skipped", "over-picture"), ("warn", "weak")),
    ),
    Case(
        _C,
        "what lies above the words does not count",
        given(layout(words(), layer("colour", _ALL, colour="#1b2a41"))),
        (PASS,),
    ),
    Case(
        _C,
        "the front of a wrap over a colour all round",
        given(
            layout(
                layer("colour", _ALL, colour="#22334d"),
                words(face="front", ink=Rect(20, 46, 60, 8)),
            )
        ),
        (("stop", "vanishing"),),
    ),
    Case(_C, "no words", given(layout()), (NOT_NEEDED,)),
]

CASES = [*MISSING, *HEIGHT, *EMPTY, *HIDDEN, *ALIKE, *WEEKDAY, *REPEATED, *SAMPLE, *CONTRAST]
