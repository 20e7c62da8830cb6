"""Short codes of an edition, one for each answer, to be said by telephone or written on paper.

Today two of eight symbols; editions made before have three of sixteen.
"""

from __future__ import annotations

import base64
import hmac
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from proofgen.signoff.digests import canonical
from proofgen.signoff.documents import EditionHead
from proofgen.signoff.editions import Edition
from proofgen.signoff.kinds import CHOICES, OLD_WORDS, AnswerKind, answer_of
from proofgen.signoff.slip import words_everywhere

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Douglas Crockford's base 32: no I, L, O, U
_RFC4648 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
_FORGIVEN = str.maketrans({"O": "0", "I": "1", "L": "1"})
VERSION = 2  # of the codes that new editions get
_GROUP = 4
# Symbols of a code by its version: 40 bits and 80.
_LENGTHS = {2: 8, 1: 16}
# How many symbols may differ in what is still told to be a near miss, by a code's length.
NEAR = {8: 1, 16: 2}

# The spelling alphabet of ICAO Annex 10, volume II, 5.2.1.3, and of the ITU's Radio Regulations,
# appendix 14.
_WORDS = (
    "Alfa", "Bravo", "Charlie", "Delta", "Echo", "Foxtrot", "Golf", "Hotel", "India", "Juliett",
    "Kilo", "Lima", "Mike", "November", "Oscar", "Papa", "Quebec", "Romeo", "Sierra", "Tango",
    "Uniform", "Victor", "Whiskey", "X-ray", "Yankee", "Zulu",
)  # fmt: skip
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_ALSO = {"alpha": "A", "juliet": "J", "whisky": "W", "xray": "X", "nought": "0", "niner": "9"}
_SPELLING = {
    **{word.casefold(): word[0] for word in _WORDS},
    **{word: str(n) for n, word in enumerate(_NUMBERS)},
    **_ALSO,
}
_TOKEN = re.compile(r"x-ray|[^\W_]+", re.I)
# What may stand between the symbols of a code: quoting and punctuation, never a picture.
_BETWEEN = re.compile(r"[\s>|.,;:/\\_~*'\"`\u00ad\u200b-\u200f\u2010-\u2015\u2060\u2212\ufeff-]*")


# -- making ----------------------------------------------------------------------------------


def crockford(content: bytes) -> str:
    """Bytes as Crockford base 32, most significant bit first; a last symbol's spare bits are 0.

    Source: crockford.com/base32.html for the alphabet, RFC 4648 for the order of bits.
    """
    plain = base64.b32encode(content).decode().rstrip("=")
    return plain.translate(str.maketrans(_RFC4648, ALPHABET))


def from_crockford(symbols: str) -> bytes:
    """The bytes that `crockford` wrote so. Errors: ValueError for anything it would not write."""
    if set(symbols) - set(ALPHABET):
        raise ValueError("not of the alphabet")
    plain = symbols.translate(str.maketrans(ALPHABET, _RFC4648))
    content = base64.b32decode(plain + "=" * (-len(plain) % 8))
    if crockford(content) != symbols:
        raise ValueError("not the one spelling of these bytes")
    return content


