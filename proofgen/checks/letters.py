"""Checks of letters and signs as the customer wrote them: hidden, look-alike, without a partner."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter

from proofgen.checks import characters
from proofgen.checks.alphabets import (
    LATIN_ODD,
    LIKE_LATIN,
    go_together,
    script_name,
    script_of,
    scripts_of,
)
from proofgen.checks.frame import Remarks, check, stop, warn
from proofgen.checks.phrases import letter
from proofgen.checks.subjects import WrittenText, texts
from proofgen.model import Limits
from proofgen.say import joined, plural, quoted

_STOPS = {
    "control": "a control character",
    "direction": "a character that turns the direction of writing",
    "invisible": "a character nobody can see",
    "private": "a character that means something in one program only",
    "unassigned": "a character that does not exist",
}
_TYPE_AGAIN = "Please type these words again, by hand."
_MOST_MARKS = 2
# Hebrew: a dot for shin, a dot inside, a vowel. Arabic: doubling, a vowel, a small alef.
_MORE_MARKS = {"HEBREW": 3, "ARABIC": 3}


@check(
    "words/hidden-characters",
    texts,
    why="Words copied from a message bring characters along that nobody sees; they print as "
    "boxes, turn names round, or make two names differ that look the same.",
    source="Unicode TR 36 and TR 39; UAX 9 for direction; joiners are left where Persian, Indic "
    "names and emoji need them",
    codes={
        **_STOPS,
        "stacked-marks": "a letter carries more accents than any language asks",
        "odd-space": "a space that is not the usual one",
        "double-space": "two spaces in a row",
        "edge-space": "a space before or after the words",
        "stray-space": "a space before a comma, inside a bracket or on one side of a hyphen",
    },
)
def hidden_characters(written: WrittenText, _: Limits) -> Remarks:
    """No words hold characters that nobody sees."""
    text = written.text
    by_kind: dict[str, list[str]] = {}
    for at, char in enumerate(text):
        kind = _hidden_kind(text, at)
        if kind and char not in by_kind.setdefault(kind, []):
            by_kind[kind].append(char)
    for kind, chars in by_kind.items():
        names = joined(letter(c) for c in chars[:4])
        says = f"{quoted(text)} holds {_STOPS[kind]} ({names})."
        yield stop(kind, says, _TYPE_AGAIN, measure=names)
    pile = _stacked(text)
    if pile:
        yield stop(
            "stacked-marks",
            f"{quoted(text)} piles more accents on {letter(pile)} than any language asks.",
            _TYPE_AGAIN,
        )
    yield from _spaces(text)


def _hidden_kind(text: str, at: int) -> str:
    """Which code the character at `at` earns, '' for none."""
    char = text[at]
    category = unicodedata.category(char)
    kind = {"Cs": "control", "Co": "private", "Cn": "unassigned"}.get(category, "")
    if category == "Cc":
        kind = "" if char == "\n" else "control"  # words may be written on several lines
    elif char in characters.BIDI:
        kind = "direction"
    elif char in (characters.ZWJ, characters.ZWNJ):
        kind = "" if characters.joiner_belongs(text, at) else "invisible"
    elif char in characters.SELECTORS:
        kind = "" if characters.selector_belongs(text, at) else "invisible"
    elif characters.is_tag(char):
        kind = "" if characters.tag_belongs(text, at) else "invisible"
    elif char in characters.BLANKS or category in ("Zl", "Zp", "Cf"):
        kind = "" if char in characters.SEEN_FORMATS else "invisible"
    return kind


def _stacked(text: str) -> str:
    """The first letter (NFC) that carries more marks above and below than any language asks."""
    base, marks = "", 0
    for char in unicodedata.normalize("NFC", text):
        if not unicodedata.combining(char):
            base, marks = char, 0
            continue
        marks += 1
        name = unicodedata.name(base, "") if base else ""
        most = next((n for s, n in _MORE_MARKS.items() if name.startswith(s)), _MOST_MARKS)
        if marks > most:
            return base or char
    return ""


# Before a comma or full stop, inside brackets, on one side of a hyphen or apostrophe. Before the
# signs ; : ? French sets a space, and before three points everybody may.
_STRAY = re.compile(
    r"\w [,.](?![.\w])|[(\[] \S+|\S+ [)\]](?!\S)|\w+ -\w+"
    r"|\b[OD][’'] [^\W\d_]+|\w+[’'] (?:s|d|t|m|ll)\b"
)


def _spaces(text: str) -> Remarks:
    odd = [c for c in dict.fromkeys(text) if unicodedata.category(c) == "Zs" and c != " "]
    if odd:
        yield warn(
            "odd-space",
            f"{quoted(text)} holds an unusual space ({joined(letter(c) for c in odd)}).",
            "Use a plain space, if nothing else is meant.",
        )
    # A block in the order's file ends with a line break that is nobody's word.
    body = text.rstrip("\n")
    if any(line != line.strip() for line in body.split("\n")):
        yield warn(
            "edge-space",
            f"{quoted(body)} begins or ends with a space; it is left out when the words are set.",
            "Take the space away.",
        )
    stray = _STRAY.search(body)
    if stray:
        yield warn(
            "stray-space",
            f"{quoted(body)} has a space where none belongs: {quoted(stray[0])}.",
            "Take the space away, if it is not meant.",
            measure=stray[0],
        )
    doubles = body.strip().count("  ")
    if doubles:
        times = f" ({plural(doubles, 'time')})" if doubles > 1 else ""
        yield warn(
            "double-space",
            f"{quoted(body)} has two spaces in a row{times}.",
            "Use one space, if nothing else is meant.",
            measure=doubles,
        )


# º and ª are written so in Spanish and Portuguese, and their plain form is another letter.
_KEPT = frozenset("ºª")
# UTS 39 counts 0 with O, and 1 with l and I.
_DIGIT_INSIDE = re.compile(r"(?<=[^\W\d_])(?:0+|1+)(?=[^\W\d_])")
_LETTER_INSIDE = re.compile(r"(?<=\d)[OoIl](?=\d)")
_SAME = {"0": "an O", "1": "an l or an I", "O": "a 0", "o": "a 0", "I": "a 1", "l": "a 1"}


@check(
    "words/look-alikes",
    texts,
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
def look_alikes(written: WrittenText, _: Limits) -> Remarks:
    """Every word is written in one alphabet, the one it looks like."""
    own = frozenset(code for tag in written.languages for code in scripts_of(tag))
    for word in characters.words_in(written.text):
        yield from _alphabets(word, own)
        inside = _digit_inside(word)
        if inside:
            kind, among = ("digit", "letters") if inside.isdigit() else ("letter", "digits")
            yield warn(
                "digit",
                f"{quoted(word)} has the {kind} {inside} among {among}; {_SAME[inside]} looks "
                "the same in many typefaces.",
                "Please say which is meant.",
                measure=inside,
            )
    odd = "".join(_odd_forms(written.text))
    if odd:
        plain = unicodedata.normalize("NFKC", odd)
        yield warn(
            "odd-form",
            f"{quoted(written.text)} holds special forms of letters "
            f"({joined(letter(c) for c in odd)}).",
            f"Write {quoted(plain)} in plain letters." if plain != odd else _TYPE_AGAIN,
        )


def _alphabets(word: str, own: frozenset[str]) -> Remarks:
    """What is to be said of a word's scripts; `own` are those of the shop and the customer."""
    script = {c: code for c in word if (code := script_of(c))}
    counts = Counter(script[c] for c in word if c in script)
    if not go_together(counts):
        # What the shop's languages are written in is the word's own; among those, what it has most.
        main = max(counts, key=lambda code: (code in own, counts[code], code))
        odd = [c for c, code in script.items() if code != main]
        yield warn(
            "mixed",
            f"{quoted(word)} mixes alphabets: {joined(letter(c) for c in odd)} among "
            f"{script_name(main)} letters.",
            "Please type this word again, by hand.",
        )
    elif len(counts) == 1:
        (code,) = counts
        if code not in own and set(script) <= set(LIKE_LATIN.get(code, "")):
            yield warn(
                "other-alphabet",
                f"{quoted(word)} looks Latin but is written in {script_name(code)} letters.",
                "If that is not meant, please type it again, by hand.",
            )


