"""The words of a proof as a customer reads them: one by one, letter by letter, against before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from typing import NamedTuple, TypedDict
from unicodedata import bidirectional

from proofgen.model.name_lists import are_names
from proofgen.proof.content import ProofContent, Word
from proofgen.proof.letters import Letter, graphemes, spell
from proofgen.proof.pieces import same_on
from proofgen.say import capital
from proofgen.say.tongue import Tongue


class Part(NamedTuple):
    """Some letters of a text, and whether the text it is held against has others there."""

    text: str
    differs: bool


class Text(TypedDict):
    """A text to read: which pieces carry it as what, its letters, and how it read before. `id` is
    its own within the page; `number` is its piece's where that says enough, else ''; `also` tells
    the other pieces of the same words, '' where there are none; `runs` is the way its letters run,
    'ltr' or 'rtl'."""

    id: str
    pieces: tuple[int, ...]
    slot: str
    line: int
    label: str
    of: str
    number: str
    also: str
    text: str
    runs: str
    letters: list[Letter]
    before: list[Part]
    now: list[Part]


def runs(text: str) -> str:
    """Which way a text runs, by its first letter that has a way (Unicode UAX 9, P2 and P3)."""
    for way in map(bidirectional, text):
        if way in ("L", "R", "AL"):
            return "ltr" if way == "L" else "rtl"
    return "ltr"


def compared(before: str, now: str) -> tuple[list[Part], list[Part]]:
    """Both texts in parts, the letters that differ marked; whole letters as `graphemes` cuts."""
    old, new = graphemes(before), graphemes(now)
    parts: tuple[list[Part], list[Part]] = ([], [])
    for kind, i, j, k, m in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        for made, letters in ((parts[0], old[i:j]), (parts[1], new[k:m])):
            if letters:
                made.append(Part("".join(letters), kind != "equal"))
    return parts


def _of(word: Word, quantity: int, tongue: Tongue) -> str:
    slot = word.slot
    if quantity == 2 and len(word.pieces) == 2:
        return tongue("Both pieces, {slot}", slot=slot)
    if quantity > 1 and len(word.pieces) == quantity:
        return tongue.several("The piece, {slot}", "All {n} pieces, {slot}", quantity, slot=slot)
    return tongue("{pieces}, {slot}", pieces=tongue.pieces(word.pieces, quantity), slot=slot)


def piece_by_piece(words: Sequence[Word], tongue: Tongue) -> list[tuple[Word, str]]:
    """Words in the order in which they are read, those of many pieces first; of a list of names
    each piece has its own, also where two carry the same name, and beside it that is told."""
    places: dict[tuple[int, str, str], list[Word]] = {}
    for word in words:
        places.setdefault((word.line, word.slot_id, word.slot), []).append(word)
    names = {
        place
        for place, texts in places.items()
        if are_names(len(texts), sum(len(word.pieces) for word in texts))
    }
    read: list[tuple[Word, str]] = []
    for word in words:
        if (word.line, word.slot_id, word.slot) not in names or len(word.pieces) == 1:
            read.append((word, ""))
            continue
        for piece in word.pieces:
            also = same_on(word.pieces, piece, tongue)
            read.append((replace(word, pieces=(piece,)), also))
    return sorted(read, key=lambda one: (-len(one[0].pieces), one[0].pieces))


def texts_of(content: ProofContent, tongue: Tongue) -> list[Text]:
    """The words to read: those of many pieces first, then piece by piece."""
    texts: list[Text] = []
    read = piece_by_piece(content.words, tongue)
    single = {(word.line, word.slot_id) for word, _ in read if len(word.pieces) == 1}
    for number, (word, also) in enumerate(read, 1):
        before, now = compared(word.before, word.text) if word.before else ([], [])
        texts.append(
            {
                "id": f"text-{number}",
                "pieces": word.pieces,
                "slot": word.slot_id,
                "line": word.line,
                "label": capital(word.slot),
                "of": _of(word, content.quantity, tongue),
                "number": str(*word.pieces) if len(single) == len(word.pieces) == 1 else "",
                "also": also,
                "text": word.text,
                "runs": runs(word.text),
                "letters": spell(word.text, tongue),
                "before": before,
                "now": now,
            }
        )
    return texts
