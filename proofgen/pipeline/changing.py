"""Where an order's words are to be changed, and one of them changed without an editor."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from typing import NamedTuple

from proofgen import shop
from proofgen.artwork.words import tidy
from proofgen.errors import Place, ProofgenError, UsageError
from proofgen.model import Order
from proofgen.say import joined, pieces, plural, quoted, runs
from proofgen.say.shell import can_be_typed, for_shell
from proofgen.signoff import OrderFacts
from proofgen.workshop import Workshop

_MOST_PLACES = 3  # named in one sentence
_MOST_PIECES = 4  # offered
_MOST_LINES = 8  # of order.yaml, named in one sentence


class Changed(NamedTuple):
    """What `change` did: a sentence, and the place where it stands now."""

    said: str
    place: Place


def change_word(
    workshop: Workshop, name: str, old: str, new: str, piece: int | None = None
) -> Changed:
    """Put `new` where `old` stands in the words of an order, every other letter of the file kept;
    with `piece` only in that piece's words.

    Errors: UsageError where it stands nowhere, twice or not by itself; ShopError; MachineError.
    """
    order = workshop.order(name)
    old, new = (unicodedata.normalize("NFC", text.strip()) for text in (old, new))
    if not old or not new or old == new:
        raise UsageError(
            "nothing to change: it takes the word as it stands, and the word as it is to be",
            f"proofgen change {name} OLD NEW",
        )
    found = _standing_by_itself(order, old)
    if piece is not None:
        found = _of_piece(order, (old, new), found, piece)
    if len(found) != 1:
        raise _not_once(workshop, order, (old, new), found)
    (at,) = found
    wish = at.as_change(shop.whole_words(old).sub(lambda _: new, at.text))
    if piece is not None:
        wish = replace(wish, pieces=(piece,))  # refused where others share its words
    files, left = shop.reword(order, [wish], tidy)
    place = _place(workshop, at)
    if not files:
        why = left[0].why if left else "it reads so already"
        raise UsageError(f"nothing was changed: {why}", f"change it in {place}")
    about = f"{at.slot}, {pieces(at.pieces)}: {quoted(at.text)} → {quoted(wish.new)}"
    return Changed(about, place)


def _standing_by_itself(order: Order, old: str) -> list[shop.Written]:
    """Each text in which these words stand, as often as they stand there."""
    seen = shop.whole_words(old)
    return [one for one in shop.written_words(order) for _ in seen.finditer(one.text)]


def _of_piece(
    order: Order, words: tuple[str, str], found: Sequence[shop.Written], piece: int
) -> list[shop.Written]:
    """Those in the piece's own words, or else in those that it shares with others."""
    numbers = {one.number for line in order.lines for one in line.pieces}
    if piece not in numbers:
        there = pieces(numbers) if numbers else "no pieces yet"
        raise UsageError(f"{order.id} has no piece {piece}", f"it has {there}")
    theirs = [one for one in found if piece in one.pieces]
    if found and not theirs:
        stands = pieces({number for one in found for number in one.pieces})
        raise UsageError(
            f"{quoted(words[0])} does not stand on piece {piece}: it stands on {stands}",
            _which(order, words, found),
        )
    return [one for one in theirs if one.pieces == (piece,)] or theirs


def _place(workshop: Workshop, at: shop.Written) -> Place:
    return Place(at.file.relative_to(workshop.folder).as_posix(), at.at)


def _not_once(
    workshop: Workshop, order: Order, words: tuple[str, str], found: Sequence[shop.Written]
) -> UsageError:
    """Why a word is not changed: it stands nowhere, or in more than one place."""
    old, _ = words
    if found:
        each = dict.fromkeys(
            f"{_place(workshop, one)} ({pieces(one.pieces)}: {quoted(one.text)})" for one in found
        )
        left = len(each) - _MOST_PLACES
        told = joined([*list(each)[:_MOST_PLACES], *([f"{left} more"] if left > 0 else [])])
        problem = f"{quoted(old)} stands {plural(len(found), 'time')}: {told}"
        return UsageError(problem, _which(order, words, found))
    texts = list(dict.fromkeys(one.text for one in shop.written_words(order) if one.text.strip()))
    problem = f"{quoted(old)} stands nowhere in the words of {order.id}"
    if shop.whole_words(old).search(order.customer.name):
        return UsageError(
            f"{problem}; it is in the customer’s name, which is not printed",
            f"change that in {Place(f'orders/{order.id}/order.yaml', order.keys.get('customer'))}",
        )
    read = f", which read {joined(map(quoted, texts[:_MOST_PLACES]))}" if texts else ""
    more = " and more" if len(texts) > _MOST_PLACES else ""
    return UsageError(f"{problem}{read}{more}", f"look at it: proofgen orders {order.id}")


