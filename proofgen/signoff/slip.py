"""Reading an answer slip: of all its words only the coded block is believed."""

from __future__ import annotations

import base64
import binascii
import hmac
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TypeGuard
from urllib.parse import unquote

from proofgen.signoff.digests import read_canonical
from proofgen.signoff.documents import SlipPayload
from proofgen.signoff.editions import is_order_id
from proofgen.signoff.kinds import ANSWERS, TICKS

# The page's script puts the same words together, so they are given to it from here.
SLIP_WORDS: Mapping[str, str] = {
    "title": "Answer to proof {edition} of order {order}",
    **{kind.value: words.on_slip for kind, words in ANSWERS.items()},
    "checked": "I checked:",
    "nothing": "nothing ticked",
    "spelling": "spelling",
    "crop": "how the picture is cut",
    "colour": "colours",
    "quantity": "quantity",
    "photo": "that you may use the photo",
    "may_show": "The shop may show it to others:",
    "yes": "yes",
    "no": "no",
    "wrong": "Wrong pieces:",
    "name": "Name:",
    "remarks": "Remarks:",
    "written": "Written:",
    "leave": "The lines below carry this answer. Please send them just as they are.",
}

BEGIN = "BEGIN ANSWER CODE"
_MOST = 64 * 1024  # letters in one block; the longest honest one has under 30,000
_SOFT_BREAK = re.compile(r"=[ \t]*\r?\n")
_QUOTE = re.compile(r"^[ \t]*(?:[A-Za-z]{0,3}>|\|)(?:[ \t]*[>|])*", re.MULTILINE)
_BLOCK = re.compile(
    r"BEGINANSWERCODE((?:(?!BEGINANSWERCODE).)*?)(ENDANSWERCODE|(?=BEGINANSWERCODE)|\Z)"
)
# The same in a text as it came.
_WRITTEN_BLOCK = re.compile(
    r"BEGIN\s+ANSWER\s+CODE(?:(?!BEGIN\s+ANSWER\s+CODE).)*?END\s+ANSWER\s+CODE", re.DOTALL
)
_ESCAPED = re.compile(r"=([0-9A-F]{2})")
# Mail doubles a dot that opens a line (RFC 5321 4.5.2), and not every program undoes it.
_CODED = re.compile(r"([A-Za-z0-9_-]+)\.{1,2}([A-Za-z0-9_-]+)")
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")
_HEX = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Block:
    """One coded block as it was found: the bytes that were signed and their code, or neither."""

    signed: bytes = b""
    mac: bytes = b""

    @property
    def whole(self) -> bool:
        return bool(self.signed) and len(self.mac) == 32

    def payload(self) -> SlipPayload | None:
        """The answer inside, when it has exactly the fields and types of one; not yet believed."""
        return read_payload(self.signed) if self.whole else None


def read_payload(signed: bytes) -> SlipPayload | None:
    """The fields of a canonical answer; None when one is missing, too much or of a wrong kind."""
    try:
        fields = read_canonical(signed)
    except ValueError:
        return None
    return fields if _is_payload(fields) else None


def _is_payload(fields: object) -> TypeGuard[SlipPayload]:
    if not isinstance(fields, dict) or fields.keys() != SlipPayload.__annotations__.keys():
        return False
    texts = [fields[key] for key in ("answer", "name", "remarks", "time", "fingerprint")]
    lists = (fields["ticks"], fields["wrong"])
    if not all(isinstance(t, str) for t in texts) or not all(isinstance(t, list) for t in lists):
        return False
    whole = (fields["edition"], *fields["wrong"])
    return (
        fields["answer"] in ANSWERS
        and is_order_id(fields["order"])
        and isinstance(fields["may_show"], bool)
        and all(type(n) is int and 0 < n < 100_000 for n in whole)
        and fields["wrong"] == sorted(set(fields["wrong"]))
        and all(isinstance(t, str) for t in fields["ticks"])
        and fields["ticks"] == sorted(set(fields["ticks"]) & set(TICKS))
        and len(fields["name"]) <= 200
        and len(fields["remarks"]) <= 4000
        and _is_time(fields["time"])
        and _HEX.fullmatch(fields["fingerprint"]) is not None
    )


