"""Slips of version 1, which pages made before the second one still write: fields and summary."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Mapping
from typing import Any, TypeGuard

from proofgen.signoff.digests import read_canonical
from proofgen.signoff.documents import OldPayload, SlipPayload
from proofgen.signoff.editions import is_order_id
from proofgen.signoff.kinds import OLD_WORDS, answer_of
from proofgen.signoff.slip import are_pieces, is_time

TICKS = ("spelling", "crop", "colour", "quantity", "photo")
ANSWERS: Mapping[str, str] = {
    "ok": "OK: press it exactly as shown.",
    "corrections": "OK with corrections: please change what I wrote, then show me a new proof.",
    "again": "Show it again: please change it and send me a new proof.",
}
_TITLE = "Answer to proof {edition} of order {order}"
_TICKED = {
    "spelling": "spelling",
    "crop": "how the picture is cut",
    "colour": "colours",
    "quantity": "quantity",
    "photo": "that you may use the photo",
}
_LEAVE = "The lines below carry this answer. Please send them just as they are."
# Mail doubles a dot that opens a line (RFC 5321 4.5.2), and not every program undoes it.
# A chat's marks of the words above and below may cling to it; what is signed opens with '{"'.
_CODED = re.compile(r"[_-]*(eyJ[A-Za-z0-9_-]+)\.{1,2}([A-Za-z0-9_-]{43})[_-]*")
_HEX = re.compile(r"[0-9a-f]{64}")


def decode(coded: str) -> tuple[bytes, bytes, OldPayload] | None:
    """The signed bytes, their code and the fields of a block's letters; None when damaged."""
    parts = _CODED.fullmatch(coded)
    if parts is None:
        return None
    try:
        signed, mac = _padded(parts[1]), _padded(parts[2])
        # A last letter may carry bits that decoding drops; only the one true spelling is taken.
        if (_unpadded(signed), _unpadded(mac)) != parts.groups() or len(mac) != 32:
            return None
        fields = read_canonical(signed)
    except (ValueError, binascii.Error):
        return None
    return (signed, mac, fields) if _is_old(fields) else None


def as_today(old: OldPayload) -> SlipPayload:
    """The same answer in today's fields. What was ticked is not carried on, but for the photo."""
    made: SlipPayload = {
        "v": 2,
        "answer": answer_of(old["answer"]),
        "edition": old["edition"],
        "order": old["order"],
        "time": old["time"],
        "name": old["name"],
        "note": old["remarks"],
        "wrong": old["wrong"],
        "show": old["may_show"],
    }
    if "photo" in old["ticks"]:
        made["print"] = True
    return made


def summary(old: OldPayload) -> str:
    """The readable part as the page of that time wrote it."""
    ticked = [_TICKED[t] for t in TICKS if t in old["ticks"]]
    lines = [
        _TITLE.format(edition=old["edition"], order=old["order"]),
        "",
        ANSWERS[old["answer"]],
        f"I checked: {', '.join(ticked) or 'nothing ticked'}",
        f"The shop may show it to others: {'yes' if old['may_show'] else 'no'}",
    ]
    if old["wrong"]:
        lines.append(f"Wrong pieces: {', '.join(map(str, old['wrong']))}")
    lines.append(f"Name: {old['name']}")
    if old["remarks"]:
        lines.append(f"Remarks: {old['remarks']}")
    lines += [f"Written: {old['time']}", "", _LEAVE, ""]
    return "\n".join(lines)


def _is_old(fields: Any) -> TypeGuard[OldPayload]:
    if not isinstance(fields, dict) or fields.keys() != OldPayload.__annotations__.keys():
        return False
    texts = [fields[key] for key in ("answer", "name", "remarks", "time", "fingerprint")]
    if not all(isinstance(t, str) for t in texts) or not isinstance(fields["ticks"], list):
        return False
    return (
        fields["answer"] in OLD_WORDS
        and is_order_id(fields["order"])
        and isinstance(fields["may_show"], bool)
        and are_pieces([fields["edition"]])
        and are_pieces(fields["wrong"])
        and all(isinstance(t, str) for t in fields["ticks"])
        and fields["ticks"] == sorted(set(fields["ticks"]) & set(TICKS))
        and len(fields["name"]) <= 200
        and len(fields["remarks"]) <= 4000
        and is_time(fields["time"])
        and _HEX.fullmatch(fields["fingerprint"]) is not None
    )


def _unpadded(content: bytes) -> str:
    return base64.urlsafe_b64encode(content).decode().rstrip("=")


def _padded(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))
