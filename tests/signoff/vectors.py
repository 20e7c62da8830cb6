"""Published answers: slips and codes that page, script and tool must agree on, letter for letter.

    python tests/signoff/vectors.py

makes vectors.json anew. It signs with the standard library alone, written here a second time, so
that neither the page's script nor the tool is held to itself.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import zlib
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("vectors.json")
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CASES: list[dict[str, Any]] = [
    {"v": 2, "answer": "ok", "edition": 1, "order": "fenn", "time": "2026-11-25T14:03:00Z"},
    {
        "v": 2,
        "answer": "ok",
        "edition": 1,
        "order": "fenn",
        "time": "2026-11-25T14:03:00Z",
        "name": "Odalys Fenn",
        "print": True,
        "show": False,
    },
    {
        "v": 2,
        "answer": "change",
        "edition": 1,
        "order": "fenn",
        "time": "2026-11-25T14:03:00Z",
        "name": "Zoë Nguyễn-O’Neil",
        "note": '“Zoe” → “Zoë”\n\nthanks \U0001f600 < > & \\ "',
        "wrong": [12, 37],
        "changes": [
            {"pieces": [3, 4], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"},
            {"pieces": [5], "slot": "name", "line": 2, "old": "محمد", "new": "محمّد"},
        ],
    },
    {
        "v": 2,
        "answer": "change",
        "edition": 1,
        "order": "fenn",
        "time": "2026-11-25T14:03:00Z",
        "name": "A name that goes on. " * 9,
        "note": "the same words once more, " * 40,
    },
    {
        "v": 2,
        "answer": "change",
        "edition": 1,
        "order": "fenn",
        "time": "2026-11-25T14:03:00Z",
        "name": "Odalys Fenn",
        "note": "thanks",
        "changes": [
            {
                "pieces": list(range(1, 38)),
                "slot": "date",
                "line": 1,
                "old": "12 June",
                "new": "13 June",
            }
        ],
    },
    {
        "v": 2,
        "answer": "change",
        "edition": 1,
        "order": "fenn",
        "time": "2026-11-25T14:03:00Z",
        "changes": [  # two that say what is wrong and not what it should be
            {"pieces": [5], "slot": "name", "line": 1, "old": "Odalis", "new": ""},
            {
                "pieces": list(range(1, 38)),
                "slot": "date",
                "line": 1,
                "old": "12 June",
                "new": "",
            },
        ],
    },
]
PIECES = 37  # of the order
LEAVE = "\n\nPlease send the lines below just as they are.\n"
OK = "Answer to proof 1 of order fenn\n\nYes. Press it exactly as shown."
CHANGE = "Answer to proof 1 of order fenn\n\nNot yet. Change what I write and show me again."
TOLD = (
    "\nPieces 3–4: instead of “Odalis”: “Odalys”"
    "\nPiece 5: instead of “\u2068محمد\u2069”: “\u2068محمّد\u2069”"
    "\nMarked as wrong, by number: 12, 37"
    '\nNote: “Zoe” → “Zoë”\n\nthanks \U0001f600 < > & \\ "'
)
COUNTED = "\nWords to change: 2\nPieces marked wrong: 2\nA note is with it."
NAMED = "\nName: Zoë Nguyễn-O’Neil"
ALL_OF_THEM = "\nInstead of “12 June”: “13 June”\nNote: thanks\nName: Odalys Fenn"
UNSAID = (
    "\nPiece 5: “Odalis” is wrong; what it should be is not said"
    "\n“12 June” is wrong; what it should be is not said"
)
LONG = CHANGE + "\nNote: " + CASES[3]["note"] + "\nName: " + CASES[3]["name"] + LEAVE
# How each case reads in English: in a mail link, and in the copy that she keeps.
SAID = [
    (OK + LEAVE, OK + LEAVE),
    (OK + "\nName: Odalys Fenn" + LEAVE, OK + "\nName: Odalys Fenn" + LEAVE),
    (CHANGE + COUNTED + NAMED + LEAVE, CHANGE + TOLD + NAMED + LEAVE),
    (CHANGE + "\nA note is with it." + LEAVE, LONG),
    (CHANGE + ALL_OF_THEM + LEAVE, CHANGE + ALL_OF_THEM + LEAVE),
    (CHANGE + UNSAID + LEAVE, CHANGE + UNSAID + LEAVE),
]


def canonical(payload: dict[str, Any]) -> bytes:
    """RFC 8785 for what slips hold: small whole numbers, texts, no keys beyond ASCII."""
    return json.dumps(payload, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def base32(content: bytes) -> str:
    """Bit by bit, most significant first, zeros at the end."""
    bits = "".join(f"{byte:08b}" for byte in content)
    bits += "0" * (-len(bits) % 5)
    return "".join(ALPHABET[int(bits[i : i + 5], 2)] for i in range(0, len(bits), 5))


def mac(key: bytes, fingerprint: str, signed: bytes) -> bytes:
    return hmac.new(key, fingerprint.encode() + b"\n" + signed, hashlib.sha256).digest()[:16]


def block(kind: int, body: bytes, code: bytes) -> str:
    symbols = base32(bytes([kind]) + body + code)
    groups = [symbols[i : i + 5] for i in range(0, len(symbols), 5)]
    lines = [" ".join(groups[i : i + 10]) for i in range(0, len(groups), 10)]
    return "\n".join(["BEGIN ANSWER CODE", *lines, "END ANSWER CODE"])


def deflated(signed: bytes) -> bytes:
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    return packer.compress(signed) + packer.flush()


def codes(key: bytes, order: str, edition: int, fingerprint: str) -> dict[str, str]:
    """Two of eight symbols."""
    made = {}
    for answer in ("ok", "change"):
        about = {"answer": answer, "edition": edition, "fingerprint": fingerprint}
        signed = canonical({**about, "order": order, "use": "spoken code 2"})
        symbols = base32(hmac.new(key, signed, hashlib.sha256).digest()[:5])
        made[answer] = f"{symbols[:4]}-{symbols[4:]}"
    return made


def make() -> None:
    from tests.signoff.conftest import KEY, edition, unkept

    proof = edition()
    print_ = proof.fingerprint
    vectors = []
    for payload, (short, whole) in zip(CASES, SAID, strict=True):
        signed = canonical(payload)
        code = mac(KEY, print_, signed)
        vectors.append(
            {
                "payload": payload,
                "canonical": signed.decode(),
                "mac_hex": code.hex(),
                "block": block(0, signed, code),
                "deflated": block(1, deflated(signed), code),
                "short": short,
                "whole": whole,
            }
        )
    editions = [proof]
    for order, fill in (("fenn", 7), ("quill", 9), ("a", 7), ("b", 7), ("fenn", 21)):
        editions.append(unkept(order, fill, 1))
    editions += [unkept("fenn", 8, 2), unkept("quill", 8, 2)]
    spoken = [
        {
            "key_hex": e.key.hex(),
            "order": e.order,
            "edition": e.number,
            "fingerprint": e.fingerprint,
            "codes": codes(e.key, e.order, e.number, e.fingerprint),
        }
        for e in editions
    ]
    published = {
        "what": "Page, script and tool must agree on these, letter for letter.",
        "key_hex": KEY.hex(),
        "fingerprint": print_,
        "pieces": PIECES,
        "vectors": vectors,
        "spoken": spoken,
    }
    FILE.write_text(json.dumps(published, indent=1, ensure_ascii=False) + "\n", "utf-8")


if __name__ == "__main__":
    make()
