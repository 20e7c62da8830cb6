"""Order slips made by the standard library alone, apart from the page and from proofgen."""

from __future__ import annotations

import hashlib
import json
import zlib
from typing import Any

SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Crockford's base 32
WRITTEN = "2026-11-25T14:03:00Z"
GOOD: dict[str, Any] = {
    "v": 1,
    "time": WRITTEN,
    "design": "harbour-photo",
    "blank": "can-wrap-linen",
    "cloth": "white",
    "many": 2,
    "words": {"name": "Zoë & Bram", "line": "forty years at anchor"},
    "photos": {
        "photo": {
            "name": "pier.jpg", "width": 4032, "height": 3024,
            "focus": [0.5123, 0.4], "zoom": 1.25, "turn": 0,
        }
    },
    "price": "14.50",
    "currency": "EUR",
    "due": "2026-12-20",
    "language": "de",
    "print": True,
    "name": "Odalys Fenn",
    "mail": "odalys@example.org",
    "note": "Please wrap them as gifts.",
}  # fmt: skip


def packed(plain: bytes, deflated: bool = True) -> bytes:
    """A block's bytes of any content, its sum right."""
    squeezer = zlib.compressobj(9, zlib.DEFLATED, -15)
    body = squeezer.compress(plain) + squeezer.flush()
    told = hashlib.sha256(plain).digest()[:8]
    return (b"\1" + body if deflated else b"\0" + plain) + told


def block(content: bytes) -> str:
    bits = "".join(f"{byte:08b}" for byte in content)
    bits += "0" * (-len(bits) % 5)
    text = "".join(SYMBOLS[int(bits[i : i + 5], 2)] for i in range(0, len(bits), 5))
    groups = [text[i : i + 5] for i in range(0, len(text), 5)]
    lines = [" ".join(groups[i : i + 10]) for i in range(0, len(groups), 10)]
    return "\n".join(["BEGIN ORDER CODE", *lines, "END ORDER CODE"])


def as_json(payload: object) -> bytes:
    """Canonical (RFC 8785) for what slips hold: no number in them needs an exponent."""
    return json.dumps(
        payload, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    ).encode("utf-8", "surrogatepass")


def order_slip(deflated: bool = True, **changed: Any) -> str:
    """A good slip with some fields changed; None leaves one out."""
    payload = {k: v for k, v in {**GOOD, **changed}.items() if v is not None}
    return f"Order: Harbour photo\n\n{block(packed(as_json(payload), deflated))}\n"


def asked_text(payload: dict[str, Any]) -> str:
    """What stands in asked.txt beside an order that was taken from this slip."""
    mark = hashlib.sha256(as_json(payload)).hexdigest()[:32]
    return f"proofgen/asked/1 {mark}\nTaken: 2026-11-25\n\n{block(packed(as_json(payload)))}\n"
