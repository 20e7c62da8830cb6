"""Check words/hidden-characters."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from proofgen.checks import characters
from proofgen.checks.phrases import joined, letter, plural, quoted
from proofgen.checks.registry import Said, check, stop, warn
from proofgen.checks.subjects import TextSubject, texts

_STOPS = {
    "control": "a control character",
    "direction": "a character that turns the direction of writing",
    "invisible": "a character nobody can see",
    "private": "a character that means something in one program only",
    "unassigned": "a character that does not exist",
}
_CURE = "Please type these words again, by hand."
MOST_MARKS = 2
# Before a comma or full stop, inside brackets, on one side of a hyphen or apostrophe. Before the
# signs ; : ? French sets a space, and before three points everybody may.
_STRAY = re.compile(
    r"\w [,.](?![.\w])|[(\[] \S+|\S+ [)\]](?!\S)|\w+ -\w+"
    r"|\b[OD][’'] [^\W\d_]+|\w+[’'] (?:s|d|t|m|ll)\b"
)
# Hebrew: a dot for shin, a dot inside, a vowel. Arabic: doubling, a vowel, a small alef.
_MORE_MARKS = {"HEBREW": 3, "ARABIC": 3}


def kind_of(text: str, at: int) -> str:
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


def stacked(text: str) -> str:
    """The first letter (NFC) that carries more marks above and below than any language asks."""
    base, marks = "", 0
    for char in unicodedata.normalize("NFC", text):
        if not unicodedata.combining(char):
            base, marks = char, 0
            continue
        marks += 1
        name = unicodedata.name(base, "") if base else ""
        most = next((n for s, n in _MORE_MARKS.items() if name.startswith(s)), MOST_MARKS)
        if marks > most:
            return base or char
    return ""


@check(
    "words/hidden-characters",
    over=texts,
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
def hidden_characters(subject: TextSubject) -> Iterator[Said]:
    """No words hold characters that nobody sees."""
    text = subject.text
    found: dict[str, list[str]] = {}
    for at, char in enumerate(text):
        kind = kind_of(text, at)
        if kind and char not in found.setdefault(kind, []):
            found[kind].append(char)
    for kind, chars in found.items():
        names = joined(letter(c) for c in chars[:4])
        yield stop(kind, f"{quoted(text)} holds {_STOPS[kind]} ({names}).", _CURE, measure=names)
    pile = stacked(text)
    if pile:
        yield stop(
            "stacked-marks",
            f"{quoted(text)} piles more accents on {letter(pile)} than any language asks.",
            _CURE,
        )
    yield from _spaces(text)


def _spaces(text: str) -> Iterator[Said]:
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
        yield warn(
            "double-space",
            f"{quoted(body)} has two spaces in a row"
            + (f" ({plural(doubles, 'time')})." if doubles > 1 else "."),
            "Use one space, if nothing else is meant.",
            measure=doubles,
        )
