"""Three short codes per edition, one per answer, to be said by telephone or written on paper."""

from __future__ import annotations

import base64
import hmac
import unicodedata
from collections.abc import Mapping

from proofgen.signoff.digests import canonical
from proofgen.signoff.editions import Edition
from proofgen.signoff.kinds import AnswerKind

LENGTH = 16
ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # Douglas Crockford's base 32: no I, L, O, U
_RFC4648 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
_FORGIVEN = str.maketrans({"O": "0", "I": "1", "L": "1"})


def crockford(content: bytes) -> str:
    """Bytes (a multiple of five) as Crockford base 32, most significant bit first.

    Source: crockford.com/base32.html for the alphabet, RFC 4648 for the order of bits.
    """
    if len(content) % 5:
        raise ValueError("whole groups of five bytes only")
    return base64.b32encode(content).decode().translate(str.maketrans(_RFC4648, ALPHABET))


def codes_for(key: bytes, order: str, number: int, print_: str) -> dict[AnswerKind, str]:
    """Answer to code 'XXXX-XXXX-XXXX-XXXX': 80 bits of HMAC-SHA-256 under the edition's key."""
    spoken = {}
    for answer in AnswerKind:
        signed = canonical(
            {
                "answer": answer,
                "edition": number,
                "fingerprint": print_,
                "order": order,
                "use": "spoken code",
            }
        )
        letters = crockford(hmac.digest(key, signed, "sha256")[:10])
        spoken[answer] = "-".join(letters[i : i + 4] for i in range(0, LENGTH, 4))
    return spoken


def three_codes(edition: Edition) -> Mapping[AnswerKind, str]:
    """The codes of one edition, one for each answer."""
    return codes_for(edition.key, edition.order, edition.number, edition.fingerprint)


def read_code(text: str) -> str:
    """A code as someone wrote it, made plain: capitals, no separators, O to 0, I and L to 1.

    Nothing else is mended; the result may have any length.
    """
    wide = unicodedata.normalize("NFKC", text).upper()
    return "".join(c for c in wide if c.isalnum()).translate(_FORGIVEN)


def distance(one: str, other: str, limit: int = 2) -> int:
    """How many letters were changed, left out, put in or swapped with a neighbour; limit + 1 when
    more than `limit` (rapidfuzz, optimal string alignment)."""
    from rapidfuzz.distance import OSA  # only a code that fits none waits for it

    return int(OSA.distance(one, other, score_cutoff=limit))
