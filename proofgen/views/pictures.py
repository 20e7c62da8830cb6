"""Pictures for pages: from rasters to small files named by what is in them."""

from __future__ import annotations

import hashlib
import io

from PIL import Image


def jpeg(image: Image.Image, quality: int, *, fine: bool = False) -> bytes:
    """An sRGB JPEG of bare pixels: for a shop window, 4:2:0 and progressive, half the weight of a
    `fine` one (4:4:4), in which a proof shows letters."""
    # Pillow carries a JPEG's comment and a PNG's profile from file to file.
    bare = Image.frombytes("RGB", image.size, image.convert("RGB").tobytes())
    how = {"quality": quality, "subsampling": 0 if fine else 2}
    out = io.BytesIO()
    bare.save(out, "JPEG", **how)
    # Pillow sets a byte a pixel aside for a second pass; noise and fine lines need more.
    if out.tell() < 0.9 * image.width * image.height:
        out = io.BytesIO()
        bare.save(out, "JPEG", optimize=True, progressive=True, **how)
    return out.getvalue()


def webp(image: Image.Image, quality: int) -> bytes:
    """An sRGB WebP (RFC 9649) of bare pixels, for a shop window and views in the round: flat
    pictures, by which colours and letters are signed, stay JPEGs."""
    bare = Image.frombytes("RGB", image.size, image.convert("RGB").tobytes())
    out = io.BytesIO()
    # With method 5 a pale even ground gets specks of colour in its corner.
    bare.save(out, "WEBP", quality=quality, method=4)
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