def _code(key: bytes, signed: Mapping[str, object], length: int) -> str:
    """'XXXX-XXXX': the first bits of HMAC-SHA-256 under the edition's key."""
    symbols = crockford(hmac.digest(key, canonical(signed), "sha256")[: length * 5 // 8])
    return "-".join(symbols[i : i + _GROUP] for i in range(0, length, _GROUP))


def _all_codes(key: bytes, order: str, number: int, print_: str, version: int) -> dict[str, str]:
    """The codes of an edition by the word of the answer that each stands for."""
    use = "spoken code 2" if version == VERSION else "spoken code"
    about = {"edition": number, "fingerprint": print_, "order": order, "use": use}
    return {
        word: _code(key, {**about, "answer": word}, _LENGTHS[version])
        for word in (CHOICES if version == VERSION else OLD_WORDS)
    }


def spoken_codes(edition: Edition) -> dict[AnswerKind, str]:
    """The codes of one edition, one for each answer that its page offers."""
    every = _all_codes(
        edition.key, edition.order, edition.number, edition.fingerprint, edition.codes
    )
    shown: dict[AnswerKind, str] = {}
    for word, code in every.items():
        shown.setdefault(answer_of(word), code)
    return shown


def codes_of(head: EditionHead) -> dict[str, AnswerKind]:
    """What each code of an edition answers, as `read_code` makes it plain."""
    key, version = bytes.fromhex(head["key"]), head.get("codes", 1)
    every = _all_codes(key, head["order"], head["edition"], head["fingerprint"], version)
    return {code.replace("-", ""): answer_of(word) for word, code in every.items()}


def as_said(head: EditionHead) -> list[str]:
    """Each code as pages and letters show it, behind the sentence of its answer, in any language:
    so quoted back it is ours."""
    key, version = bytes.fromhex(head["key"]), head.get("codes", 1)
    every = _all_codes(key, head["order"], head["edition"], head["fingerprint"], version)
    return [
        f"{words[answer_of(word)]} {code}{behind}"
        for words in words_everywhere()
        for word, code in every.items()
        for behind in (f" ({spelled(code)})", f" {spelled(code)}", "")
    ]


def spelled(code: str) -> str:
    """A code as it is said: 'Kilo 2 Victor Charlie, 2 5 5 9'."""
    words = {word[0]: word for word in _WORDS}
    return ", ".join(" ".join(words.get(c, c) for c in group) for group in code.split("-"))


# -- reading ---------------------------------------------------------------------------------


def read_code(text: str) -> str:
    """A code as someone wrote it, made plain: capitals, no separators, O to 0, I and L to 1.

    Nothing else is mended; the result may have any length.
    """
    wide = unicodedata.normalize("NFKC", text).upper()
    digits = (str(unicodedata.digit(c)) if c.isdigit() else c for c in wide if c.isalnum())
    return "".join(digits).translate(_FORGIVEN)


@dataclass(frozen=True, slots=True)
class Heard:
    """Symbols in a row that may be a code, and where in the text they stand."""

    symbols: str
    start: int
    end: int


def heard(text: str) -> Iterator[Heard]:
    """Every run of whole words that may be a code or a near miss of one: typed in groups or
    singly, or spelled by words of the alphabet ('kilo two victor charlie')."""
    found = list(_TOKEN.finditer(text))
    typed = [read_code(m[0]) for m in found]
    said = [_SPELLING.get(m[0].casefold(), plain) for m, plain in zip(found, typed, strict=True)]
    yield from _runs(text, found, typed)
    if said != typed:  # a group may read as a word does: PAPA
        yield from _runs(text, found, said)


def _runs(text: str, found: Sequence[re.Match[str]], symbols: Sequence[str]) -> Iterator[Heard]:
    wanted = {length + by for length in NEAR for by in (-1, 0, 1)}
    for at, first in enumerate(found):
        run, before = "", first
        for token, part in zip(found[at:], symbols[at:], strict=True):
            apart = token is not first and not _BETWEEN.fullmatch(text, before.end(), token.start())
            run, before = run + part, token
            if apart or len(run) > max(wanted):
                break
            if len(run) in wanted:
                yield Heard(run, first.start(), token.end())


def without(text: str, codes_there: Iterable[Heard]) -> str:
    """What stands around codes."""
    for start, end in sorted({(one.start, one.end) for one in codes_there}, reverse=True):
        text = f"{text[:start]} {text[end:]}"
    return text


def looks_like_code(text: str) -> bool:
    """Whether a text is a code and no more, or very nearly one; not yet that it is known."""
    text = text.strip()
    runs = [one for one in heard(text) if (one.start, one.end) == (0, len(text))]
    said = any(m[0].casefold() in _SPELLING or m[0][0].isdigit() for m in _TOKEN.finditer(text))
    return any(len(one.symbols) in NEAR or said or "-" in text for one in runs)


def distance(one: str, other: str, limit: int = 2) -> int:
    """How many letters were changed, left out, put in or swapped with a neighbour; limit + 1 when
    more than `limit` (rapidfuzz, optimal string alignment)."""
    from rapidfuzz.distance import OSA  # only a code that fits none waits for it

    return int(OSA.distance(one, other, score_cutoff=limit))
