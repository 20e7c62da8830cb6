"""The words of a proof as a customer reads them: one by one, letter by letter, against before."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import SequenceMatcher
from itertools import groupby
from typing import NamedTuple, TypedDict

from proofgen.model.name_lists import are_names
from proofgen.proof.content import ProofContent, Word
from proofgen.proof.customer_findings import CustomerFinding
from proofgen.proof.letters import Letter, graphemes, lacks, spell
from proofgen.proof.pieces import same_on
from proofgen.say import capital, sentences, visible
from proofgen.say.tongue import Tongue
from proofgen.say.ways import way_of


class Part(NamedTuple):
    """Some letters of a text, whether the text it is held against has others there, and whether
    they are `printed`: the typeface may lack them."""

    text: str
    differs: bool
    printed: bool = True


class Text(TypedDict):
    """A text to read: which pieces carry it as what, its letters, and how it read before. `id` is
    its own within the page; `number` is its piece's where that says enough, else ''; `also` tells
    the other pieces of the same words and what was noticed of these, '' where there is nothing;
    `lacks` tells which of its letters are not printed, '' where all are; `runs` is the way its
    letters run, 'ltr' or 'rtl'."""

    id: str
    pieces: tuple[int, ...]
    slot: str
    line: int
    label: str
    of: str
    number: str
    also: str
    lacks: str
    text: str
    runs: str
    letters: list[Letter]
    before: list[Part]
    now: list[Part]


def compared(before: str, now: str) -> tuple[list[Part], list[Part]]:
    """Both texts in parts, the letters that differ marked; whole letters as `graphemes` cuts."""
    old, new = graphemes(before), graphemes(now)
    parts: tuple[list[Part], list[Part]] = ([], [])
    for kind, i, j, k, m in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        for made, letters in ((parts[0], old[i:j]), (parts[1], new[k:m])):
            if letters:
                made.append(Part("".join(letters), kind != "equal"))
    return parts


def _printed(parts: Sequence[Part], missing: str) -> list[Part]:
    """The parts, those letters apart that are not printed."""
    if not missing:
        return list(parts)
    apart: list[Part] = []
    for part in parts:
        for unprinted, letters in groupby(graphemes(part.text), lambda one: lacks(one, missing)):
            apart.append(Part("".join(letters), part.differs, not unprinted))
    return apart


def _lacks(word: Word, tongue: Tongue) -> str:
    """Which letters of a text are not printed, and what stands in their place."""
    lost = dict.fromkeys(one for one in graphemes(word.text) if lacks(one, word.missing))
    if not lost:
        return ""
    letters = " ".join(visible(one) for one in lost)
    if word.boxed:
        return tongue(
            "Not printed, because the typeface lacks it: {letters} — an empty box stands in its "
            "place.",
            letters=letters,
        )
    return tongue(
        "Not printed, because the typeface lacks it: {letters} — its place stays empty.",
        letters=letters,
    )


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


def _noticed(word: Word, findings: Sequence[CustomerFinding]) -> list[str]:
    """What was noticed of a word, a sentence each."""
    found = (one.word for one in findings if one.word)
    return [
        one.says
        for one in found
        if (one.line, one.slot) == (word.line, word.slot_id) and {*one.pieces} & {*word.pieces}
    ]


def names_told(content: ProofContent, tongue: Tongue) -> str:
    """How many different names a list of names holds, where some stand on several pieces."""
    read = piece_by_piece(content.words, tongue)
    named = [word for word, same in read if same]
    if not named:
        return ""
    place = named[0].line, named[0].slot_id
    names = [word.text for word, _ in read if (word.line, word.slot_id) == place]
    return tongue(
        "{pieces} pieces carry {names} different names. Please look whether one is missing.",
        pieces=tongue.number(len(names), 0),
        names=tongue.number(len({*names}), 0),
    )


def texts_of(content: ProofContent, tongue: Tongue) -> list[Text]:
    """The words to read: those of many pieces first, then piece by piece."""
    texts: list[Text] = []
    read = piece_by_piece(content.words, tongue)
    single = {(word.line, word.slot_id) for word, _ in read if len(word.pieces) == 1}
    for number, (word, same) in enumerate(read, 1):
        also = sentences(same, *_noticed(word, content.findings))
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
                "lacks": _lacks(word, tongue),
                "text": word.text,
                "runs": way_of(word.text),
                "letters": spell(word.text, tongue, word.missing),
                "before": before,
                "now": _printed(now or [Part(word.text, False)], word.missing),
            }
        )
    return texts
