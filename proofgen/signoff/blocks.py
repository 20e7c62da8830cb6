"""Finds the coded blocks in what mail programs, chats and telephones left of a text.

Whatever they put between the letters is forgiven: none of it can change an answer, because the
code over it would no longer fit.
"""

from __future__ import annotations

import hmac
import html
import re
import unicodedata
from contextlib import suppress
from dataclasses import dataclass, field
from urllib.parse import unquote

from proofgen.signoff import codes, old_slip, slip
from proofgen.signoff.documents import OldPayload, SlipPayload
from proofgen.signoff.wording import speaks

_MOST = 64 * 1024  # letters in one block; the longest honest one has under 30,000
_MOST_OF_ORDER = 512 * 1024  # letters of an order's, which may hold a list of names unpacked
_SOFT_BREAK = re.compile(r"=[ \t]*\r?\n")
_QUOTE = re.compile(r"^[ \t]*(?:[A-Za-z]{0,3}>|\|)(?:[ \t]*[>|])*", re.MULTILINE)
_ESCAPED = re.compile(r"=([0-9A-F]{2})")
_TAG = re.compile(r"<[^<>\n]*>")
# What programs make of a dot between letters, which they take for an address: its text alone.
_LINKS = (
    (re.compile(r"<[^<>|]*\|([^<>]*)>"), r"\1"),
    (re.compile(r"\[([^\[\]]*)\]\([^()]*\)"), r"\1"),
    (re.compile(r"<[^<>]*>|\(https?:[^()]*\)|https?://"), ""),
    (re.compile("[\u2010-\u2015\u2212]"), "-"),
    (re.compile(r"[^A-Za-z0-9_.-]"), ""),
)
# What may stand between the words of a mark: white space, quoting, a chat's marks, dashes.
_FILL = r"[\s\\*_`~>|#=.:\u00ad\u200b-\u200f\u2010-\u2015\u2060\u2212\ufeff-]*"


def _marks(kind: str) -> tuple[str, str, re.Pattern[str]]:
    """How a block begins and ends, and the whole of it."""
    begin, end = (_FILL.join([word, kind, "CODE"]) for word in ("BEGIN", "END"))
    whole = rf"{begin}((?:(?!{begin}).)*?)({end}|(?={begin})|\Z)"
    return begin, end, re.compile(whole, re.I | re.S)


_BEGIN, _END, _BLOCK = _marks("ANSWER")
_ORDER_BEGIN, _ORDER_END, _ORDER_BLOCK = _marks("ORDER")
# The same in a text as it came.
_WRITTEN_BLOCK = re.compile(rf"{_BEGIN}(?:(?!{_BEGIN}).)*?{_END}", re.I | re.S)
_WRITTEN_ORDER = re.compile(rf"{_ORDER_BEGIN}(?:(?!{_ORDER_BEGIN}).)*?{_ORDER_END}", re.I | re.S)
_ADDRESS = re.compile("BEGIN%20(?:ANSWER|ORDER)%20CODE", re.I)
_UNSEEN = re.compile("[\u00ad\u200b\u200e\u200f\u2060\ufeff]")
_WRITTEN_BEGIN = re.compile(_BEGIN, re.I)
_ANY_BEGIN = re.compile(f"{_BEGIN}|{_ORDER_BEGIN}", re.I)


@dataclass(frozen=True, slots=True)
class Block:
    """One coded block as it was found: the signed bytes, their code and the fields, or nothing.

    `payload` has exactly the fields and types of an answer; it is believed once the block `fits`.
    `old` is the same as an older page wrote it.
    """

    signed: bytes = b""
    mac: bytes = b""
    payload: SlipPayload | None = field(default=None, compare=False)
    old: OldPayload | None = field(default=None, compare=False)

    def fits(self, key: bytes, fingerprint: str) -> bool:
        """Whether who composed it had the edition's key and saw this artwork (HMAC-SHA-256, RFC
        2104; of today's slips the first 16 bytes)."""
        if self.payload is None or (self.old and self.old["fingerprint"] != fingerprint):
            return False
        signed = self.signed if self.old else f"{fingerprint}\n".encode() + self.signed
        made = hmac.digest(key, signed, "sha256")[: len(self.mac)]
        return hmac.compare_digest(made, self.mac)

    def summaries(self) -> list[str]:
        """How its readable part may read, in any language."""
        if self.old:
            return [old_slip.summary(self.old)]
        if self.payload is None:
            return []
        everywhere = slip.words_everywhere()
        return [text for words in everywhere for text in slip.summaries(self.payload, words)]


