"""Check words/look-alikes."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterator

from proofgen.checks.alphabets import (
    LATIN_ODD,
    LIKE_LATIN,
    go_together,
    script_name,
    script_of,
    scripts_of,
)
from proofgen.checks.characters import words_in
from proofgen.checks.phrases import joined, letter, quoted
from proofgen.checks.registry import Said, check, warn
from proofgen.checks.subjects import TextSubject, texts

# º and ª are written so in Spanish and Portuguese, and their plain form is another letter.
_KEPT = frozenset("ºª")
# UTS 39 counts 0 with O, and 1 with l and I.
_DIGIT_INSIDE = re.compile(r"(?<=[^\W\d_])(?:0+|1+)(?=[^\W\d_])")
_LETTER_INSIDE = re.compile(r"(?<=\d)[OoIl](?=\d)")
_SAME = {"0": "an O", "1": "an l or an I", "O": "a 0", "o": "a 0", "I": "a 1", "l": "a 1"}


def odd_forms(text: str) -> list[str]:
    """Letters that are a special form of others: ligatures, wide, mathematical, phonetic ones."""
    return [
        c
        for c in dict.fromkeys(text)
        if unicodedata.category(c)[0] == "L"
        and c not in _KEPT
        and (c in LATIN_ODD or unicodedata.normalize("NFKC", c) != unicodedata.normalize("NFC", c))
    ]


def digit_inside(word: str) -> str:
    """The 0 or 1 that stands among letters, or the letter among digits; '' for none.

    Short words in capitals are left alone: SW1A and K1A are postcodes.
    """
    for found in _DIGIT_INSIDE.finditer(word):
        beside = word[found.start() - 1] + word[found.end()]
        if beside != beside.upper() or sum(c.isalpha() for c in word) > 4:
            return found[0][0]
    strange = _LETTER_INSIDE.search(word)
    return strange[0] if strange else ""


@check(
    "words/look-alikes",
    over=texts,
    why="A letter of another alphabet that looks the same may be missing from the font, and a "
    "name written with one is not found again.",
    source="Unicode TR 36 and UTS 39 (mixed scripts, whole-script look-alikes, confusables 13.0); "
    "languages' alphabets from Unicode CLDR, through Babel",
    codes={
        "mixed": "one word mixes alphabets",
        "other-alphabet": "a word that looks Latin is written in another alphabet",
        "odd-form": "a letter that is a special form of another",
        "digit": "a digit among letters, or a letter among digits, that looks like its neighbours",
    },
)
def look_alikes(subject: TextSubject) -> Iterator[Said]:
    """Every word is written in one alphabet, the one it looks like."""
    given = subject.given
    tongues = (given.shop.settings.language, given.order.customer.language)
    own = frozenset(code for tag in tongues if tag for code in scripts_of(tag))
    for word in words_in(subject.text):
        yield from _alphabets(word, own)
        inside = digit_inside(word)
        if inside:
            kind, among = ("digit", "letters") if inside.isdigit() else ("letter", "digits")
            yield warn(
                "digit",
                f"{quoted(word)} has the {kind} {inside} among {among}; {_SAME[inside]} looks "
                "the same in many typefaces.",
                "Please say which is meant.",
                measure=inside,
            )
    odd = odd_forms(subject.text)
    if odd:
        plain = _plain("".join(odd))
        yield warn(
            "odd-form",
            f"{quoted(subject.text)} holds special forms of letters "
            f"({joined(letter(c) for c in odd)}).",
            f"Write {quoted(plain)} in plain letters."
            if plain != "".join(odd)
            else "Please type these words again, by hand.",
        )


def _plain(text: str) -> str:
    return unicodedata.normalize("NFKC", text)


def _alphabets(word: str, own: frozenset[str]) -> Iterator[Said]:
    """What is to be said of a word's scripts; `own` are those of the shop and the customer."""
    found = {c: script_of(c) for c in word if script_of(c)}
    counts = Counter(code for c in word if (code := found.get(c)))
    if not go_together(counts):
        # What the shop's languages are written in is the word's own; among those, what it has most.
        main = max(counts, key=lambda code: (code in own, counts[code], code))
        odd = [c for c, code in found.items() if code != main]
        yield warn(
            "mixed",
            f"{quoted(word)} mixes alphabets: {joined(letter(c) for c in odd)} among "
            f"{script_name(main)} letters.",
            "Please type this word again, by hand.",
        )
    elif len(counts) == 1:
        (code,) = counts
        if code not in own and set(found) <= set(LIKE_LATIN.get(code, "")):
            yield warn(
                "other-alphabet",
                f"{quoted(word)} looks Latin but is written in {script_name(code)} letters.",
                "If that is not meant, please type it again, by hand.",
            )
