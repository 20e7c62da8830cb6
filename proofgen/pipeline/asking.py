"""Asking a customer for a better photo, from what the checks said about the one that came."""

from __future__ import annotations

from dataclasses import replace

from proofgen import checks
from proofgen.errors import UsageError
from proofgen.model import Finding, Line, PhotoFacts, PlacedPhoto
from proofgen.pipeline import letters
from proofgen.pipeline.preflight import Prepared, prepare_all
from proofgen.proof.customer_findings import for_customer, wishes
from proofgen.proof.photo_letter import AskedPhoto
from proofgen.proof.photo_letter import photo_letter as photo_letter_of
from proofgen.say.tongue import to_say
from proofgen.workshop import Workshop

_ASKS_FOR_ANOTHER = ("stop", "warn")
_NONE_CAME = to_say("The photo that is still missing")


def _speaks_of(finding: Finding, line: Line, slot: str) -> bool:
    """Whether a finding is about the photo in this slot of this line, and asks for another."""
    return (
        finding.check.startswith("photo/")
        and finding.status in _ASKS_FOR_ANOTHER
        and not finding.accepted
        and finding.line == line.number
        and (finding.about == slot or finding.about.startswith(f"{slot}-"))
    )


def _needed(workshop: Workshop, prepared: Prepared, line: Line, slot: str) -> tuple[int, int]:
    """Pixels that serve every place where a slot's photo stands."""
    limits = workshop.shop.settings.limits
    sizes = [
        checks.needed(placed.rect.width, placed.rect.height, placed.zoom, limits)
        for variant in prepared.variants
        if variant.line == line.number
        for placed in variant.layout.layers
        if isinstance(placed, PlacedPhoto) and placed.slot == slot
    ]
    return max((w for w, _ in sizes), default=0), max((h for _, h in sizes), default=0)


def _asked(workshop: Workshop, prepared: Prepared, line: Line, slot: str) -> AskedPhoto | None:
    findings = [f for f in prepared.findings if _speaks_of(f, line, slot)]
    tongue = workshop.theme_for(prepared.order).tongue
    quantity = sum(line.quantity for line in prepared.order.lines)
    told = for_customer(findings, tongue, quantity=quantity)
    says = [one.says for one in told] + wishes(findings, tongue)
    if not says:
        return None
    use = line.photos.get(slot)
    facts: PhotoFacts | None = prepared.photos.get(str(use.file)) if use else None
    usable = facts is not None and facts.usable
    wide, high = _needed(workshop, prepared, line, slot)
    return AskedPhoto(
        name=use.file.name if use else tongue(_NONE_CAME),
        says=tuple(says),
        width_px=facts.width_px if facts and usable else 0,
        height_px=facts.height_px if facts and usable else 0,
        needs_width_px=wide,
        needs_height_px=high,
    )


def _asked_photos(workshop: Workshop, prepared: Prepared) -> list[AskedPhoto]:
    """The photos of an order that should be asked for again, each file once."""
    by_file: dict[tuple[str, int], AskedPhoto] = {}
    for line in prepared.order.lines:
        design = workshop.shop.designs[line.design]
        for slot in dict.fromkeys([*design.slots("photo"), *line.photos]):
            one = _asked(workshop, prepared, line, slot)
            if one is None:
                continue
            key = (one.name, 0 if slot in line.photos else line.number)
            by_file[key] = _both(by_file[key], one) if key in by_file else one
    return list(by_file.values())


def _both(one: AskedPhoto, other: AskedPhoto) -> AskedPhoto:
    """One file in two places: all that was said, and pixels for the larger place."""
    return replace(
        one,
        says=tuple(dict.fromkeys([*one.says, *other.says])),
        needs_width_px=max(one.needs_width_px, other.needs_width_px),
        needs_height_px=max(one.needs_height_px, other.needs_height_px),
    )


def photo_letter(workshop: Workshop, name: str) -> letters.Written:
    """The letter that asks for better photos.

    Errors: UsageError when there is nothing to ask for, or no such order.
    """
    order = workshop.order(name)
    prepared = prepare_all(workshop, [name])
    if not prepared:
        raise workshop.trouble[-1]
    photos = _asked_photos(workshop, prepared[0])
    if not photos:
        raise UsageError(
            f"{name}: nothing is wrong with its photos, so there is nothing to ask for",
            f"`proofgen check {name}` shows what else was found",
        )
    how = workshop.shop.words.get("photo", "")
    letter = photo_letter_of(letters.post_of(workshop, order), photos, how)
    return letters.keep(workshop, order, letter, "photo")
