"""A PDF as plain bytes, so that what is in it can be searched."""

from __future__ import annotations

import io

import pikepdf


def unpacked(pdf: bytes) -> bytes:
    """Every object and every stream that is not a picture, undone of their packing."""
    plain = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        document.save(
            plain,
            compress_streams=False,
            stream_decode_level=pikepdf.StreamDecodeLevel.all,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
        )
    return plain.getvalue()