def _digit_inside(word: str) -> str:
    """The 0 or 1 that stands among letters, or the letter among digits; '' for none.

    Short words in capitals are left alone: SW1A and K1A are postcodes.
    """
    for match in _DIGIT_INSIDE.finditer(word):
        beside = word[match.start() - 1] + word[match.end()]
        if beside != beside.upper() or sum(c.isalpha() for c in word) > 4:
            return match[0][0]
    strange = _LETTER_INSIDE.search(word)
    return strange[0] if strange else ""


def _odd_forms(text: str) -> list[str]:
    """Letters that are a special form of others: ligatures, wide, mathematical, phonetic ones."""
    return [
        c
        for c in dict.fromkeys(text)
        if unicodedata.category(c)[0] == "L"
        and c not in _KEPT
        and (c in LATIN_ODD or unicodedata.normalize("NFKC", c) != unicodedata.normalize("NFC", c))
    ]


# What may close what: quotation marks of English, German, French, Swedish, Danish, Japanese …
# (Unicode, chapter 6.2, "Language-Based Usage of Quotation Marks"), and brackets.
_CLOSES = {
    "“": "”", "„": "“”", "”": "”", "«": "»", "»": "«»", "‚": "‘’", "‘": "’", "‹": "›", "›": "‹›",
    "「": "」", "『": "』", "《": "》", "〈": "〉", "【": "】", "〔": "〕",
    "(": ")", "[": "]", "{": "}", "（": "）", "［": "］",
    '"': '"',
}  # fmt: skip
_CLOSERS = frozenset("".join(_CLOSES.values()))
_APOSTROPHES = "'’"
# A closing bracket that belongs to a face drawn with signs, or to a number in a list.
_FACE = re.compile(r"[:;=8][-’'^]?[)\](\[]|(?<!\w)(?:\d{1,2}|[a-z])\)")
# Between letters (two vowels aside: Hawaiian and its sisters write a letter so), or before ’90s.
_TURNED = re.compile(
    r"(?<=[^\W\d_])‘(?=[^\W\d_aeiouāēīōū])|(?<=[^\W\d_aeiouāēīōū])‘(?=[aeiou])|‘(?=\d0s?\b)",
    re.IGNORECASE,
)
_INSIDE = re.compile(r"(?<=[^\W\d_])‘(?=[^\W\d_])")
_ACCENT = re.compile(r"(?<=[^\W\d_])[`´](?=[^\W\d_])")
_INCH = re.compile(r"\d+[’']?\s?\d*(?:\"|'')")


