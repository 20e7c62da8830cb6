"""Check of an order's words against what the customer wrote in a mail or text."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from functools import cached_property

from proofgen.artwork.words import tidy
from proofgen.checks import goods_ordered, goods_written
from proofgen.checks.as_ordered import Printed, change_cure, ordered, printed_texts
from proofgen.checks.frame import Remark, Remarks, check, note, warn
from proofgen.checks.goods_ordered import SINCE
from proofgen.checks.places import words_where
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import AskedChange, Limits, Order
from proofgen.say import joined, pieces, plural, quoted
from proofgen.say.safe import respaced
from proofgen.shop import whole_words
from proofgen.signoff.name_lines import bare_lines, lists_in, lists_in_sentences

_MOST = 6  # texts that are told one by one
_MOST_COMPARED = 300  # the same, that a near one is sought for
_MANY = 3  # pieces: a text on more of them is told once
_MOST_NAMED = 3  # lines that stand on no piece
_MOST_LETTERS = 200  # of a text in a sentence
_NEAR = 0.7  # of the letters in common: a name that was mistyped, not another
_APOSTROPHES = str.maketrans("‘’ʼ´`", "'''''")
_STOPS = '.,;:!?()“”„"«»|'
_CELLS = re.compile("[;,\t|]")
_Wrong = tuple[str, Printed, str]  # slot, text, and what the customer wrote almost so


@dataclass(frozen=True, kw_only=True)
class WrittenWords:
    """What the customer wrote, and the texts of the order to be found in it, by slot, each with
    the pieces that show it; `texts` is all that the order has written."""

    order: Order
    written: Sequence[str]
    printed: Sequence[tuple[str, Printed]]
    texts: Sequence[str]
    changes: Sequence[AskedChange]

    @cached_property
    def whole(self) -> str:
        return " ".join(_folded(line) for text in self.written for line in bare_lines(text))

    @cached_property
    def small(self) -> str:
        return self.whole.casefold()

    @cached_property
    def known(self) -> frozenset[str]:
        """Every text of the order, and those that the customer's answers speak of."""
        asked = (text for one in self.changes for text in (one.old, one.new))
        return frozenset(map(_folded, (*self.texts, *asked)))


def _folded(text: str) -> str:
    """What two texts share that differ in spaces, composition or the form of apostrophes."""
    return respaced(text).translate(_APOSTROPHES)


def _written(given: CheckInput) -> Iterator[tuple[Spot, WrittenWords]]:
    """The order, where the customer's words are kept; without the places that its slip fills."""
    if not any(text.strip() for text in given.written):
        return
    slip = given.slip
    filled = {*slip.get("words", {}), *slip.get("lists", {})} if slip else set()
    printed, texts = list[tuple[str, Printed]](), list[str]()
    for line in given.order.lines:
        design = given.shop.designs.get(line.design)
        here = list(printed_texts(line))
        texts += [one.text for _, one in here]
        for slot, one in _told_once(here):
            seen = design is None or slot in design.slots("words")
            if seen and slot not in filled and one.text.strip():
                printed.append((slot, one))
    if printed:
        yield (
            Spot(where=f"orders/{given.order.id}/asked.txt"),
            WrittenWords(
                order=given.order,
                written=given.written,
                printed=printed,
                texts=texts,
                changes=given.changes,
            ),
        )


def _told_once(every: Sequence[tuple[str, Printed]]) -> Iterator[tuple[str, Printed]]:
    """Slots and texts of a line; what a list says on many pieces alike, once for all of them."""
    pieces_of = defaultdict[tuple[str, str], list[int]](list)
    for slot, one in every:
        pieces_of[slot, one.text] += one.pieces
    for slot, one in every:
        on = pieces_of[slot, one.text]
        if len(on) <= _MANY:
            yield slot, one
        elif one.pieces[0] == on[0]:
            yield slot, replace(one, pieces=tuple(on))


