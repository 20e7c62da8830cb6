"""Check words/quotes."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from proofgen.checks.phrases import letter, quoted
from proofgen.checks.registry import Said, check, warn
from proofgen.checks.subjects import TextSubject, texts

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


def _signs(text: str) -> str:
    """The text with what is no quotation mark and no bracket blanked, each letter in its place."""
    text = _TURNED.sub(" ", _INSIDE.sub(" ", text))
    if sum(text.count(c) for c in "([") != sum(text.count(c) for c in ")]"):
        text = _FACE.sub(lambda found: " " * len(found[0]), text)
    if text.count('"') % 2:
        text = _INCH.sub(lambda found: " " * len(found[0]), text)
    return text


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


def _called(sign: str) -> str:
    """A sign by its name: set in quotation marks itself it would only confuse."""
    return unicodedata.name(sign).lower()


@check(
    "words/quotes",
    over=texts,
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
def quotes(subject: TextSubject) -> Iterator[Said]:
    """Every quotation mark and bracket has its partner."""
    text = subject.text
    opened, closed = unpaired(text)
    if opened:
        yield warn(
            "unclosed",
            f"{quoted(text)} has a {_called(opened[0])} that nothing closes.",
            "Please say where it ends, or leave it out.",
            measure=opened[0],
        )
    if closed:
        yield warn(
            "unopened",
            f"{quoted(text)} has a {_called(closed[0])} that nothing opens.",
            "Please say where it begins, or leave it out.",
            measure=closed[0],
        )
    for code, signs, what in (
        ("turned-apostrophe", _TURNED, "an apostrophe that is turned the wrong way"),
        ("accent", _ACCENT, "an accent where an apostrophe belongs"),
    ):
        found = signs.search(text)
        if found:
            right = signs.sub("’", text)
            yield warn(
                code,
                f"{quoted(text)} has {what} ({letter(found[0])}).",
                f"Write {quoted(right)}, if that is meant.",
                measure=found[0],
            )