def _which(order: Order, words: tuple[str, str], found: Sequence[shop.Written]) -> str:
    """How it is said which of several places is meant."""
    old, new = words
    by_hand = "change it there by hand"
    alone = [n for n, times in Counter(one.pieces for one in found).items() if times == 1]
    single = sorted(numbers[0] for numbers in alone if len(numbers) == 1)
    if single:
        asked = f"proofgen change {order.id} {for_shell(old)} {for_shell(new)} --piece {single[0]}"
        others = [str(number) for number in single[1:_MOST_PIECES]]
        others += ["another of them"] if len(single) > _MOST_PIECES else []
        return f"say of which piece: {asked}" + (f" (or {joined(others, 'or')})" if others else "")
    longer = (one.text for one in found if one.text != old)
    more = next((text for text in longer if len(_standing_by_itself(order, text)) == 1), "")
    if not more:
        return by_hand
    return (
        "say more of it, as it stands there: "
        f"proofgen change {order.id} {for_shell(more)} NEW; or {by_hand}"
    )


def with_its_lines(workshop: Workshop, facts: OrderFacts) -> OrderFacts:
    """The facts, with where the order's words stand, and the line that makes the change which the
    customer's own words ask for."""
    order = workshop.shop.orders.get(facts.order)
    if order is None:
        return facts
    try:
        written = list(shop.written_words(order))
    except ProofgenError:
        return facts  # told where the order is read
    return replace(facts, where=_lines_of(workshop, order, written), swap=_swap(order, facts.words))


def _lines_of(workshop: Workshop, order: Order, written: Sequence[shop.Written]) -> str:
    """'orders/fenn/order.yaml, line 9, or orders/fenn/guests.csv'."""
    own = order.folder / "order.yaml"
    lines = sorted({one.at for one in written if one.file == own})
    lists = dict.fromkeys(one.file for one in written if one.file != own)
    where = f"orders/{order.id}/order.yaml"
    if lines and len(lines) <= _MOST_LINES:
        where += f", {'line' if len(lines) == 1 else 'lines'} {runs(lines)}"
    others = [file.relative_to(workshop.folder).as_posix() for file in lists]
    return f"{where}, or {joined(others, 'or')}" if others else where


# How people write that a word is to be another; which side the new one stands on.
_TO = re.compile(r"\s*(?:->|→|=>)\s*")
_FOR = re.compile(r"\s+(?:instead of|statt|anstatt|en vez de|en lugar de)\s+", re.IGNORECASE)

_STOP = re.compile(r"[,.;:!?]+\s")  # what lies behind it is another thing


def _swap(order: Order, said: Sequence[str]) -> str:
    """The line for what the customer's words ask for ("Olla instead of Ola"); '' where they
    do not say it so, or the word does not stand once."""
    for text in (
        line for words in said for line in unicodedata.normalize("NFC", words).split("\n")
    ):
        for sign, turned in ((_TO, False), (_FOR, True)):
            parts = sign.split(text)
            if len(parts) != 2:
                continue
            before, after = _bare(_STOP.split(parts[0])[-1]), _bare(_STOP.split(parts[1])[0])
            if found := _pair(order, before, after, turned=turned):
                old, new = map(for_shell, found)
                return f"proofgen change {order.id} {old} {new}"
    return ""


def _belongs(word: str, new: str, old: str, is_before: bool) -> bool:
    """Whether the word beside the new ones may be one of them: not a small one, unless the old text
    is more like it with that word ("Anna Lena" in the place of "Annalena")."""
    longer = f"{word}{new}" if is_before else f"{new}{word}"
    near, nearer = (SequenceMatcher(None, old, text).ratio() for text in (new, longer))
    return not word[:1].islower() or nearer > near


def _bare(text: str) -> list[str]:
    """Its words, without the quotation marks and stops around them."""
    return [word for part in text.split() if (word := part.strip("“”„«»\"‘’'.,;:!?()"))]


def _pair(
    order: Order, before: list[str], after: list[str], *, turned: bool
) -> tuple[str, str] | None:
    """The old and the new words out of what stands on both sides of the sign: the most words of the
    old one's side that stand in the order once, and as many of the other side."""
    for many in range(min(len(before), len(after), 5), 0, -1):
        left, right = " ".join(before[-many:]), " ".join(after[:many])
        old, new = (right, left) if turned else (left, right)
        if old == new or not (can_be_typed(old) and can_be_typed(new)):
            continue
        longer = before[-many - 1 :][:1] if turned else after[many : many + 1]
        if len(before if turned else after) > many and _belongs(longer[0], new, old, turned):
            continue
        if len(_standing_by_itself(order, old)) == 1:
            return old, new
    return None
