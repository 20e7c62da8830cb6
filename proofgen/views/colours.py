"""The colour report: a design's main colours on a cloth, and which cloths suit the design."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from proofgen.artwork.description import content_key
from proofgen.artwork.materials import Materials
from proofgen.artwork.rasters import Rasters
from proofgen.colour import (
    Correction,
    ciede2000,
    hex_to_rgb8,
    ink_on_cloth,
    lab_of,
    rgb8_to_hex,
)
from proofgen.model import ClothFit, ColourReport, InkLook, Layout, PlacedColour, PlacedWords
from proofgen.store import dump_json
from proofgen.views.grounds import Contrast, contrast_on, ground_of, small_rasters

# All of these are common practice at best, no source: CIEDE2000 of 1 is just seen side by side,
# 5 is another shade to anybody, 12 another colour.
KEEPS, SHIFTS = 5.0, 12.0
VANISHES = 5.0  # from the bare cloth
SUITS = 8.0  # mean over the inked area
LEAST_CONTRAST = 3.0  # WCAG 2.2, 1.4.3, large text
MOST = 6  # dominant colours of pictures
_LOOKED_AT = 4000  # pixels of a raster
_EDGE, _CALM_SHARE = 20, 0.25  # codes between neighbours; of the inked pixels
_SAME = 8.0  # CIEDE2000 within which two colours of a picture are one
_LEAST_SHARE = 0.03  # of the inked area
_KIND = "colours/1"  # raise when the report changes
_BARE = 248  # codes above which nobody sees ink

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float64]
Declared: TypeAlias = PlacedWords | PlacedColour


def _inked(rasters: Rasters) -> Bytes:
    """The inked pixels (n, 3) of the rasters, thinned out. Where ink gives way to other ink or to
    bare cloth, pixels are mixtures that nobody chose: they are left out, unless most are such."""
    samples = []
    for image in rasters.panels.values():
        pixels = np.asarray(image.convert("RGB")).astype(np.int16)
        inked = np.asarray((pixels < _BARE).any(axis=2))
        calm = inked.copy()
        across = np.abs(np.diff(pixels, axis=1)).max(axis=2) <= _EDGE
        down = np.abs(np.diff(pixels, axis=0)).max(axis=2) <= _EDGE
        calm[:, 1:] &= across
        calm[:, :-1] &= across
        calm[1:] &= down
        calm[:-1] &= down
        chosen = pixels[calm if calm.sum() > _CALM_SHARE * inked.sum() else inked]
        samples.append(chosen[:: max(1, len(chosen) // _LOOKED_AT)].astype(np.uint8))
    return np.concatenate(samples) if samples else np.empty((0, 3), np.uint8)


def dominant(pixels: Bytes, most: int = MOST) -> list[tuple[int, int, int]]:
    """At most `most` colours that stand for the pixels (n, 3), the most frequent first; colours
    that look alike count once."""
    if not len(pixels):
        return []
    strip = Image.fromarray(np.ascontiguousarray(pixels[None]))
    counted = strip.quantize(2 * most, Image.Quantize.MEDIANCUT, kmeans=2)
    palette = np.array(counted.getpalette() or [], dtype=np.uint8).reshape(-1, 3)
    numbers = np.bincount(np.asarray(counted).ravel(), minlength=len(palette))
    kept: list[tuple[int, int, int]] = []
    for index in np.argsort(-numbers, kind="stable"):
        if not numbers[index] or len(kept) == most:
            break
        colour = palette[index]
        near = ciede2000(lab_of(np.array(kept, dtype=np.uint8).reshape(-1, 3)), lab_of(colour))
        if (near >= _SAME).all():
            kept.append((int(colour[0]), int(colour[1]), int(colour[2])))
    return kept


def _declared(layout: Layout) -> dict[tuple[int, int, int], Declared]:
    """The plain colours and those of words, by colour; words first. White is bare cloth."""
    words = (p for p in layout.layers if isinstance(p, PlacedWords) and p.text.strip())
    plain = (p for p in layout.layers if isinstance(p, PlacedColour))
    ordered: list[Declared] = [*words, *plain]
    first: dict[tuple[int, int, int], Declared] = {}
    for placed in ordered:
        first.setdefault(hex_to_rgb8(placed.colour), placed)
    first.pop((255, 255, 255), None)
    return first


def _shares(pixels: Bytes, palette: Bytes) -> Floats:
    """The share of the pixels to which each colour of the palette is nearest (in Lab)."""
    if not len(pixels):
        return np.full(len(palette), 1 / max(len(palette), 1))
    apart = np.linalg.norm(lab_of(pixels)[:, None] - lab_of(palette)[None], axis=2)
    nearest = np.bincount(apart.argmin(axis=1), minlength=len(palette))
    return np.asarray(nearest / len(pixels))


def _fate(difference: float, from_cloth: float, from_white: float) -> str:
    if from_cloth < VANISHES and from_white > 2 * VANISHES:
        return "vanishes"
    if difference <= KEEPS:
        return "keeps"
    return "shifts" if difference <= SHIFTS else "turns"


def _moved(palette: Bytes, cloth: str, correction: Correction | None) -> Floats:
    """CIEDE2000 of each colour between white and the cloth."""
    return ciede2000(lab_of(palette), lab_of(ink_on_cloth(palette, cloth, correction)))


def _words(layout: Layout, materials: Materials) -> list[tuple[PlacedWords, Bytes]]:
    """Words with the inks behind them."""
    words = (p for p in layout.layers if isinstance(p, PlacedWords))
    grounds = ((placed, ground_of(layout, placed, materials)) for placed in words)
    return [(placed, ground) for placed, ground in grounds if ground is not None]


def _fits(
    layout: Layout, palette: Bytes, shares: Floats, words: list[tuple[PlacedWords, Bytes]]
) -> tuple[ClothFit, ...]:
    fits = []
    for name, colour in layout.blank.cloth.colours.items():
        real = layout.blank.cloth.correction(name)
        moved = float((_moved(palette, colour, real) * shares).sum()) if len(palette) else 0.0
        contrast = min((contrast_on(p.colour, g, colour, real).low for p, g in words), default=None)
        # Weak words on white are the design's own fault, not the cloth's.
        on_white = min((contrast_on(p.colour, g, "#ffffff").low for p, g in words), default=None)
        readable = contrast is None or contrast >= min(LEAST_CONTRAST, on_white or LEAST_CONTRAST)
        fits.append(
            ClothFit(
                name=name,
                colour=colour,
                difference=moved,
                contrast=contrast,
                suits=moved <= SUITS and readable,
            )
        )
    return tuple(sorted(fits, key=lambda fit: (not fit.suits, fit.difference)))


def colour_report(layout: Layout, rasters: Rasters, materials: Materials) -> ColourReport:
    """What becomes of the design's main colours on the layout's cloth. `rasters` of any resolution
    show them: plain colours, colours of words, and up to 6 of the pictures. Bare cloth is none.
    """
    cloth = layout.cloth_hex
    declared, pixels = _declared(layout), _inked(rasters)
    own = np.array(list(declared), dtype=np.uint8).reshape(-1, 3)
    rest = pixels
    if len(own) and len(pixels):
        near = np.linalg.norm(lab_of(pixels)[:, None] - lab_of(own)[None], axis=2).min(axis=1)
        rest = pixels[near > _SAME]
    palette = np.array([*declared, *dominant(rest)], dtype=np.uint8).reshape(-1, 3)
    shares = _shares(pixels, palette)
    keep = (np.arange(len(palette)) < len(own)) | (shares >= _LEAST_SHARE)
    palette, shares = palette[keep], shares[keep]
    words = _words(layout, materials)
    inks = _inks(palette, shares, list(declared.values()), words, layout)
    return ColourReport(
        cloth=layout.cloth,
        cloth_hex=cloth,
        inks=tuple(sorted(inks, key=lambda ink: -ink.share)),
        cloths=_fits(layout, palette, shares, words),
    )


def _inks(
    palette: Bytes,
    shares: Floats,
    declared: list[Declared],
    words: list[tuple[PlacedWords, Bytes]],
    layout: Layout,
) -> list[InkLook]:
    if not len(palette):
        return []
    cloth = layout.cloth_hex
    seen = ink_on_cloth(palette, cloth, layout.correction)
    before, after = lab_of(palette), lab_of(seen)
    bare, white = lab_of(hex_to_rgb8(cloth)), lab_of((255, 255, 255))
    moved = ciede2000(before, after)
    from_cloth, from_white = ciede2000(after, bare), ciede2000(before, white)
    looks = []
    for i, colour in enumerate(palette):
        placed = declared[i] if i < len(declared) else None
        here, on_white = _weakest(placed, words, layout)
        looks.append(
            InkLook(
                ink=rgb8_to_hex(colour),
                on_cloth=rgb8_to_hex(seen[i]),
                source=placed.kind if placed else "picture",
                slot=placed.slot if isinstance(placed, PlacedWords) else "",
                share=float(shares[i]),
                difference=float(moved[i]),
                lightness_lost=float(before[i, 0] - after[i, 0]),
                fate=_fate(float(moved[i]), float(from_cloth[i]), float(from_white[i])),
                contrast=here.low if here else None,
                contrast_on_white=on_white.low if on_white else None,
            )
        )
    return looks


def _weakest(
    placed: Declared | None, words: list[tuple[PlacedWords, Bytes]], layout: Layout
) -> tuple[Contrast | None, Contrast | None]:
    """Of all words in this colour, those that stand out least: on the cloth, and on white."""
    if not isinstance(placed, PlacedWords):
        return None, None
    both = [
        (
            contrast_on(p.colour, ground, layout.cloth_hex, layout.correction),
            contrast_on(p.colour, ground, "#ffffff"),
        )
        for p, ground in words
        if p.colour.lower() == placed.colour.lower()
    ]
    return min(both, key=lambda pair: pair[0].low, default=(None, None))


def kept_report(layout: Layout, materials: Materials) -> ColourReport:
    """The colour report of a layout from small rasters of its own; kept by content. Errors: as
    `paint`."""
    cloth = layout.blank.cloth
    shades = [layout.cloth, layout.cloth_hex, list(cloth.colours.items()), dict(cloth.readings)]

    def make() -> ColourReport:
        return colour_report(layout, small_rasters(layout, materials), materials)

    return materials.store.remember(
        _KIND, content_key(layout, shades), make, _load, lambda report: dump_json(asdict(report))
    )


def _load(content: bytes) -> ColourReport:
    kept = json.loads(content)
    return ColourReport(
        cloth=kept["cloth"],
        cloth_hex=kept["cloth_hex"],
        inks=tuple(InkLook(**ink) for ink in kept["inks"]),
        cloths=tuple(ClothFit(**fit) for fit in kept["cloths"]),
    )
