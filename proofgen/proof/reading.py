"""The words of a proof as a customer reads them: one by one, letter by letter, against before."""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import NamedTuple, TypedDict
from unicodedata import bidirectional

from proofgen.proof.content import ProofContent, Word
from proofgen.proof.letters import Letter, graphemes, spell
from proofgen.say import capital
from proofgen.say.tongue import Tongue


class Part(NamedTuple):
    """Some letters of a text, and whether the text it is held against has others there."""

    text: str
    differs: bool


class Text(TypedDict):
    """A text to read: which pieces carry it as what, its letters, and how it read before. `id` is
    its own within the page; `number` is its piece's where that says enough, else ''; `runs` is the
    way its letters run, 'ltr' or 'rtl'."""

    id: str
    pieces: tuple[int, ...]
    slot: str
    line: int
    label: str
    of: str
    number: str
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


def texts_of(content: ProofContent, tongue: Tongue) -> list[Text]:
    """The words to read: those of many pieces first, then piece by piece."""
    texts: list[Text] = []
    single = {(word.line, word.slot_id) for word in content.words if len(word.pieces) == 1}
    for number, word in enumerate(sorted(content.words, key=lambda w: -len(w.pieces)), 1):
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
                "text": word.text,
                "runs": runs(word.text),
                "letters": spell(word.text, tongue),
                "before": before,
                "now": now,
            }
        )
    return texts