@check(
    "words/quotes",
    texts,
    why="A quotation mark or bracket without its partner is easily overlooked on a screen and "
    "cannot be mended on cloth.",
    source="The Unicode Standard, chapter 6.2, on quotation marks and apostrophes",
    codes={
        "unclosed": "a quotation mark or bracket opens and nothing closes it",
        "unopened": "a quotation mark or bracket closes what nothing opened",
        "turned-apostrophe": "an apostrophe that is turned the wrong way",
        "accent": "an accent where an apostrophe belongs",
    },
)
def quotes(written: WrittenText, _: Limits) -> Remarks:
    """Every quotation mark and bracket has its partner."""
    text = written.text
    opened, closed = unpaired(text)
    # A sign is called by its name: set in quotation marks itself it would only confuse.
    if opened:
        yield warn(
            "unclosed",
            f"{quoted(text)} has a {unicodedata.name(opened[0]).lower()} that nothing closes.",
            "Please say where it ends, or leave it out.",
            measure=opened[0],
        )
    if closed:
        yield warn(
            "unopened",
            f"{quoted(text)} has a {unicodedata.name(closed[0]).lower()} that nothing opens.",
            "Please say where it begins, or leave it out.",
            measure=closed[0],
        )
    for code, signs, what in (
        ("turned-apostrophe", _TURNED, "an apostrophe that is turned the wrong way"),
        ("accent", _ACCENT, "an accent where an apostrophe belongs"),
    ):
        match = signs.search(text)
        if match:
            yield warn(
                code,
                f"{quoted(text)} has {what} ({letter(match[0])}).",
                f"Write {quoted(signs.sub('’', text))}, if that is meant.",
                measure=match[0],
            )


def unpaired(text: str) -> tuple[list[str], list[str]]:
    """Signs that open and are not closed, and signs that close what was not opened."""
    opened: list[str] = []
    stray: list[str] = []
    for sign in _signs(text):
        at = next((i for i in reversed(range(len(opened))) if sign in _CLOSES[opened[i]]), None)
        if at is not None:
            stray += opened[at + 1 :]
            del opened[at:]
        elif sign in _APOSTROPHES:
            continue  # an apostrophe, unless something waits to be closed by it
        elif sign in _CLOSES and sign != "”":
            opened.append(sign)
        elif sign == "”" and text.count("”") > 1 and "“" not in text and "„" not in text:
            opened.append(sign)  # Swedish and Finnish open and close with the same sign
        elif sign in _CLOSERS:
            stray.append(sign)
    closing = [sign for sign in stray if sign not in _CLOSES or sign == "”"]
    return opened + [sign for sign in stray if sign not in closing], closing


def _signs(text: str) -> str:
    """The text with what is no quotation mark and no bracket blanked, each letter in its place."""
    text = _TURNED.sub(" ", _INSIDE.sub(" ", text))
    if sum(text.count(c) for c in "([") != sum(text.count(c) for c in ")]"):
        text = _FACE.sub(lambda match: " " * len(match[0]), text)
    if text.count('"') % 2:
        text = _INCH.sub(lambda match: " " * len(match[0]), text)
    return text