@check(
    "words/as-written",
    _written,
    why="A list of a hundred names is copied out of a mail by hand; one letter goes wrong and is "
    "right by every other check.",
    source="the mails and texts kept in asked.txt by `proofgen take FILE --for ORDER`; what the "
    "customer’s answers asked for since; spaces, apostrophes and Unicode normal form (UAX #15, "
    "NFC) do not count; a name is near another with seven letters of ten in common",
    codes={
        "differs": "words are almost some that the customer wrote",
        "unwritten": "words do not stand in what the customer wrote",
        "elsewhere": "nothing of a place for words stands there, of others something does",
        "more": "further words that do not stand there, told with their number",
        "capitals": "nothing but capital letters differ from what the customer wrote",
        "left-out": "names of the customer’s list stand on no piece",
    },
)
def as_written(words: WrittenWords, _: Limits) -> Remarks:
    """All words stand in what the customer wrote."""
    near, single, places, cased = _sorted_out(words)
    told = [_folded(text) for _, _, text in near[:_MOST]]
    wrong = [*near, *single]
    yield from (_differs(words, *one) for one in wrong[:_MOST])
    if left := wrong[_MOST:]:
        yield warn(
            "more",
            f"{plural(len(left), 'more text')} {'does' if len(left) == 1 else 'do'} not stand in "
            "what the customer wrote.",
            "Compare the order with asked.txt beside it.",
            measure=len(left),
            limit=0,
            about="more",
        )
    if cased:
        yield _only_capitals(cased)
    nothing = len(wrong) + sum(map(len, places.values())) == len(words.printed)
    for slot, some in places.items():
        yield _elsewhere(slot, some, nothing=nothing and not near)
    lacking = [x for x in _on_no_piece(words) if not any(one in _folded(x) for one in told)]
    if lacking:
        yield _left_out(words, lacking)


def _sorted_out(
    words: WrittenWords,
) -> tuple[list[_Wrong], list[_Wrong], dict[str, list[Printed]], list[_Wrong]]:
    """Texts that are almost some that the customer wrote; those that are not, of places most of
    whose texts are; all of the other places, by slot: of these the customer wrote elsewhere; and
    those that differ in capital letters alone."""
    many, lacking = Counter[str](), Counter[str]()  # pieces
    for slot, one in words.printed:
        many[slot] += len(one.pieces)
    near, far, cased = list[_Wrong](), list[_Wrong](), list[_Wrong]()
    for at, (slot, one) in enumerate(_not_written(words)):
        if whole_words(_folded(one.text).casefold()).search(words.small):
            cased.append((slot, one, ""))
            continue
        text = _nearest(words, one.text) if at < _MOST_COMPARED else ""
        (near if text else far).append((slot, one, text))
    for slot, one, _ in far:
        lacking[slot] += len(one.pieces)
    single, places = list[_Wrong](), defaultdict[str, list[Printed]](list)
    for slot, one, text in far:
        if lacking[slot] * 2 <= many[slot]:
            single.append((slot, one, text))
        else:
            places[slot].append(one)
    return near, single, places, cased


def _only_capitals(cased: Sequence[_Wrong]) -> Remark:
    """Names that a customer typed small, or all in capitals, and the shop as names are written."""
    slot, one, _ = cased[0]
    says = (
        f"{quoted(one.text, _MOST_LETTERS)} has other capital letters than what the customer wrote."
    )
    if len(cased) > 1:
        says = (
            f"{plural(len(cased), 'text')} have other capital letters than what the customer "
            f"wrote, such as {quoted(one.text, _MOST_LETTERS)}."
        )
    return note(
        "capitals",
        says,
        about=f"{slot}-capitals",
        measure=len(cased),
        where=words_where(one.line, slot, one.pieces),
    )


def _elsewhere(slot: str, some: Sequence[Printed], *, nothing: bool) -> Remark:
    """A place of whose words the customer wrote nothing, here. `nothing`: nor of any other."""
    first = some[0]
    says = f"{quoted(first.text, _MOST_LETTERS)} does not stand in what the customer wrote."
    if len(some) > 1:
        says = (
            f"{plural(len(some), 'text')} of “{slot}” do not stand in what the customer wrote, "
            f"such as {quoted(first.text, _MOST_LETTERS)}."
        )
    return (warn if nothing else note)(
        "unwritten" if nothing else "elsewhere",
        says,
        f"Compare it with asked.txt beside the order; {SINCE}." if nothing else "",
        about=f"{slot}-{_folded(first.text)}",
        text=first.text,
        pieces=first.pieces,
        where=words_where(first.line, slot, first.pieces),
    )


