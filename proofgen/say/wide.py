"""Text that an editor saved as UTF-16 without its mark: as bytes of UTF-8 it is full of zeros."""

from __future__ import annotations

_MANY = 4  # of so many bytes one is zero: words in Latin letters


def is_wide(data: bytes) -> bool:
    """Whether this is UTF-16 without its mark. Each line feed of it stands beside a zero byte,
    whatever alphabet its words have."""
    feeds = data.count(b"\n")
    beside = feeds and feeds in (data.count(b"\n\0"), data.count(b"\0\n"))
    return bool(beside) or data.count(0) * _MANY > len(data)
