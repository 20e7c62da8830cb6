"""Small fonts made on the spot: blocks for letters, with names and measures as a test wants."""

from __future__ import annotations

import io
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

UNITS = 1000


def _block(width: int, height: int) -> object:
    pen = TTGlyphPen(None)
    pen.moveTo((50, 0))
    for point in ((50, height), (width - 50, height), (width - 50, 0)):
        pen.lineTo(point)
    pen.closePath()
    return pen.glyph()


def made_font(
    letters: str, family: str = "Demo Blocks", *, units: int = UNITS, height: int = 700
) -> bytes:
    """A TrueType font with a block for each of `letters`, 600 units wide and `height` high."""
    letters = "".join(dict.fromkeys(letters))
    names = [f"u{ord(c):04X}" for c in letters]
    builder = FontBuilder(units, isTTF=True)
    builder.setupGlyphOrder([".notdef", *names])
    builder.setupCharacterMap({ord(c): n for c, n in zip(letters, names, strict=True)})
    builder.setupGlyf({n: _block(600, height) for n in (".notdef", *names)})
    builder.setupHorizontalMetrics(dict.fromkeys((".notdef", *names), (600, 50)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": family, "styleName": "Regular"})
    builder.setupOS2()
    builder.setupPost()
    out = io.BytesIO()
    builder.save(out)
    return out.getvalue()


def put_font(shop: Path, data: bytes, name: str = "blocks.ttf") -> Path:
    """The font in a shop's folder."""
    target = shop / "fonts" / name
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(data)
    return target
