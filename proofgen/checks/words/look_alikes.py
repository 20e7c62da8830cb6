"""Check words/look-alikes."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from proofgen.checks.characters import script_of
from proofgen.checks.phrases import joined, letter, quoted
from proofgen.checks.registry import Said, check, warn
from proofgen.checks.subjects import TextSubject, texts

# Cyrillic and Greek letters drawn like Latin ones. From memory of UTS 39's confusables; a short
# list is enough, since a word counts only when all its letters are in it.
_LIKE_LATIN = frozenset("аеорсхуіѕјһԁԛԝѵАВЕКМНОРСТХУІЅЈЗοονΑΒΕΖΗΙΚΜΝΟΡΤΥΧ")
# Languages (ISO 639-1) written in those scripts.
_SCRIPT_LANGUAGES = {
    "CYRILLIC": {"ru", "uk", "be", "bg", "sr", "mk", "kk", "ky", "mn", "tg"},
    "GREEK": {"el"},
}
# º and ª are written so in Spanish and Portuguese, and their plain form is another letter.
_KEPT = frozenset("ºª")


def odd_forms(text: str) -> list[str]:
    """Letters that are a typographic form of others: ligatures, wide and mathematical letters."""
    return [
        c
        for c in dict.fromkeys(text)
        if unicodedata.category(c)[0] == "L"
        and c not in _KEPT
        and unicodedata.normalize("NFKC", c) != unicodedata.normalize("NFC", c)
    ]


@check(
    "words/look-alikes",
    over=texts,
    why="A letter of another alphabet that looks the same may be missing from the font, and a "
    "name written with one is not found again.",
    source="Unicode TR 36 and TR 39 (mixed scripts, whole-script look-alikes)",
    codes={
        "mixed": "one word mixes alphabets",
        "other-alphabet": "a word that looks Latin is written in another alphabet",
        "odd-form": "a letter that is a special form of another",
    },
)
def look_alikes(subject: TextSubject) -> Iterator[Said]:
    """Every word is written in one alphabet, the one it looks like."""
    tongues = {
        tag.split("-")[0].lower()
        for tag in (
            subject.given.shop.settings.language,
            subject.given.order.customer.language,
        )
        if tag
    }
    for word in re.findall(r"\w+", subject.text):
        scripts = {c: script_of(c) for c in word if script_of(c)}
        kinds = sorted(set(scripts.values()))
        few = min(kinds, key=list(scripts.values()).count, default="")
        if len(kinds) > 1:
            odd = [c for c, s in scripts.items() if s == few]
            yield warn(
                "mixed",
                f"{quoted(word)} mixes alphabets: {joined(letter(c) for c in odd)} among "
                f"{joined(k.capitalize() for k in kinds if k != few)} letters.",
                "Please type this word again, by hand.",
            )
        elif (
            few in _SCRIPT_LANGUAGES
            and not _SCRIPT_LANGUAGES[few] & tongues
            and set(scripts) <= _LIKE_LATIN
        ):
            yield warn(
                "other-alphabet",
                f"{quoted(word)} looks Latin but is written in {few.capitalize()} letters.",
                "If that is not meant, please type it again, by hand.",
            )
    odd = odd_forms(subject.text)
    if odd:
        yield warn(
            "odd-form",
            f"{quoted(subject.text)} holds special forms of letters "
            f"({joined(letter(c) for c in odd)}).",
            f"Write {quoted(unicodedata.normalize('NFKC', ''.join(odd)))} in plain letters.",
        )
