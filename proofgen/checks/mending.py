"""Lines of the shop's files as they must read to mend what was found, and cures that hang on what a
blank comes in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from proofgen.checks.subjects import LaidLayer
from proofgen.colour import hex_to_rgb8, luminance
from proofgen.model import Blank, Limits, Line, PhotoUse, PlacedPhoto
from proofgen.shop import photo_line


def photo_as(line: Line, slot: str, file: Path, **changes: Any) -> str:
    """'in order.yaml, as …': the line for a photo to be used with these changes (fields of
    PhotoUse)."""
    use = line.photos.get(slot) or PhotoUse(file=file)
    return f"in order.yaml, as {photo_line(line, slot, replace(use, **changes))}"


def laid_photo_as(laid: LaidLayer[PlacedPhoto], **changes: Any) -> str:
    """The same for a photo that is laid."""
    assert laid.placed.photo is not None
    return photo_as(laid.line.line, laid.placed.slot, laid.placed.photo.file, **changes)


def paler_cloth(blank: Blank, limits: Limits) -> str:
    """The cure of a dark cloth, without its full stop: another of the blank's cloths, or another
    blank where all of them are dark."""
    pale = (luminance(hex_to_rgb8(c)) >= limits.dark_cloth for c in blank.cloth.colours.values())
    if any(pale):
        return "Choose a paler cloth"
    return "Choose another blank (this one has no paler cloth)"
