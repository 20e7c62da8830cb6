"""The bytes inside a coded block: whether they are packed, and what stands behind them."""

from __future__ import annotations

import zlib


def contents(block: bytes, behind: int, most: int) -> tuple[bytes, bytes] | None:
    """What a block's bytes hold, and the last `behind` of them, which are over it. The first byte
    tells whether it is packed. None when that is no kind, or it unpacks to nothing whole or to more
    than `most` bytes."""
    kind, body, last = block[:1], block[1:-behind], block[-behind:]
    plain = body if kind == b"\0" else _inflated(body, most) if kind == b"\1" else None
    return None if plain is None else (plain, last)


def _inflated(body: bytes, most: int) -> bytes | None:
    """Raw deflate (RFC 1951), whole and with nothing behind it."""
    reader = zlib.decompressobj(wbits=-15)
    try:
        content = reader.decompress(body, most)
    except zlib.error:
        return None
    return content if reader.eof and not reader.unused_data else None
