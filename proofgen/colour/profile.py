"""sRGB as an ICC profile, the same bytes on every machine and day."""

from __future__ import annotations

import functools
import struct

from PIL import ImageCms

# Of a profile's header (ICC.1:2022, 7.2): the day it was made at byte 24, its identity at 84.
_DAY = slice(24, 36)
_IDENTITY = slice(84, 100)


@functools.cache
def srgb_profile() -> bytes:
    """The profile that LittleCMS makes of IEC 61966-2-1, with a fixed day and no identity."""
    made = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    made[_DAY] = struct.pack(">6H", 2000, 1, 1, 0, 0, 0)
    made[_IDENTITY] = bytes(16)
    return bytes(made)