def title(edition: int, order: str, words: Mapping[str, str] = SLIP_WORDS) -> str:
    """The first line of a slip, which is also the subject of the mail that carries it."""
    return words["title"].replace("{edition}", str(edition)).replace("{order}", order)


def summary(payload: SlipPayload, words: Mapping[str, str] = SLIP_WORDS) -> str:
    """The readable part as the page writes it: plain lines, and the sentence before the block."""
    ticked = [words[t] for t in TICKS if t in payload["ticks"]]
    lines = [
        title(payload["edition"], payload["order"], words),
        "",
        words[payload["answer"]],
        f"{words['checked']} {', '.join(ticked) or words['nothing']}",
        f"{words['may_show']} {words['yes' if payload['may_show'] else 'no']}",
    ]
    if payload["wrong"]:
        lines.append(f"{words['wrong']} {', '.join(map(str, payload['wrong']))}")
    lines.append(f"{words['name']} {payload['name']}")
    if payload["remarks"]:
        lines.append(f"{words['remarks']} {payload['remarks']}")
    lines += [f"{words['written']} {payload['time']}", "", words["leave"], ""]
    return "\n".join(lines)


def _is_time(text: str) -> bool:
    """Whether a clock could have shown it, written as the page writes it."""
    try:
        return bool(_TIME.fullmatch(text) and datetime.fromisoformat(text))
    except ValueError:
        return False


def mac_of(key: bytes, signed: bytes) -> bytes:
    """HMAC-SHA-256 (RFC 2104, RFC 6234) of the canonical answer, 32 bytes."""
    return hmac.digest(key, signed, "sha256")


def letters_of_blocks(text: str) -> str:
    """The coded letters of every block that has its end, without what mail put between them."""
    return " ".join("".join(block.split()) for block in _WRITTEN_BLOCK.findall(text))


def without_blocks(text: str, intact: str = "") -> str:
    """The text around the coded blocks. Of one that lost its end goes what also stands in
    `intact`, the letters of a whole one; the rest may be somebody's words."""
    text = _WRITTEN_BLOCK.sub("\n", text)
    head, mark, tail = text.partition(BEGIN)
    if not mark:
        return text
    pieces = tail.split()
    while pieces and pieces[0].strip(">|") in intact:
        pieces.pop(0)
    return "\n".join([head, *pieces])


def read_blocks(text: str) -> list[Block]:
    """Every coded block in a text, in order, each once; a damaged one is `not whole`.

    Forgives what mail does to lines: quoting, wrapping, odd spaces, invisible characters, soft
    line breaks. None of these can change an answer: the code over it would no longer fit.
    """
    if "BEGIN%20ANSWER%20CODE" in text:
        text = unquote(text)  # a mailto: address that was pasted whole
    text = _QUOTE.sub("", _SOFT_BREAK.sub("", text))
    squashed = "".join(c for c in text if not c.isspace() and unicodedata.category(c) != "Cf")
    return list(dict.fromkeys(_read_block(m[1], m[2]) for m in _BLOCK.finditer(squashed)))


def _read_block(coded: str, end: str) -> Block:
    coded = _ESCAPED.sub(lambda m: chr(int(m[1], 16)), coded.replace(">", ""))
    parts = _CODED.fullmatch(coded) if end and len(coded) <= _MOST else None
    if parts is None:
        return Block()
    try:
        signed, mac = _padded(parts[1]), _padded(parts[2])
    except (ValueError, binascii.Error):
        return Block()
    # A last letter may carry bits that decoding drops; only the one true spelling is taken.
    if (_unpadded(signed), _unpadded(mac)) != parts.groups():
        return Block()
    return Block(signed, mac)


def _unpadded(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).decode().rstrip("=")


def _padded(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
