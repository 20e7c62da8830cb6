"""Whether a picture's reader had to invent some of it, because bytes of the file were lost.

Readers of JPEGs go on after a gap: they fill up with grey, repeat a colour, or leave the fine
detail of a progressive picture out. What they remark on the way, Pillow keeps to itself; the reader
of simplejpeg (libjpeg-turbo's strict one) says it. It is asked for an eighth of the size, since all
the codes are read for that too.
"""

from __future__ import annotations

import re

from PIL import Image

from proofgen.photo.containers import png_is_sound, scans
from proofgen.photo.exchange import Header

# Remarks of libjpeg (jerror.h) for which it invented pixels; others are about odd headers.
_INVENTED = ("Corrupt JPEG data", "Premature end", "Inconsistent progression")
_BEHIND = re.compile(r"(\d+) extraneous bytes before marker 0xd9")  # behind the last pixel


def invented(data: bytes, header: Header) -> bool:
    """Whether a JPEG's or a PNG's pixels are not all from its bytes, or not as they were written;
    nothing is known of other kinds."""
    if header["format"] == "PNG":
        return not png_is_sound(data)
    if header["format"] not in ("JPEG", "MPO"):
        return False
    return (header["progressive"] and _never_refined(data)) or _remarked(data, header["mode"])


def _remarked(data: bytes, mode: str) -> bool:
    import simplejpeg

    try:
        simplejpeg.decode_jpeg(
            data, "CMYK" if mode == "CMYK" else "GRAY", fastdct=True, min_factor=8, strict=True
        )
    except ValueError as error:
        remark = str(error)
    else:
        return False
    behind = _BEHIND.search(remark)
    if behind and bytes(int(behind[1])) + b"\xff\xd9" in data:
        return False  # some cameras fill up with zeros
    return remark.startswith(_INVENTED)


def _never_refined(data: bytes) -> bool:
    """Whether some coefficient was never sent, or not to its last bit, by the heads of the scans.
    ITU-T T.81, G.1.1.1: Ss and Se are the first and last coefficient, Al the bits yet to come."""
    left: dict[int, list[int]] = {}
    for head in scans(data):
        first, last, bits = head[-3:]
        for component in head[1 : 1 + 2 * head[0] : 2]:
            of_it = left.setdefault(component, [1] * 64)
            of_it[first : last + 1] = [bits & 15] * (last + 1 - first)
    return any(any(of_it) for of_it in left.values())


def rows_missing(image: Image.Image) -> float:
    """The share of rows that a truncated file left black; 0.0 where it cannot be told."""
    core = getattr(image, "_im", None)
    box = core.getbbox() if core is not None else None
    return 1 - box[3] / image.height if box and image.height else 0.0
