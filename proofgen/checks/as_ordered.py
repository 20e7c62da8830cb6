"""Checks of what came with an order: its words against those of the slip, and the customer's
remark."""

from __future__ import annotations

import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from proofgen.artwork.words import tidy
from proofgen.checks.frame import Remarks, check, note, warn
from proofgen.checks.goods_ordered import SINCE
from proofgen.checks.places import words_where
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import AskedChange, Limits, Line, Order
from proofgen.say import plural, quoted, quoted_whole
from proofgen.say.safe import respaced
from proofgen.say.shell import can_be_typed, for_shell
from proofgen.shop import whole_words

_MOST = 4  # differences of one place for words that are told one by one
_MOST_COMPARED = 12  # texts that are paired by their letters; of more, as they stand
_MOST_LETTERS = 200  # of a text in a sentence; a slip brings no more


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A text that pieces would carry."""

    text: str
    line: Line
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedSlot:
    """What the slip says for a place for words, and what the order's pieces say there, each as
    often as it is written. `is_counted`: as often as it was ordered, too; `changes` are those that
    the customer's answers asked for; `texts` is all that the order has written."""

    order: Order
    slot: str
    ordered: Sequence[str]
    printed: Sequence[Printed]
    is_counted: bool
    changes: Sequence[AskedChange]
    texts: Sequence[str]


def _slots_ordered(given: CheckInput) -> Iterator[tuple[Spot, OrderedSlot]]:
    """Every place for words that the order's slip filled and a design of the order prints."""
    slip = given.slip
    if slip is None:
        return
    theirs = [line for line in given.order.lines if line.design == slip["design"]]
    printed: dict[str, list[Printed]] = defaultdict(list)
    for line in theirs or given.order.lines:
        design = given.shop.designs.get(line.design)
        for slot, one in printed_texts(line):
            if design is None or slot in design.slots("words"):
                printed[slot].append(one)
    texts = [one.text for line in given.order.lines for _, one in printed_texts(line)]
    lists = slip.get("lists", {})
    for slot, wanted in ({s: [t] for s, t in slip.get("words", {}).items()} | lists).items():
        there = printed[slot]
        # Of pieces that were added since, nobody wrote down here what they are to say.
        is_whole = sum(len(one.pieces) for one in there) == slip["many"]
        if slot not in lists and is_whole:
            wanted = wanted * len(there)
        if there and any(text.strip() for text in wanted):
            yield (
                Spot(where=str(given.order.place)),
                OrderedSlot(
                    order=given.order,
                    slot=slot,
                    ordered=[text for text in wanted if text.strip()],
                    printed=there,
                    is_counted=slot in lists or is_whole,
                    changes=[one for one in given.changes if one.slot == slot and one.new],
                    texts=texts,
                ),
            )


def printed_texts(line: Line) -> Iterator[tuple[str, Printed]]:
    """Slots and texts of a line: one of every row of its list, and those all pieces share once."""
    everywhere = tuple(piece.number for piece in line.pieces)
    listed = {slot for piece in line.pieces for slot in piece.words} if line.list_file else set()
    listed -= {slot for slot in listed if _shared(line, slot)}
    for slot, text in line.words.items():
        if slot not in listed:
            yield slot, Printed(text=text, line=line, pieces=everywhere)
    for piece in line.pieces:
        for slot, text in {**line.words, **piece.words}.items():
            if slot in listed:
                yield slot, Printed(text=text, line=line, pieces=(piece.number,))


def _shared(line: Line, slot: str) -> bool:
    """Whether all pieces say what the line says."""
    return slot in line.words and all(
        piece.words.get(slot, line.words[slot]) == line.words[slot] for piece in line.pieces
    )


