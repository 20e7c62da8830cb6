"""A photo without an order: how large it can be on which blank, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from proofgen.checks import resolution
from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_over, worst_first
from proofgen.checks.subjects import (
    PrintedPhoto,
    Spot,
    photo_files,
    printed_photos,
    printed_pictures,
    readable_photos,
)
from proofgen.geometry import FaceName, Size, cover_crop
from proofgen.model import Blank, Finding, Limits, PhotoFacts, PhotoMeasures
from proofgen.model.documents import Fit
from proofgen.units import ppi_of

_SHARPNESS = resolution.effective_resolution


def fits(facts: PhotoFacts, blanks: Iterable[Blank], limits: Limits) -> list[Fit]:
    """For each face of each blank; nothing for a photo that cannot be used. Limits are compared
    unrounded and inclusive."""
    if not facts.usable:
        return []
    return [
        _fit(facts, blank.id, face, Size(canvas.fill.width, canvas.fill.height), limits)
        for blank in blanks
        for face, canvas in blank.plan().canvases.items()
    ]


def _fit(facts: PhotoFacts, blank: str, face: FaceName, slot: Size, limits: Limits) -> Fit:
    crop = cover_crop(Size(facts.width_px, facts.height_px), slot, (0.5, 0.5))
    ppi = min(ppi_of(crop.width, slot.width), ppi_of(crop.height, slot.height))
    grows = ppi / limits.good_ppi
    needs = resolution.needed(slot.width, slot.height, 1.0, limits)
    return {
        "blank": blank,
        "face": face,
        "width_mm": slot.width,
        "height_mm": slot.height,
        "ppi": ppi,
        "verdict": limits.verdict(ppi),
        "sharp_width_mm": slot.width * grows,
        "sharp_height_mm": slot.height * grows,
        "largest_zoom": resolution.largest_zoom(ppi, 1.0, limits),
        "needs_width_px": needs[0],
        "needs_height_px": needs[1],
    }


def look(
    facts: PhotoFacts,
    blanks: Iterable[Blank],
    limits: Limits,
    measures: PhotoMeasures | None = None,
    size_mm: tuple[float, float] = (0.0, 0.0),
) -> list[Finding]:
    """What is to be said of a bare photo, worst first; `measures` were taken for `size_mm`.

    Asked about one blank, every face that is not sharp is told; asked about many, only that no
    face of any of them is.
    """
    spot = Spot(where=facts.file.name)
    printed = PrintedPhoto(facts=facts, size=Size(*size_mm), measures=measures)
    findings = _sharpness(facts, list(blanks), limits)
    for one in CHECKS.values():
        if one.over is photo_files or (one.over is readable_photos and facts.usable):
            findings += run_over(one, [(spot, facts)], limits)
        elif one.over in (printed_photos, printed_pictures) and measures and one is not _SHARPNESS:
            findings += run_over(one, [(spot, printed)], limits)
    return worst_first(findings)


def _sharpness(facts: PhotoFacts, blanks: list[Blank], limits: Limits) -> list[Finding]:
    """How sharp it is on the faces that are asked about; a `pass` names the file."""
    rows = fits(facts, blanks, limits)
    if not rows:
        return []
    if len(blanks) > 1:
        rows = [max(rows, key=lambda row: row["ppi"])]
    names = {blank.id: blank.name for blank in blanks}
    pairs = []
    for row in rows:
        where = f"{facts.file.name}, {names[row['blank']]}, {row['face']}"
        size = Size(row["width_mm"], row["height_mm"])
        spot = Spot(where=where, face=row["face"], slot=row["blank"])
        pairs.append((spot, PrintedPhoto(facts=facts, size=size, ppi=row["ppi"])))
    findings = run_over(_SHARPNESS, pairs, limits)
    return [replace(f, where=f.where or facts.file.name) for f in findings]
