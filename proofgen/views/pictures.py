"""Pictures for pages: from rasters to small files named by what is in them."""

from __future__ import annotations

import hashlib
import io

from PIL import Image


def jpeg(image: Image.Image, quality: int) -> bytes:
    """An sRGB JPEG without metadata, for a shop window: 4:2:0, half the weight of a proof's."""
    out = io.BytesIO()
    plain = Image.frombytes("RGB", image.size, image.convert("RGB").tobytes())
    how = {"quality": quality, "subsampling": 2}
    plain.save(out, "JPEG", **how)
    # Pillow sets a byte a pixel aside for a second pass; noise and fine lines need more.
    if out.tell() < 0.9 * image.width * image.height:
        out = io.BytesIO()
        plain.save(out, "JPEG", optimize=True, progressive=True, **how)
    return out.getvalue()


def content_name(content: bytes, ending: str) -> str:
    """A file name that changes with the content."""
    return f"{hashlib.sha256(content).hexdigest()[:16]}.{ending}"


def fitted(image: Image.Image, width: int) -> Image.Image:
    """The picture at most `width` px wide."""
    if image.width <= width:
        return image
    return image.resize(
        (width, max(1, round(image.height * width / image.width))), Image.Resampling.LANCZOS
    )
