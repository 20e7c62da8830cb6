"""Check of the cloth's colour against what the customer wrote in a mail or text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from proofgen.checks.as_ordered import printed_texts
from proofgen.checks.frame import Remarks, check, warn
from proofgen.checks.goods_ordered import SINCE
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import Blank, Limits, Line, Order
from proofgen.model.called import to_accept
from proofgen.say import joined, quoted
from proofgen.say.safe import respaced
from proofgen.say.tongue import Tongue

_ENDING = r"\w{0,2}(?!\w)"  # weiß, weiße, weißen


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenCloth:
    """A line, its blank, and what the customer wrote, without the words that are printed, which
    may be a colour's name; `languages` are those the colour may be named in."""

    order: Order
    line: Line
    blank: Blank
    written: str
    languages: Sequence[str]


def _written(given: CheckInput) -> Iterator[tuple[Spot, WrittenCloth]]:
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
                WrittenCloth(
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
def cloth_written(cloth: WrittenCloth, _: Limits) -> Remarks:
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


def _is_named(cloth: WrittenCloth, shade: str) -> bool:
    names = {shade, *(Tongue(tag).message(shade) for tag in cloth.languages)}
    return any(
        re.search(rf"(?<!\w){re.escape(_folded(name))}{_ENDING}", cloth.written) for name in names
    )
