"""A photo without an order: how large it can be on which blank, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from proofgen.checks import sharpness
from proofgen.checks.registry import CHECKS
from proofgen.checks.runner import run_over, worst_first
from proofgen.checks.subjects import (
    FileSubject,
    MeasuredSubject,
    ReadableSubject,
    measured_photos,
    measured_pictures,
    photo_files,
    readable_photos,
)
from proofgen.geometry import Size, cover_crop
from proofgen.model import Blank, Finding, Limits, PhotoFacts, PhotoMeasures
from proofgen.units import ppi_of

SHARPNESS = "photo/effective-resolution"


def fits(facts: PhotoFacts, blanks: Iterable[Blank], limits: Limits) -> list[dict[str, Any]]:
    """For each face of each blank: size covered with bleed (mm), ppi at zoom 1, and the verdict;
    what would be sharp: the largest size (mm) of that shape, the largest zoom (None: not even the
    whole photo is) and the pixels to ask for.

    Nothing for a photo that cannot be used. Limits are compared unrounded and inclusive.
    """
    if not facts.usable:
        return []
    table = []
    photo = Size(facts.width_px, facts.height_px)
    for blank in blanks:
        for face, canvas in blank.plan().canvases.items():
            slot = Size(canvas.fill.width, canvas.fill.height)
            crop = cover_crop(photo, slot, (0.5, 0.5))
            ppi = min(ppi_of(crop.width, slot.width), ppi_of(crop.height, slot.height))
            grows = ppi / limits.good_ppi
            needs = sharpness.needed(slot.width, slot.height, 1.0, limits)
            table.append(
                {
                    "blank": blank.id,
                    "face": face,
                    "width_mm": slot.width,
                    "height_mm": slot.height,
                    "ppi": ppi,
                    "verdict": sharpness.verdict(ppi, limits),
                    "sharp_width_mm": slot.width * grows,
                    "sharp_height_mm": slot.height * grows,
                    "largest_zoom": sharpness.largest_zoom(ppi, 1.0, limits),
                    "needs_width_px": needs[0],
                    "needs_height_px": needs[1],
                }
            )
    return table


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
    some = list(blanks)
    where = facts.file.name
    found: list[Finding] = []
    for one in CHECKS.values():
        if one.over is photo_files:
            found += run_over(one, [FileSubject(where=where, facts=facts)])
        elif one.over is readable_photos and facts.usable:
            found += run_over(one, [ReadableSubject(where=where, limits=limits, facts=facts)])
        elif one.over in (measured_photos, measured_pictures) and measures is not None:
            found += run_over(
                one,
                [
                    MeasuredSubject(
                        where=where,
                        limits=limits,
                        facts=facts,
                        measures=measures,
                        width_mm=size_mm[0],
                        height_mm=size_mm[1],
                    )
                ],
            )
    return worst_first(found + _sharpness(facts, some, limits))


def _sharpness(facts: PhotoFacts, blanks: list[Blank], limits: Limits) -> list[Finding]:
    table = fits(facts, blanks, limits)
    short = [row for row in table if row["verdict"] != "good"]
    if len(blanks) > 1 and table:
        best = max(table, key=lambda row: row["ppi"])
        short = [best] if best in short else []
    names = {blank.id: blank.name for blank in blanks}
    found = []
    for row in short:
        said = sharpness.told(row["width_mm"], row["height_mm"], row["ppi"], 1.0, limits)
        if said is not None:
            found.append(
                Finding(
                    check=SHARPNESS,
                    code=said.code,
                    status=said.status,
                    says=said.says,
                    where=f"{facts.file.name}, {names[row['blank']]}, {row['face']}",
                    measure=said.measure,
                    limit=said.limit,
                    cure=said.cure,
                    face=row["face"],
                    about=row["blank"],
                )
            )
    if found or not table:
        return found
    passed = Finding(
        check=SHARPNESS, code="pass", status="pass", says=f"{CHECKS[SHARPNESS].title}."
    )
    return [replace(passed, where=facts.file.name)]
