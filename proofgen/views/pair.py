"""The ink of a face on white beside the same ink on its cloth, and what a printer cannot reach."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PIL import Image

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import FaceName
from proofgen.views.cut import face_picture
from proofgen.views.ink import on_cloth
from proofgen.views.pictures import fitted

if TYPE_CHECKING:
    from proofgen.colour.printer import SoftProof

LEAST_SHARE = 0.005  # of a picture out of the printer's reach: less is not shown
_STEP, _LINE = 9, 2  # px along the rows: from line to line, and the width of each of its two tones


@dataclass(frozen=True, slots=True, kw_only=True)
class InkPair:
    """`cloth` is None where it would look like `white`. `printed`: it is seen through the
    printer's profile. `unreached` is `white` with the colours hatched that the printer cannot
    reach, None where they are less than LEAST_SHARE; `share` is theirs of the inked pixels."""

    white: Image.Image
    cloth: Image.Image | None
    printed: bool = False
    unreached: Image.Image | None = None
    share: float = 0.0


def hatched(image: Image.Image, printer: SoftProof) -> tuple[Image.Image, float]:
    """The RGB picture with out-of-reach parts hatched, and their share of its inked pixels (0..1).

    Each line is dark on one side and light on the other, so that it shows on any colour.
    """
    pixels = np.asarray(image).copy()
    outside = printer.outside(image)
    inked = (pixels < 255).any(axis=2)
    share = float(outside.sum() / max(int(inked.sum()), 1))
    down, across = np.indices(outside.shape)
    phase = (across + down) % _STEP
    pixels[outside & (phase < _LINE)] = 0
    pixels[outside & (phase >= _LINE) & (phase < 2 * _LINE)] = 255
    return Image.fromarray(pixels), share


def ink_pair(rasters: Rasters, face: FaceName, width_px: int, printer: SoftProof | None) -> InkPair:
    """A face at most `width_px` wide, on white and on its cloth."""
    layout = rasters.layout
    white = fitted(face_picture(rasters, face, cloth=False), width_px)
    plain = layout.cloth_hex.lower() == "#ffffff" and layout.correction is None
    if printer is None:
        cloth = None if plain else fitted(face_picture(rasters, face), width_px)
        return InkPair(white=white, cloth=cloth)
    unreached, share = hatched(white, printer)
    # Swatches were pressed by way of the printer: what was read has its reach in it already.
    printed = layout.correction is None
    return InkPair(
        white=white,
        cloth=on_cloth(printer.printed(white), layout.cloth_hex)
        if printed
        else fitted(face_picture(rasters, face), width_px),
        printed=printed,
        unreached=unreached if share >= LEAST_SHARE else None,
        share=share,
    )
