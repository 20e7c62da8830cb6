"""Table of the check of an order's words against those of its slip."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from proofgen.model import AskedChange, Line
from tests.checks.case import NOT_NEEDED, PASS, Case
from tests.checks.factory import design, given, line, order

_O = "words/ordered"
_DIFFERS, _LACKING, _MORE = ("warn", "differs"), ("warn", "lacking"), ("warn", "more")


def _slip(**changes: Any) -> dict[str, Any]:
    return {"design": "harbour", "many": 1, **changes}


def _one(label: str, ordered: str, *lines: Line, wants=PASS, says=(), changes=(), **slip) -> Case:
    asked = _slip(words={"name": ordered}, **slip)
    return Case(_O, label, given(of=order(*lines), slip=asked, changes=changes), (wants,), says)


def _list(label: str, ordered: list[str], names: list[str], *wants, says=(), changes=()) -> Case:
    asked = _slip(many=len(ordered), lists={"name": ordered})
    of = order(line(names))
    return Case(_O, label, given(of=of, slip=asked, changes=changes), wants or (PASS,), says)


def _text(text: str, **changes: Any) -> Line:
    """A line of one piece with these words."""
    plain = line(**changes)
    (piece,) = plain.pieces
    return replace(plain, words={"name": text}, pieces=(replace(piece, words={"name": text}),))


def _asked(old: str, new: str, slot: str = "name") -> AskedChange:
    return AskedChange(pieces=(1,), slot=slot, line=1, old=old, new=new)


MANY = [f"Guest {letter}" for letter in "ABCDEF"]
_R = "order/remark"
_LONG = "Please a coaster too. " * 180
_G = "order/as-ordered"


def _goods(label: str, *lines: Line, wants=(PASS,), says=(), **slip: Any) -> Case:
    asked = _slip(**{"blank": "can-wrap", "cloth": "white", **slip})
    return Case(_G, label, given(of=order(*lines), slip=asked), wants, says)


GOODS = [
    Case(_G, "no slip", given(of=order()), (NOT_NEEDED,)),
    _goods("as ordered"),
    _goods(
        "another colour",
        wants=(("warn", "cloth"),),
        says=(
            "The customer ordered the cloth “sky”, and the order has “white”.",
            "Write cloth: sky there;",
        ),
        cloth="sky",
    ),
    _goods("another piece", wants=(("warn", "blank"),), says=("“can-fold”",), blank="can-fold"),
    _goods("another design", wants=(("warn", "design"),), design="stars"),
    _goods(
        "too few",
        wants=(("warn", "quantity"),),
        says=("The customer ordered 6 pieces, and the order has 1.",),
        many=6,
    ),
    _goods("two lines together", line(), line(number=2), many=2),
    _goods("something added", line(), line(number=2, design="stars", cloth="sky")),
    _goods("added in another shape", line(), line(number=2, blank="coaster", cloth="sky")),
    _goods(
        "one of two colours",
        line(),
        line(number=2, cloth="night"),
        wants=(("warn", "cloth"),),
        says=("and the order has “night”",),
        many=2,
    ),
    _goods(
        "all of it",
        wants=tuple(("warn", code) for code in ("design", "blank", "cloth", "quantity")),
        design="stars",
        blank="mat",
        cloth="night",
        many=3,
    ),
]
_W = "words/as-written"
_MAIL = """Hello Tern Row,

here are the names, for 12 June:

1. Zoë Pemberley
2. Conor O’Neil,
3. Jana Dhal
4. Nguyễn Minh Anh
5. Łucja Wiśniewska
6. Bo

