"""The answer slip: a summary to read, then one coded block, which is all that is believed."""

from __future__ import annotations

import base64
import binascii
import hmac
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from urllib.parse import unquote

from proofgen.signoff.canonical import canonical, read_canonical
from proofgen.signoff.editions import ANSWERS, TICKS, Edition, is_order_id

BEGIN = "BEGIN ANSWER CODE"
END = "END ANSWER CODE"
WIDTH = 60  # under the 78 characters of RFC 5322 2.1.1, with room for a quote mark

# The page's script puts the same words together, so they are given to it from here.
SLIP_WORDS: Mapping[str, str] = {
    "title": "Answer to proof {edition} of order {order}",
    "ok": "OK: press it exactly as shown.",
    "corrections": "OK with corrections: please change what I wrote, then show me a new proof.",
    "again": "Show it again: please change it and send me a new proof.",
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

_KEYS = (
    "answer", "edition", "fingerprint", "may_show", "name", "order", "remarks", "ticks", "time",
    "wrong",
)  # fmt: skip
_MOST = 64 * 1024  # letters in one block; the longest honest one has under 30,000
_SOFT_BREAK = re.compile(r"=[ \t]*\r?\n")
_QUOTE = re.compile(r"^[ \t]*(?:[A-Za-z]{0,3}>|\|)(?:[ \t]*[>|])*", re.MULTILINE)
_BLOCK = re.compile(
    r"BEGINANSWERCODE((?:(?!BEGINANSWERCODE).)*?)(ENDANSWERCODE|(?=BEGINANSWERCODE)|\Z)"
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

    def payload(self) -> dict[str, Any] | None:
        """The answer inside, when it has exactly the fields and types of one; not yet believed."""
        return read_payload(self.signed) if self.whole else None


def say_time(written: datetime | str) -> str:
    """'2026-11-25T14:03:00Z', from an aware datetime or as it is. Errors: ValueError."""
    if isinstance(written, datetime):
        if written.tzinfo is None:
            raise ValueError("a time needs its zone")
        written = written.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    if not _TIME.fullmatch(written):
        raise ValueError(f"{written!r} is not a time such as 2026-11-25T14:03:00Z")
    return written


def make_payload(
    edition: Edition,
    answer: str,
    ticks: Iterable[str],
    may_show: bool,
    wrong: Iterable[int],
    name: str,
    remarks: str,
    written: datetime | str,
) -> dict[str, Any]:
    """What the block carries. Errors: ValueError for an answer, tick or piece that is none."""
    payload = {
        "answer": answer,
        "edition": edition.number,
        "fingerprint": edition.fingerprint,
        "may_show": may_show,
        "name": name,
        "order": edition.order,
        "remarks": remarks,
        "ticks": sorted(set(ticks)),
        "time": say_time(written),
        "wrong": sorted(set(wrong)),
    }
    if read_payload(canonical(payload)) is None:
        raise ValueError("this is not an answer that the page could give")
    return payload


def read_payload(signed: bytes) -> dict[str, Any] | None:
    """The fields of a canonical answer; None when one is missing, too much or of a wrong kind."""
    try:
        found = read_canonical(signed)
    except ValueError:
        return None
    if not isinstance(found, dict) or tuple(sorted(found)) != _KEYS:
        return None
    return found if _fields_hold(found) else None


def _fields_hold(found: Mapping[str, Any]) -> bool:
    texts = (found["name"], found["remarks"], found["time"], found["fingerprint"])
    lists = (found["ticks"], found["wrong"])
    if not all(isinstance(t, str) for t in texts) or not all(isinstance(t, list) for t in lists):
        return False
    whole = (found["edition"], *found["wrong"])
    return (
        found["answer"] in ANSWERS
        and is_order_id(found["order"])
        and isinstance(found["may_show"], bool)
        and all(type(n) is int and 0 < n < 100_000 for n in whole)
        and found["wrong"] == sorted(set(found["wrong"]))
        and all(isinstance(t, str) for t in found["ticks"])
        and found["ticks"] == sorted(set(found["ticks"]) & set(TICKS))
        and len(found["name"]) <= 200
        and len(found["remarks"]) <= 4000
        and _TIME.fullmatch(found["time"]) is not None
        and _HEX.fullmatch(found["fingerprint"]) is not None
    )


def mac_of(key: bytes, signed: bytes) -> bytes:
    """HMAC-SHA-256 (RFC 2104, RFC 6234) of the canonical answer, 32 bytes."""
    return hmac.digest(key, signed, "sha256")


def coded_block(signed: bytes, mac: bytes) -> str:
    """The block with its first and last line, wrapped at 60; base64url of RFC 4648 section 5."""
    coded = f"{_unpadded(signed)}.{_unpadded(mac)}"
    lines = [coded[i : i + WIDTH] for i in range(0, len(coded), WIDTH)]
    return "\n".join([BEGIN, *lines, END])


def compose_slip(
    edition: Edition,
    answer: str,
    ticks: Iterable[str],
    may_show: bool,
    wrong: Iterable[int],
    name: str,
    remarks: str,
    written: datetime | str,
    words: Mapping[str, str] = SLIP_WORDS,
) -> str:
    """The slip as the page's script composes it. Errors: ValueError as make_payload."""
    payload = make_payload(edition, answer, ticks, may_show, wrong, name, remarks, written)
    signed = canonical(payload)
    return summary(payload, words) + coded_block(signed, mac_of(edition.key, signed)) + "\n"


def summary(payload: Mapping[str, Any], words: Mapping[str, str] = SLIP_WORDS) -> str:
    """The readable part: plain lines, an empty line, and the sentence before the block."""
    title = words["title"].replace("{edition}", str(payload["edition"]))
    ticked = [words[t] for t in TICKS if t in payload["ticks"]]
    lines = [
        title.replace("{order}", payload["order"]),
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


def read_blocks(text: str) -> list[Block]:
    """Every coded block in a text, in order, each once; a damaged one is `not whole`.

    Forgives what mail does to lines: quoting, wrapping, odd spaces, invisible characters, soft
    line breaks. None of these can change an answer: the code over it would no longer fit.
    """
    if "BEGIN%20ANSWER%20CODE" in text:
        text = unquote(text)  # a mailto: address that was pasted whole
    text = _QUOTE.sub("", _SOFT_BREAK.sub("", text))
    squashed = "".join(c for c in text if not c.isspace() and unicodedata.category(c) != "Cf")
    found = [_read_block(m[1], m[2]) for m in _BLOCK.finditer(squashed)]
    return list(dict.fromkeys(found))


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