@check(
    "words/ordered",
    _slots_ordered,
    why="A name that was mistyped on its way into the order is right by every other check; only "
    "the customer's eye would find it.",
    source="the order slip kept in asked.txt beside the order; what the customer's answers asked "
    "for since; spaces and Unicode normal form (UAX #15, NFC) do not count",
    codes={
        "differs": "the words are not those that the customer ordered",
        "lacking": "words that the customer ordered stand on no piece",
        "more": "further words differ, told with their number",
    },
)
def ordered(asked: OrderedSlot, _: Limits) -> Remarks:
    """The words are those that the customer ordered."""
    found = [*_differences(asked)]
    for wanted, printed in found[:_MOST]:
        about = f"{asked.slot}-{respaced(wanted)}-{respaced(printed.text) if printed else ''}"
        said = f"The customer ordered {quoted(tidy(wanted), _MOST_LETTERS)}, and "
        if printed is None:
            line = asked.printed[0].line
            yield warn(
                "lacking",
                f"{said}it stands on no piece.",
                f"Write {quoted(tidy(wanted), _MOST_LETTERS)} there; {SINCE}.",
                measure=tidy(wanted),
                about=about,
                line=line.number,
                text=wanted,
                where=words_where(line, asked.slot),
            )
        else:
            yield warn(
                "differs",
                f"{said}{quoted(printed.text, _MOST_LETTERS)} would be pressed.",
                change_cure(asked.order, asked.texts, printed, tidy(wanted)),
                measure=tidy(wanted),
                about=about,
                line=printed.line.number,
                text=printed.text,
                pieces=printed.pieces,
                where=words_where(printed.line, asked.slot, printed.pieces),
            )
    if left := found[_MOST:]:
        yield warn(
            "more",
            f"{plural(len(left), 'more text')} of “{asked.slot}” "
            f"{'is' if len(left) == 1 else 'are'} not as the customer ordered.",
            "Compare the order with asked.txt beside it.",
            measure=len(left),
            limit=0,
            about=f"{asked.slot}-more",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What a customer wrote beside an order, on whose bill postage stands, or was thought of."""

    text: str
    has_postage: bool


def _remarks(given: CheckInput) -> Iterator[tuple[Spot, Beside]]:
    where = f"orders/{given.order.id}/asked.txt"
    has_postage = given.order.postage is not None
    for text in given.remarks:
        yield Spot(where=where), Beside(text=text, has_postage=has_postage)
        has_postage = True  # it is thought of once


@check(
    "order/remark",
    _remarks,
    why="What a customer wrote beside the order is read once and forgotten by the time it is made.",
    source="the remark of the order slip or mail, kept in asked.txt beside the order",
    codes={"wrote": "the customer wrote something with the order"},
)
def remark(beside: Beside, _: Limits) -> Remarks:
    """Nothing was written beside the order."""
    if beside.text.strip():
        sent = "If it is to be sent, write what that costs into order.yaml, as postage: 4.50."
        yield note(
            "wrote",
            f"The customer wrote with the order: {quoted_whole(beside.text)}.",
            "" if beside.has_postage else sent,
            about=respaced(beside.text),
        )


def change_cure(order: Order, texts: Sequence[str], printed: Printed, wanted: str) -> str:
    """The command that writes what was ordered, where the text can be typed and stands once, or
    once on its piece; `texts` is all that the order has written."""
    text = tidy(printed.text)
    piece = ""
    if not _stands_once(texts, text) and len(printed.pieces) == 1 and printed.line.list_file:
        piece = f" --piece {printed.pieces[0]}" if _stands_once([printed.text], text) else ""
    if (piece or _stands_once(texts, text)) and all(map(can_be_typed, (text, wanted))):
        words = f"{for_shell(text)} {for_shell(wanted)}{piece}"
        return (
            "Unless the customer asked for it since (then accept it, with that reason): proofgen "
            f"change {order.id} {words}"
        )
    return f"Write {quoted(wanted, _MOST_LETTERS)} there; {SINCE}."


def _stands_once(texts: Sequence[str], words: str) -> bool:
    seen = whole_words(words)
    return sum(len(seen.findall(unicodedata.normalize("NFC", text))) for text in texts) == 1


def _differences(asked: OrderedSlot) -> Iterator[tuple[str, Printed | None]]:
    """Each text that was ordered and is not printed, with what is printed for it. What is printed
    besides was added by the shop, and is none."""
    lacking = _without(asked.ordered, Counter(respaced(one.text) for one in asked.printed), asked)
    known = Counter(map(respaced, asked.ordered))
    extra: list[Printed] = []
    for one in asked.printed:
        text = respaced(one.text)
        if known[text] > 0:
            known[text] -= asked.is_counted
        elif text:
            extra.append(one)
    for wanted in lacking:
        reached = _reached(wanted, asked.changes)
        if as_asked := next((one for one in extra if respaced(one.text) in reached), None):
            extra.remove(as_asked)
            continue
        printed = _nearest(wanted, extra) if extra else None
        if printed:
            extra.remove(printed)
        yield wanted, printed


def _without(texts: Sequence[str], there: Counter[str], asked: OrderedSlot) -> list[str]:
    """The texts that are not there, each as often as it lacks."""
    lacking = []
    for text in texts:
        if there[respaced(text)] > 0:
            there[respaced(text)] -= asked.is_counted
        else:
            lacking.append(text)
    return lacking


def _reached(text: str, changes: Sequence[AskedChange]) -> set[str]:
    """What the changes, one after the other, made of a text."""
    reached = {respaced(text)}
    for one in changes:
        if respaced(one.old) in reached:
            reached.add(respaced(one.new))
    return reached


def _nearest(wanted: str, extra: Sequence[Printed]) -> Printed:
    if len(extra) > _MOST_COMPARED:
        return extra[0]
    text = respaced(wanted)
    return max(extra, key=lambda one: SequenceMatcher(None, text, respaced(one.text)).ratio())
