"""Memory of pictures given back to the system as soon as they are let go."""

from __future__ import annotations

import ctypes

# glibc, mallopt(3). By itself it learns from the first large block to keep such blocks for later;
# beside one another, several processes would each hold a picture that is done with.
_TRIM_THRESHOLD, _MMAP_THRESHOLD = -1, -3
_LARGE = 12_000_000  # bytes: below Pillow's blocks of 16 MiB, above planes that are used at once
_SPARE = 20_000_000


def give_back_large_blocks() -> None:
    """Do so in this process; nothing where its C library has no such setting."""
    try:
        setting = ctypes.CDLL(None).mallopt
    except (AttributeError, OSError, TypeError):  # TypeError: Windows has no library of no name
        return
    setting(_MMAP_THRESHOLD, _LARGE)
    setting(_TRIM_THRESHOLD, _SPARE)
