"""Checks of the cloth's colour and of how many pieces against what the customer wrote in a mail or
text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proofgen.checks.as_ordered import printed_texts
from proofgen.checks.frame import Remarks, check, warn
from proofgen.checks.goods_ordered import SINCE
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import Blank, Limits, Line, Order
from proofgen.model.blank_names import called_in
from proofgen.model.called import to_accept
from proofgen.say import joined, quoted
from proofgen.say.safe import respaced
from proofgen.say.tongue import Tongue

_ENDING = r"\w{0,2}(?!\w)"  # weiß, weiße, weißen
_ALIKE = 5  # letters with which a word and the piece's name begin: Strümpfe, Strumpf
# English, German, Spanish and French, from memory.
_COUNTS = (
    "one ein|eine|einen un|una une", "two zwei dos deux", "three drei tres trois",
    "four vier cuatro quatre", "five fünf cinco cinq", "six sechs seis", "seven sieben siete sept",
    "eight acht ocho huit", "nine neun nueve neuf", "ten zehn diez dix", "eleven elf once onze",
    "twelve zwölf doce douze",
)  # fmt: skip
_NUMBERS = {
    word: number
    for number, words in enumerate(_COUNTS, 1)
    for word in re.split("[ |]", words)
    if number > 1  # one is an article as well
}
_UNITS = frozenset((
    "pieces", "piece", "pcs", "stück", "stk", "stücke", "piezas", "pieza", "unidades", "pièces",
    "pièce",
))  # fmt: skip
_MANY = re.compile(
    rf"(?<![\w.,:/-])(\d{{1,3}}|{'|'.join(_NUMBERS)})(?: ?[x×])? (?:\w+ )?([^\W\d_]{{3,}})"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenGoods:
    """A line, its blank, and what the customer wrote, without the words that are printed, which
    may be a colour's name; `languages` are those the colour may be named in."""

    order: Order
    line: Line
    blank: Blank
    written: str
    languages: Sequence[str]


def _written(given: CheckInput) -> Iterator[tuple[Spot, WrittenGoods]]:
    """Every line, where the customer's own words are all that is kept of what was asked for."""
    if given.slip is not None or not any(text.strip() for text in given.written):
        return
    written = "\n".join(map(_folded, given.written))
    own = [one.text for line in given.order.lines for _, one in printed_texts(line)]
    for text in sorted(map(_folded, [*own, given.order.customer.name]), key=len, reverse=True):
        written = written.replace(text, " ") if text else written
    languages = dict.fromkeys((given.shop.settings.language, given.order.customer.language, "en"))
    for line in given.order.lines:
        if blank := given.shop.blanks.get(line.blank):
            yield (
                Spot(where=str(line.place_of("cloth"))),
                WrittenGoods(
                    order=given.order,
                    line=line,
                    blank=blank,
                    written=written,
                    languages=[one for one in languages if one],
                ),
            )


def _folded(text: str) -> str:
    return respaced(text).casefold()


@check(
    "order/cloth-written",
    _written,
    why="The white sleeve instead of the pink one is right by every other check, and the mail that "
    "says pink lies beside the order.",
    source="the mails and texts kept in asked.txt beside the order; colours by their names in the "
    "blank’s file, in the shop’s and the customer’s language and in English",
    codes={"differs": "the customer names another colour of the cloth, and not the order’s"},
)
def cloth_written(cloth: WrittenGoods, _: Limits) -> Remarks:
    """Of the colours that the blank comes in, the customer names the order's, or none."""
    named = [shade for shade in cloth.blank.cloth.colours if _is_named(cloth, shade)]
    if not named or cloth.line.cloth in named:
        return
    wanted = f"cloth: {named[0]}" if len(named) == 1 else "the one that is meant"
    key = to_accept(cloth.order.id, f"{cloth_written.id}:differs")
    yield warn(
        "differs",
        f"The customer wrote of {joined(map(quoted, named))}, and the order has the cloth "
        f"{quoted(cloth.line.cloth)}.",
        f"Write {wanted} there; {SINCE}: {key}",
        about=f"{cloth.line.number}-{cloth.line.cloth}-{'-'.join(named)}",
        line=cloth.line.number,
    )


def _is_named(cloth: WrittenGoods, shade: str) -> bool:
    names = {shade, *(Tongue(tag).message(shade) for tag in cloth.languages)}
    return any(
        re.search(rf"(?<!\w){re.escape(_folded(name))}{_ENDING}", cloth.written) for name in names
    )


@check(
    "order/quantity-written",
    _written,
    why="One sleeve instead of two is right by every other check, and the mail that asks for two "
    "lies beside the order.",
    source="the mails and texts kept in asked.txt beside the order; numbers before the piece’s "
    "name or a word for pieces, as digits or up to twelve in words",
    codes={"differs": "the customer writes of another number of pieces"},
)
def quantity_written(goods: WrittenGoods, _: Limits) -> Remarks:
    """Where the customer writes how many pieces, the order has as many."""
    named = sorted(_numbers(goods))
    alike = [line for line in goods.order.lines if line.blank == goods.line.blank]
    have = {line.quantity for line in alike} | {sum(line.quantity for line in alike)}
    if not named or have & {*named} or goods.line is not alike[0]:
        return
    told = joined([str(number) for number in named], "or")
    wanted = f"quantity: {named[0]}" if len(named) == 1 else "the number that is meant"
    key = to_accept(goods.order.id, f"{quantity_written.id}:differs")
    yield warn(
        "differs",
        f"The customer wrote of {told} {'piece' if named == [1] else 'pieces'}, and the order has "
        f"{goods.line.quantity}.",
        f"Write {wanted} there, or as many rows in its list; {SINCE}: {key}",
        measure=goods.line.quantity,
        about=f"{goods.line.number}-{goods.line.quantity}-{told}",
        line=goods.line.number,
    )


def _numbers(goods: WrittenGoods) -> set[int]:
    """The numbers that stand before the piece's name or a word for pieces."""
    names = {goods.blank.name, *(called_in(goods.blank, Tongue(tag)) for tag in goods.languages)}
    begins = {word[:_ALIKE] for name in names for word in re.findall(r"\w{5,}", _folded(name))}
    found = set[int]()
    for many in _MANY.finditer(goods.written):
        words = [many[2], *many[0].split()[1:]]
        if any(word in _UNITS or word[:_ALIKE] in begins for word in words):
            found.add(_NUMBERS.get(many[1]) or int(many[1]))
    return found - {0}
