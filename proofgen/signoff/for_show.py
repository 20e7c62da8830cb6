"""Secrets of the demo shop: the same on every machine, and so secret from nobody."""

from __future__ import annotations

import base64
import hashlib

from proofgen.signoff.names import made_up


def demo_secret(what: str, order: str, number: int = 0) -> bytes:
    """32 bytes, for show."""
    return hashlib.sha256(f"demonstration only: {what} {order} {number}".encode()).digest()


def demo_token(order: str) -> str:
    """The secret part of an order's link."""
    return base64.b32encode(demo_secret("token", order)[:20]).decode().lower()


def demo_id(order: str) -> str:
    """An order's id in the records."""
    return made_up(demo_secret("id", order))
