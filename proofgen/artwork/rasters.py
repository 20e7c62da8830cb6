"""Rasters: a layout's panels in pixels, the names and files they are kept under, their digest."""

from __future__ import annotations

import io
import math
import struct
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFile

from proofgen.errors import ProofgenError
from proofgen.geometry import BOTH_FACES, Plan
from proofgen.model import Layout, Variant
from proofgen.store import Lazy, digest
from proofgen.units import MM_PER_INCH, pixels

BARE = (255, 255, 255)  # no ink: the cloth shows
_PNG = b"\x89PNG\r\n\x1a\n"


def nearest(edge: float) -> int:
    """The whole pixel on which an edge falls, given in px; a half goes up."""
    return math.floor(edge + 0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rasters:
    """The rasters of one layout, by panel: RGB, the panel with its bleed on every side, print side
    up, at `ppi`. `names` are those under which an edition keeps them; none where none does."""

    layout: Layout
    ppi: float
    panels: Mapping[str, Image.Image] = field(repr=False)
    names: Mapping[str, str] = field(default_factory=dict)

    def __getitem__(self, panel: str) -> Image.Image:
        return self.panels[panel]

    @property
    def scale(self) -> float:
        """Pixels for each finished mm."""
        return self.ppi / MM_PER_INCH


def kept_rasters(
    variants: Sequence[Variant], ppi: float, pictures: Mapping[str, Image.Image]
) -> list[Rasters]:
    """The rasters of each variant of an order from the pictures that an edition kept by name, read
    when they are asked for. KeyError for a picture that is not among them."""
    every = raster_names(variants)
    for name in (name for names in every for name in names.values()):
        if name not in pictures:
            raise KeyError(name)

    def panels(names: Mapping[str, str]) -> Lazy[Image.Image]:
        return Lazy(names, lambda panel: pictures[names[panel]])

    return [
        Rasters(layout=variant.layout, ppi=ppi, panels=panels(names), names=names)
        for variant, names in zip(variants, every, strict=True)
    ]


def panel_pixels(plan: Plan, panel: str, ppi: float) -> tuple[int, int]:
    """Size of a panel's raster: the panel with its bleed on every side, in whole pixels."""
    size = plan.panels[panel]
    return pixels(size.width + 2 * plan.bleed, ppi), pixels(size.height + 2 * plan.bleed, ppi)


_TRIED, _TRIED_EVERY = 4, 128  # rows: a thirtieth of a picture tells which way is shorter
_AS_SHORT = 1.02  # times what takes twice as long


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def deflated_rows(image: Image.Image) -> bytes:
    """An RGB picture's pixels, lossless and quick: every row as the difference from the one above
    (filter type 2, PNG third edition, 9.2), zlib level 1; of fine detail, which hardly anything
    repeats, runs alone are looked for, which takes half the time."""
    rows = np.asarray(image if image.mode == "RGB" else image.convert("RGB"))
    rows = rows.reshape(image.height, -1)
    lines = np.empty((image.height, rows.shape[1] + 1), dtype=np.uint8)
    lines[:, 0] = 2
    lines[0, 1:] = rows[0]
    np.subtract(rows[1:], rows[:-1], out=lines[1:, 1:])  # modulo 256, as the filter asks
    few = lines[np.arange(len(lines)) % _TRIED_EVERY < _TRIED]
    runs, sought = (len(_deflated(few, way)) for way in (zlib.Z_RLE, zlib.Z_DEFAULT_STRATEGY))
    quick = runs <= _AS_SHORT * sought
    return _deflated(lines, zlib.Z_RLE if quick else zlib.Z_DEFAULT_STRATEGY)


def _deflated(lines: NDArray[np.uint8], strategy: int) -> bytes:
    way = zlib.compressobj(1, memLevel=9, strategy=strategy)
    return way.compress(lines.data) + way.flush()


def raster_png(image: Image.Image, pitch: tuple[float, float] | None = None) -> bytes:
    """An RGB picture as PNG that carries nothing but its pixels; with the `pitch` of one (mm each
    way) it tells its size, too (pHYs: whole pixels a metre, PNG third edition, 11.3.4.3)."""
    head = struct.pack(">IIBBBBB", image.width, image.height, 8, 2, 0, 0, 0)
    size = b""
    if pitch:
        size = _chunk(b"pHYs", struct.pack(">IIB", *(round(1000 / mm) for mm in pitch), 1))
    body = deflated_rows(image)
    return _PNG + _chunk(b"IHDR", head) + size + _chunk(b"IDAT", body) + _chunk(b"IEND", b"")


def read_raster(png: bytes) -> Image.Image:
    """The pixels of a kept raster, mode RGB. Errors: ProofgenError when the file is damaged."""
    cut = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        # Half a raster must never pass as a whole one, whatever another library has set.
        with Image.open(io.BytesIO(png), formats=["PNG"]) as opened:
            opened.load()
            return Image.frombytes("RGB", opened.size, opened.convert("RGB").tobytes())
    except (OSError, ValueError, SyntaxError, zlib.error, Image.DecompressionBombError) as error:
        raise ProofgenError(
            "a kept raster is damaged and cannot be read",
            "take records/ from your backup, or make a new edition of the proof",
        ) from error
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = cut


def pixel_digest(image: Image.Image) -> str:
    """SHA-256 over mode, size and pixels, hex: the same for the same picture in any file."""
    size = f"{image.width}x{image.height}".encode()
    return digest(image.mode.encode(), size, image.tobytes())


_SLUGS = {BOTH_FACES: "both"}


def _letters(number: int) -> str:
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text


def raster_name(line: int, variant: int, panel: str) -> str:
    """'line1-a-round.png': `variant` counts from 0 within its line (a, b, … z, aa, …)."""
    slug = _SLUGS.get(panel) or "".join(c if c.isascii() and c.isalnum() else "-" for c in panel)
    return f"line{line}-{_letters(variant)}-{slug.lower()}.png"


def raster_names(variants: Sequence[Variant]) -> list[dict[str, str]]:
    """For each variant, in order: panel to the name of its raster."""
    counts: dict[int, int] = {}
    names = []
    for variant in variants:
        index = counts.get(variant.line, 0)
        counts[variant.line] = index + 1
        panels = variant.layout.plan.panels
        names.append({panel: raster_name(variant.line, index, panel) for panel in panels})
    return names