def has_mark(text: str) -> bool:
    """Whether a coded block, of an answer or an order, may stand in a text."""
    return _ANY_BEGIN.search(text) is not None


def has_answer(text: str) -> bool:
    """Whether the coded block of an answer may stand in a text."""
    return _WRITTEN_BEGIN.search(text) is not None


def letters_of_blocks(text: str) -> str:
    """The coded letters of every block that has its end, without what mail put between them."""
    return " ".join("".join(block.split()) for block in _WRITTEN_BLOCK.findall(text))


def without_blocks(text: str, intact: str = "") -> str:
    """The text around the coded blocks, with any picture or question mark inside one. Of a block
    that lost its end goes what also stands in `intact`, the letters of a whole one; the rest may
    be somebody's words."""
    text = _UNSEEN.sub("", text)
    text = _WRITTEN_BLOCK.sub(lambda m: f"\n{''.join(filter(speaks, m[0]))}\n", text)
    begin = _WRITTEN_BEGIN.search(text)
    if begin is None:
        return text
    pieces = text[begin.end() :].split()
    while pieces and pieces[0].strip(">|") in intact:
        pieces.pop(0)
    return "\n".join([text[: begin.start()], *pieces])


def around_orders(text: str) -> str:
    """The text around the coded blocks of orders."""
    if _ADDRESS.search(text):
        text = unquote(text)
    return _WRITTEN_ORDER.sub("\n", _UNSEEN.sub("", text))


def read_blocks(text: str) -> list[Block]:
    """Every coded block in a text, in order, each once; a damaged one has no payload."""
    found = (_read_block(m[1], m[2]) for m in _BLOCK.finditer(_squashed(text)))
    return list(dict.fromkeys(found))


def read_orders(text: str) -> list[bytes | None]:
    """The bytes of every order slip's block in a text, in order, each once; None for a damaged
    one."""
    found = (_bytes_of(m[1], m[2]) for m in _ORDER_BLOCK.finditer(_squashed(text)))
    return list(dict.fromkeys(found))


def _bytes_of(coded: str, end: str) -> bytes | None:
    if not end or len(coded) > _MOST_OF_ORDER:
        return None
    escaped = _ESCAPED.sub(lambda m: chr(int(m[1], 16)), coded)
    for letters in dict.fromkeys((coded, escaped)):
        with suppress(ValueError):
            return codes.from_crockford(codes.read_code(_TAG.sub("", letters)))
    return None


def _squashed(text: str) -> str:
    """A text without what mail, chats and telephones put between letters."""
    if _ADDRESS.search(text):
        text = unquote(text)  # a mailto: address that was pasted whole
    text = unicodedata.normalize("NFKC", html.unescape(text))
    text = _QUOTE.sub("", _SOFT_BREAK.sub("", text))
    return "".join(c for c in text if not c.isspace() and unicodedata.category(c) != "Cf")


def _read_block(coded: str, end: str) -> Block:
    if not end or len(coded) > _MOST:
        return Block()
    escaped = _ESCAPED.sub(lambda m: chr(int(m[1], 16)), coded)
    for letters in dict.fromkeys((coded, escaped)):
        block = _old_block(letters) or _todays_block(letters)
        if block:
            return block
    return Block()


def _old_block(letters: str) -> Block | None:
    """Of version 1, which needs its hyphens and its one dot."""
    for pattern, text in _LINKS:
        letters = pattern.sub(text, letters)
    old = old_slip.decode(letters)
    return Block(old[0], old[1], old_slip.as_today(old[2]), old[2]) if old else None


def _todays_block(letters: str) -> Block | None:
    try:
        content = codes.from_crockford(codes.read_code(_TAG.sub("", letters)))
    except ValueError:
        return None
    found = slip.unpacked(content)
    return Block(*found) if found else None
