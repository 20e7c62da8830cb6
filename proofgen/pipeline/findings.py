"""The findings kept where the maker can open them: a document, and a page with prints."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from pathlib import Path

from PIL import Image

from proofgen import reports, store
from proofgen.errors import ProofgenError, UsageError
from proofgen.geometry import Rect
from proofgen.model import Finding, Layout, PlacedPhoto, about_of
from proofgen.photo.opening import Pictures
from proofgen.pipeline.preflight import Prepared, findings_of
from proofgen.say import number
from proofgen.units import pixels
from proofgen.views.ink import on_cloth
from proofgen.views.pictures import jpeg
from proofgen.workshop import Workshop

_PRINT_MM = (85.0, 50.0)  # what a telephone's page shows whole
_MOST_PPI = 300.0  # no printer shows more
_QUALITY = 88


def _window(placed: PlacedPhoto) -> Rect:
    """The part of the layer that is shown, mm from its top left: about the focus, inside it."""
    rect = placed.rect
    wide, high = min(_PRINT_MM[0], rect.width), min(_PRINT_MM[1], rect.height)
    x, y = placed.focus_on_face or (rect.centre_x, rect.centre_y)
    return Rect(
        min(max(x - rect.x - wide / 2, 0.0), rect.width - wide),
        min(max(y - rect.y - high / 2, 0.0), rect.height - high),
        wide,
        high,
    )


def _cut(
    pictures: Pictures, placed: PlacedPhoto, crop: Rect, window: Rect, cloth_hex: str
) -> bytes:
    """The window's pixels as ink on the cloth: never more than the photo has."""
    assert placed.photo is not None
    facts = placed.photo
    share = min(1.0, pixels(placed.rect.width, _MOST_PPI) / crop.width)  # of the pixels it has
    wanted = math.ceil(facts.width_px * share), math.ceil(facts.height_px * share)
    photo = pictures.open_pixels(facts, wanted)
    grown = photo.width / facts.width_px
    scale = crop.width / placed.rect.width * grown
    box = (
        crop.x * grown + window.x * scale,
        crop.y * grown + window.y * scale,
        crop.x * grown + window.right * scale,
        crop.y * grown + window.bottom * scale,
    )
    size = (
        min(pixels(window.width, _MOST_PPI), max(1, round(box[2] - box[0]))),
        min(pixels(window.height, _MOST_PPI), max(1, round(box[3] - box[1]))),
    )
    bare = Image.new("RGB", photo.size, "#ffffff")
    bare.paste(photo, mask=photo.getchannel("A") if photo.mode == "RGBA" else None)
    part = bare.resize(size, Image.Resampling.LANCZOS, box=box)
    return jpeg(on_cloth(part, cloth_hex), _QUALITY)


def _print(workshop: Workshop, layout: Layout, placed: PlacedPhoto) -> reports.Print | None:
    """A photo's print; None where it has none. The cut is kept in the store."""
    crop = placed.crop
    if crop is None or placed.photo is None:
        return None
    window = _window(placed)
    cloth, pictures = layout.cloth_hex, workshop.materials.pictures
    key = json.dumps([placed.sha256, repr(crop), repr(window), repr(placed.rect), cloth])
    try:
        cut = workshop.store.remember(
            "print/1", key, lambda: _cut(pictures, placed, crop, window, cloth), bytes, bytes
        )
    except ProofgenError:
        return None  # its own finding tells
    return reports.Print(
        jpeg=cut,
        width_mm=window.width,
        height_mm=window.height,
        alt=f"{placed.photo.file.name}: a part as it is printed on {layout.cloth}",
        caption=f"{placed.photo.file.name}: {number(window.width, 0)} × "
        f"{number(window.height, 0)} mm of it, at real size",
    )


def _placed(prepared: Prepared) -> Iterator[tuple[int, Layout, PlacedPhoto]]:
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedPhoto):
                yield variant.line, variant.layout, placed


def _wants_print(finding: Finding) -> bool:
    if finding.status in ("stop", "broken", "warn"):
        return True
    return finding.status != "pass" and finding.check.startswith("photo/")


def _prints_of(
    workshop: Workshop, prepared: list[Prepared]
) -> dict[tuple[str, int, str], reports.Print]:
    """The prints of all photos that a check of photos, or a warning, speaks of."""
    prints: dict[tuple[str, int, str], reports.Print] = {}
    for one in prepared:
        wanted = {(f.line, f.about) for f in one.findings if _wants_print(f)}
        for line, layout, placed in _placed(one):
            thing = about_of(placed.slot, placed.sha256)
            key = (one.order.id, line, thing)
            if (line, thing) in wanted and key not in prints:
                made = _print(workshop, layout, placed)
                if made:
                    prints[key] = made
    return prints


def findings_page(workshop: Workshop, prepared: list[Prepared]) -> str:
    """The page of these orders' findings."""
    settings = workshop.shop.settings
    return reports.findings_page(
        findings_of(workshop, prepared),
        _prints_of(workshop, prepared),
        workshop.theme,
        shop_name=settings.name,
        day=workshop.today,
        demo=settings.demo,
    )


def write_findings(workshop: Workshop, prepared: list[Prepared]) -> None:
    """Keep document and page where the maker can open them."""
    document = reports.findings_document(findings_of(workshop, prepared))
    text = json.dumps(document, ensure_ascii=False, indent=1) + "\n"
    store.write(workshop.workroom / "findings.json", text)
    store.write(workshop.workroom / "findings.html", findings_page(workshop, prepared))


def write_page(workshop: Workshop, prepared: list[Prepared], target: Path) -> None:
    """The page alone, where somebody wants it. UsageError for a place that is uploaded."""
    if target.resolve().is_relative_to(workshop.site.resolve()):
        raise UsageError(
            f"“{target}” would be uploaded, and the page holds customers’ photos",
            "choose a place outside site/",
        )
    store.write(target, findings_page(workshop, prepared))