def _left_out(words: WrittenWords, lacking: Sequence[str]) -> Remark:
    """Names of the customer's list that no piece carries, and what is almost so on a piece."""
    more = len(lacking) - _MOST_NAMED
    named = []
    for line in lacking[:_MOST_NAMED]:
        text = _folded(line).casefold()
        alike = [
            (SequenceMatcher(None, text, _folded(one.text).casefold()).ratio(), at, one)
            for at, (_, one) in enumerate(words.printed)
        ]
        share, _, one = max(alike)
        here = f" ({pieces(one.pieces)}: {quoted(one.text)})" if share > _NEAR else ""
        named.append(f"{quoted(line)}{here}")
    alone = len(lacking) == 1
    return warn(
        "left-out",
        f"{plural(len(lacking), 'name')} of the customer’s list "
        f"{'stands' if alone else 'stand'} on no piece: "
        f"{joined([*named, *([f'{more} more'] if more > 0 else [])])}.",
        "Compare the order with asked.txt beside it.",
        measure=len(lacking),
        about="left-out",
    )


def _differs(words: WrittenWords, slot: str, one: Printed, near: str) -> Remark:
    """A text that the customer did not write."""
    everywhere = sum(len(line.pieces) for line in words.order.lines) == len(one.pieces)
    on = "" if everywhere else f" ({pieces(one.pieces)})"
    says = f"{quoted(one.text, _MOST_LETTERS)}{on} does not stand in what the customer wrote"
    cure = f"Compare it with asked.txt beside the order; {SINCE}."
    if near:
        says += f"; the nearest there is {quoted(near, _MOST_LETTERS)}"
        cure = change_cure(words.order, words.texts, one, near)
    return warn(
        "differs" if near else "unwritten",
        f"{says}.",
        cure,
        about=f"{slot}-{_folded(one.text)}",
        text=one.text,
        pieces=one.pieces,
        where=words_where(one.line, slot, one.pieces),
    )


def _not_written(words: WrittenWords) -> Iterator[tuple[str, Printed]]:
    """Each text that neither stands there nor was asked for since."""
    asked = {_folded(one.new) for one in words.changes}
    for slot, one in words.printed:
        text = _folded(one.text)
        if text not in asked and not whole_words(text).search(words.whole):
            yield slot, one


def _nearest(words: WrittenWords, text: str) -> str:
    """The line, or as many words of one, that are the most like a text; '' where none is near.
    What stands on another piece is none."""
    best, found = _NEAR, ""
    matcher = SequenceMatcher(None, "", _folded(text).casefold(), autojunk=False)
    for candidate in _candidates(words, len(text.split())):
        folded = _folded(candidate)
        matcher.set_seq1(folded.casefold())
        if folded in words.known or matcher.real_quick_ratio() < best:
            continue
        if matcher.quick_ratio() < best:
            continue
        ratio = matcher.ratio()
        if ratio > best or (ratio == best and not found):
            best, found = ratio, candidate
    return tidy(found)


def _candidates(words: WrittenWords, many: int) -> Iterator[str]:
    """Every line, every cell of a table's row, and each run of so many words in them."""
    for line in (line for text in words.written for line in bare_lines(text) if line):
        yield line
        cells = [one.strip() for one in _CELLS.split(line)]
        if len(cells) > 1:
            yield from cells
        single = _CELLS.sub(r"\g<0> ", line).split()
        for at in range(len(single) - many + 1 if len(single) > many else 0):
            yield " ".join(single[at : at + many]).strip(_STOPS)


def _on_no_piece(words: WrittenWords) -> list[str]:
    """Names of lists, most of which the order has, that it has not. The customer's own name is
    a signature."""
    texts = frozenset(text.casefold() for text in words.known)
    known = "\n".join(texts)
    name = _folded(words.order.customer.name).casefold()
    found: dict[str, str] = {}
    every = (one for text in words.written for one in (*lists_in(text), *lists_in_sentences(text)))
    for lines in every:
        lacking = [x for x in lines if not _stands(_folded(x).casefold(), texts, known)]
        if all(map(_CELLS.search, lines)):  # a table, whose first row heads its columns
            lacking = [x for x in lacking if x != lines[0]]
        if len(lacking) * 2 < len(lines):
            found |= {_folded(line): line for line in lacking}
    return [line for folded, line in found.items() if folded.casefold() not in name]


def _stands(line: str, texts: frozenset[str], known: str) -> bool:
    """Whether a line is a text of the order, or one is in the other."""
    if line in texts or (line in known and whole_words(line).search(known)):
        return True
    return any(text and text in line and whole_words(text).search(line) for text in texts)


# What tells that something else would be pressed than was ordered.
AS_ORDERED = frozenset(
    one.id
    for one in (
        goods_ordered.as_ordered,
        goods_written.cloth_written,
        goods_written.quantity_written,
        ordered,
        as_written,
    )
)
