"""Asking a customer for a better photo, from what the checks said about the one that came."""

from __future__ import annotations

from dataclasses import dataclass

from proofgen import checks
from proofgen.errors import UsageError
from proofgen.geometry import Rect, Size
from proofgen.model import Finding, Limits, Line, PlacedPhoto
from proofgen.photo.opening import MAX_BYTES
from proofgen.photo.troubles import largest
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


@dataclass(slots=True)
class _Wanted:
    """One photo that is asked for, whatever places it stands in: each is a line and a slot."""

    places: list[tuple[Line, str]]
    findings: list[Finding]


def _wanted(workshop: Workshop, prepared: Prepared) -> dict[str, _Wanted]:
    """The photos of an order that should be asked for again, by file; what never came by place."""
    wanted: dict[str, _Wanted] = {}
    for line in prepared.order.lines:
        design = workshop.shop.designs[line.design]
        for slot in dict.fromkeys([*design.slots("photo"), *line.photos]):
            findings = [f for f in prepared.findings if _speaks_of(f, line, slot)]
            if findings:
                use = line.photos.get(slot)
                one = wanted.setdefault(
                    str(use.file) if use else f"{line.number} {slot}", _Wanted([], [])
                )
                one.places.append((line, slot))
                one.findings += findings
    return wanted


def _largest(prepared: Prepared, wanted: _Wanted, limits: Limits) -> tuple[tuple[int, int], Size]:
    """The pixels that serve every place where a photo stands, and its size (mm) on the finished
    piece at the largest of them: without what is folded or cut away."""
    at = {(line.number, slot) for line, slot in wanted.places}
    most, size = (0, 0), Size(0.0, 0.0)
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if not isinstance(placed, PlacedPhoto) or (variant.line, placed.slot) not in at:
                continue
            face = variant.layout.plan.canvases[placed.face].size
            seen = placed.rect.overlap(Rect(0.0, 0.0, face.width, face.height))
            if seen and seen.width * seen.height > size.width * size.height:
                size = Size(seen.width, seen.height)
            needs = checks.needed(placed.rect.width, placed.rect.height, placed.zoom, limits)
            most = max(most[0], needs[0]), max(most[1], needs[1])
    return most, size


def _asked(workshop: Workshop, prepared: Prepared, wanted: _Wanted) -> AskedPhoto | None:
    """What the letter says of a photo; None where nothing is said of it."""
    tongue = workshop.theme_for(prepared.order).tongue
    quantity = sum(line.quantity for line in prepared.order.lines)
    told = for_customer(wanted.findings, tongue, quantity=quantity)
    line, slot = wanted.places[0]
    use = line.photos.get(slot)
    facts = prepared.photos.get(str(use.file)) if use else None
    asks = wishes(wanted.findings, facts)
    if not told and not asks:
        return None
    codes = {f.problem_code for f in (facts,) if f}
    came = use is not None and "missing" not in codes
    short = any(f.check == "photo/effective-resolution" for f in wanted.findings)
    least, size = _largest(prepared, wanted, workshop.shop.settings.limits)
    has = (facts.width_px, facts.height_px) if facts and facts.width_px else None
    return AskedPhoto(
        name=use.file.name if use else tongue(_NONE_CAME),
        says=tuple(one.says for one in told),
        wishes=tuple(asks),
        came=came,
        opened=facts is not None and facts.usable,
        on_piece=size,
        least_px=least if (short or not came) and all(least) else None,
        most_px=largest(*has) if has and "too-big" in codes else None,
        has_px=has,
        most_bytes=MAX_BYTES if "too-big" in codes and not has else None,
    )


def photo_letter(workshop: Workshop, name: str) -> letters.Written:
    """The letter that asks for better photos.

    Errors: UsageError when there is nothing to ask for, or no such order.
    """
    order = workshop.order(name)
    prepared = prepare_all(workshop, [name])
    if not prepared:
        raise workshop.trouble[-1]
    wanted = _wanted(workshop, prepared[0]).values()
    photos = [one for one in (_asked(workshop, prepared[0], w) for w in wanted) if one]
    if not photos:
        raise UsageError(
            f"{name}: nothing is wrong with its photos, so there is nothing to ask for",
            f"`proofgen check {name}` shows what else was found",
        )
    how = workshop.shop.words.get("photo", "")
    letter = photo_letter_of(letters.post_of(workshop, order), photos, how)
    return letters.keep(workshop, order, letter, "photo")
