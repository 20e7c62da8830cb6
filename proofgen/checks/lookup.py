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
from proofgen.geometry import FaceName, Size
from proofgen.model import BLOCKING, Blank, Finding, Limits, PhotoFacts, PhotoMeasures
from proofgen.model.documents import Fit, LookVerdict

_PIXELS = resolution.effective_resolution


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
    ppi = resolution.ppi_on(facts, slot)
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
    first: str = "",
) -> list[Finding]:
    """What is to be said of a bare photo, worst first; `measures` were taken for `size_mm`.

    Asked about one blank, or about many of which one comes `first`, every face of that one that is
    not sharp is told; asked about many, only that no face of any of them is.
    """
    findings = _enough(facts, list(blanks), limits, first)
    return worst_first(findings + _of_pixels(facts, limits, measures, size_mm))


def _of_pixels(
    facts: PhotoFacts,
    limits: Limits,
    measures: PhotoMeasures | None,
    size_mm: tuple[float, float],
) -> list[Finding]:
    """What is said of a photo but for how many pixels it has."""
    spot = Spot(where=facts.file.name)
    printed = PrintedPhoto(facts=facts, size=Size(*size_mm), measures=measures)
    findings: list[Finding] = []
    for one in CHECKS.values():
        if one.over is photo_files or (one.over is readable_photos and facts.usable):
            findings += run_over(one, [(spot, facts)], limits)
        elif one.over in (printed_photos, printed_pictures) and measures and one is not _PIXELS:
            findings += run_over(one, [(spot, printed)], limits)
    return findings


def judged(
    row: Fit, facts: PhotoFacts, limits: Limits, measures: PhotoMeasures | None
) -> LookVerdict:
    """The verdict of a row that has pixels enough: "poor" where they show what is warned of."""
    size = (row["width_mm"], row["height_mm"])
    warned = any(f.status in (*BLOCKING, "warn") for f in _of_pixels(facts, limits, measures, size))
    return "poor" if warned and row["verdict"] == "good" else row["verdict"]


def _enough(facts: PhotoFacts, blanks: list[Blank], limits: Limits, first: str) -> list[Finding]:
    """Whether its pixels are enough on the faces asked about; a `pass` names the file."""
    rows = fits(facts, blanks, limits)
    if not rows:
        return []
    if len(blanks) > 1:
        own = [row for row in rows if row["blank"] == first]
        rows = own or [max(rows, key=lambda row: row["ppi"])]
    known = {blank.id: blank for blank in blanks}
    pairs = []
    for row in rows:
        blank, face = known[row["blank"]], row["face"]
        spot = Spot(where=f"{facts.file.name}, {blank.name}, {face}", face=face, slot=blank.id)
        printed = PrintedPhoto(
            facts=facts,
            size=Size(row["width_mm"], row["height_mm"]),
            ppi=row["ppi"],
            goes_round=blank.plan() if face == "round" else None,
        )
        pairs.append((spot, printed))
    findings = run_over(_PIXELS, pairs, limits)
    return [replace(f, where=f.where or facts.file.name) for f in findings]