Kind regards
Odalys Fenn
"""
_NAMES = ["Zoe\u0308  Pemberley", "Conor O'Neil", "Jana Dahl", "Nguyễn Minh Anh"]
_NAMES += ["Łucja Wiśniewska", "Bo"]
_CAPITALS = ("note", "capitals")
_UNWRITTEN, _LEFT_OUT = ("warn", "unwritten"), ("warn", "left-out")


def _wrote(label: str, names: list[str], *wants, says=(), wrote=_MAIL, **more: Any) -> Case:
    asked = given(of=order(line(names)), written=(wrote,), **more)
    return Case(_W, label, asked, wants or (PASS,), says)


_TWO = (design(slots=("name", "verse")),)


def _sharing(names: list[str], verse: str = "Wren & Bo") -> Line:
    """A line of a list whose pieces all say the same in another place."""
    of = line(names)
    pieces = tuple(replace(one, words={**one.words, "verse": verse}) for one in of.pieces)
    return replace(of, words={**of.words, "verse": verse}, pieces=pieces)


AS_WRITTEN = [
    Case(_W, "nothing was kept", given(), (NOT_NEEDED,)),
    _wrote("as it stands there", ["Zoë Pemberley", "Bo", "12 June", "Conor O’Neil"]),
    _wrote(
        "a letter",
        _NAMES,
        _DIFFERS,
        says=(
            "“Jana Dahl” (piece 3) does not stand in what the customer wrote; the nearest there "
            "is “Jana Dhal”.",
            'proofgen change fenn "Jana Dahl" "Jana Dhal"',
        ),
    ),
    _wrote(
        "a letter, of a name that stands twice",
        ["Jana Dahl", *_NAMES],
        _DIFFERS,
        _DIFFERS,
        says=('"Jana Dahl" "Jana Dhal" --piece 1', '"Jana Dahl" "Jana Dhal" --piece 4'),
    ),
    _wrote("as an answer asked", _NAMES, changes=(_asked("Jana Dhal", "Jana Dahl"),)),
    _wrote("in a sentence", ["Olla & Bram"], _DIFFERS, wrote="It is for Ola & Bram, on Sunday."),
    _wrote("part of a word", ["Ada"], _UNWRITTEN, wrote="For Adalbertine."),
    _wrote("a capital", ["bo"], _CAPITALS, says=("“bo” has other capital",), wrote="For Zoë, Bo"),
    _wrote("all in capitals", _NAMES[:2], _CAPITALS, says=("2 texts have",), wrote=_MAIL.upper()),
    _wrote("some small", _NAMES[:2] + _NAMES[3:] + ["jana dhal"], _CAPITALS),
    _wrote("all small, a letter", ["Zoé Pemberley"], _DIFFERS, wrote=_MAIL.lower()),
    _wrote("nothing near", ["Wren"], _UNWRITTEN, says=("Compare it with asked.txt",)),
    _wrote("none of many", list("QRSTUVWX"), _UNWRITTEN, says=("8 texts of “name” do not",)),
    _wrote(
        "some of many", [*_NAMES[:2], "Q", "R"], _UNWRITTEN, _UNWRITTEN, says=("“Q” (piece 3)",)
    ),
    _wrote(
        "many of more",
        [_NAMES[0]] * 8 + list("QRSTUVWX"),
        *[_UNWRITTEN] * 6,
        _MORE,
        says=("2 more texts do not",),
    ),
    _wrote("a name that many carry", ["Jana Dahl"] * 5, _DIFFERS, says=("“Jana Dahl” does not",)),
    Case(
        _W,
        "what all pieces share, written elsewhere",
        given(of=order(_sharing(_NAMES[:2])), designs=_TWO, written=(_MAIL,)),
        (("note", "elsewhere"),),
        ("“Wren & Bo” does not stand in what the customer wrote.",),
    ),
    Case(
        _W,
        "what all pieces share, almost",
        given(of=order(_sharing(_NAMES[:2], "13 June")), designs=_TWO, written=(_MAIL,)),
        (_DIFFERS,),
        ("“13 June” does not stand in what the customer wrote; the nearest there is “12 June”.",),
    ),
    _wrote(
        "names that nobody gets",
        _NAMES[:2] + _NAMES[3:5],
        _LEFT_OUT,
        says=("2 names of the customer’s list stand on no piece: “Jana Dhal” and “Bo”.",),
    ),
    _wrote(
        "names that nobody gets, of a sentence",
        [*_NAMES[:2], *_NAMES[3:5], "Olle"],
        _LEFT_OUT,
        says=("1 name of the customer’s list stands on no piece: “Ollo” (piece 5: “Olle”).",),
        wrote="Our names: Zoë Pemberley, Conor\nO’Neil, Nguyễn Minh Anh, Olle, Ollo and\n"
        "Łucja Wiśniewska. It is for June.",
    ),
    _wrote("few of a list", _NAMES[:2]),
    _wrote(
        "a place that the slip fills",
        ["Wren"],
        NOT_NEEDED,
        slip=_slip(lists={"name": ["Wren"]}),
    ),
    _wrote("another place that the slip fills", ["Bo"], slip=_slip(words={"verse": "x"})),
]
_C = "order/cloth-written"


def _cloth(label: str, wrote: str, *wants, says=(), of: Line | None = None, **more: Any) -> Case:
    asked = given(of=order(of or line()), written=(wrote,), **more)
    return Case(_C, label, asked, wants or (PASS,), says)


_OTHER_CLOTH = ("warn", "differs")
CLOTHS = [
    Case(_C, "nothing was kept", given(), (NOT_NEEDED,)),
    _cloth("no colour", "Two sleeves, please."),
    _cloth("its colour", "In WHITE, or sky, as you have it."),
    _cloth(
        "another",
        "Two sleeves in Sky\nblue please.",
        _OTHER_CLOTH,
        says=(
            "The customer wrote of “sky”, and the order has the cloth “white”.",
            "Write cloth: sky",
        ),
    ),
    _cloth("part of a word", "For the skyline and the whiteboard."),
    _cloth("as a name that is printed", "For Sky, please.", of=_text("Sky")),
    _cloth("with a slip", "In sky.", NOT_NEEDED, slip=_slip()),
]
_M = "order/quantity-written"


def _many(label: str, wrote: str, *wants, of=(), says=(), **more: Any) -> Case:
    asked = given(of=order(*(of or (line(),))), written=(wrote,), **more)
    return Case(_M, label, asked, wants or (PASS,), says)


QUANTITIES = [
    Case(_M, "nothing was kept", given(), (NOT_NEEDED,)),
    _many("no number", "A sleeve for 12 June 2027, at 10:30, for 24.50; 2 of us come."),
    _many(
        "another, as the piece is called",
        "Hello, please 2 white sleeves with our boat.",
        _OTHER_CLOTH,
        says=("The customer wrote of 2 pieces, and the order has 1.",),
    ),
    _many("another, in words", "We want twelve pieces in white.", _OTHER_CLOTH),
    _many("in German", "Bitte 6 Stück davon", _OTHER_CLOTH),
    _many("as many", "Bitte 1 Stück; zwei Stück wären zu viel.", of=()),
    _many("as many, of two lines", "5 pieces", of=(line(["a", "b"]), line(["c", "d", "e"], 3))),
    _many("rows of a list", "38 pieces", _OTHER_CLOTH, of=(line(["Bo"] * 37),)),
]
CASES = [
    *GOODS,
    *QUANTITIES,
    *CLOTHS,
    *AS_WRITTEN,
    Case(_R, "none", given(), (NOT_NEEDED,)),
    Case(_R, "spaces", given(remarks=(" ",)), (PASS,)),
    Case(
        _R,
        "two, one long",
        given(remarks=("Do not\nphone\x1b", _LONG.strip())),
        (("note", "wrote"),) * 2,
        (
            "wrote with the order: “Do not / phone⟨U+001B⟩”.",
            f"“{_LONG.strip()}”.",
            "into order.yaml, as postage: 4.50.",
        ),
    ),
    Case(_O, "no slip", given(of=order()), (NOT_NEEDED,)),
    Case(_O, "a slip without words", given(of=order(), slip=_slip()), (NOT_NEEDED,)),
    Case(
        _O,
        "another place for words",
        given(of=order(), slip=_slip(words={"verse": "Bo"})),
        (NOT_NEEDED,),
    ),
    Case(
        _O,
        "the design that is pressed has no such place",
        given(of=order(), designs=(design(slots=()),), slip=_slip(words={"name": "Bo"})),
        (NOT_NEEDED,),
    ),
    _one("the same", "Odalys & Bram"),
    _one("other spaces", "  Odalys  &\nBram ", _text("Odalys & Bram")),
    _one("another normal form", "Zoe\u0308", _text("Zoë")),
    _one(
        "a letter",
        "alles Liebe",
        _text("alles Leibe"),
        wants=_DIFFERS,
        says=(
            "The customer ordered “alles Liebe”, and “alles Leibe” would be pressed.",
            'proofgen change fenn "alles Leibe" "alles Liebe"',
        ),
    ),
    _one("a capital", "alles Liebe", _text("Alles Liebe"), wants=_DIFFERS),
    _one(
        "words no terminal takes",
        "Bo $HOME",
        _text("Bo"),
        wants=_DIFFERS,
        says=("Write “Bo $HOME” there; if the customer asked otherwise since, accept it",),
    ),
    _one("as an answer asked", "Bo", _text("Di"), changes=(_asked("Bo", "Di"),)),
    _one(
        "as two answers asked, one after the other",
        "Bo",
        _text("Kai"),
        changes=(_asked("Bo", "Di"), _asked("Di", "Kai")),
    ),
    _one("asked, and not changed yet", "Bo", _text("Bo"), changes=(_asked("Bo", "Di"),)),
    _one("wrong, not said how", "Bo", _text("Di"), changes=(_asked("Bo", ""),), wants=_DIFFERS),
    _one("asked elsewhere", "Bo", _text("Di"), changes=(_asked("Bo", "Di", "x"),), wants=_DIFFERS),
    _one("nothing there", "Bo", _text(" "), wants=_LACKING, says=("“Bo”, and it stands on no",)),
    _one("a line more", "Bo", _text("Bo"), _text("Di", number=2, first=2)),
    _one("two lines, one wrong", "Bo", _text("Bo"), _text("Di", number=2, first=2),
         many=2, wants=_DIFFERS),
    _one("another design beside it", "Bo", _text("Bo"), _text("Di", number=2, design="pier")),
    _one("a design of another name", "Bo", _text("Di", design="pier"), wants=_DIFFERS),
    _list("a list in another order", ["Bo", "Di", "Kai"], ["Kai", "Bo", "Di"]),
    _list(
        "a name of a list",
        ["Anouk", "Bo", "Dieter"],
        ["Deiter", "Anouk", "Bo"],
        _DIFFERS,
        says=("“Dieter”, and “Deiter” would", "change fenn Deiter Dieter"),
    ),
    _list(
        "one twice for another",
        ["Bo", "Bo", "Di"],
        ["Bo", "Di", "Di"],
        _DIFFERS,
        says=("ordered “Bo”, and “Di” would be pressed", "change fenn Di Bo --piece 3"),
    ),
    _list("a name left out", ["Bo", "Di"], ["Bo"], _LACKING),
    _list("a name added", ["Bo", "Di"], ["Bo", "Di", "Kai"]),
    _list("a name as asked", ["Bo", "Di"], ["Bo", "Kai"], changes=(_asked("Di", "Kai"),)),
    _list(
        "many",
        MANY,
        [name.replace("Guest", "Gast") for name in MANY],
        *[_DIFFERS] * 4,
        _MORE,
        says=("2 more texts of “name” are not as the customer ordered.",),
    ),
]  # fmt: skip
