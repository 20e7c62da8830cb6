"""Asking a customer for a better photo, from what the checks said about the one that came."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from proofgen import checks
from proofgen.errors import UsageError
from proofgen.geometry import Rect, Size
from proofgen.model import Finding, Limits, Line, PlacedPhoto
from proofgen.photo.opening import MAX_BYTES
from proofgen.photo.troubles import largest
from proofgen.pipeline import letters
from proofgen.pipeline.preflight import Prepared, prepare_all
from proofgen.proof.customer_findings import for_customer
from proofgen.proof.photo_letter import AskedPhoto
from proofgen.proof.photo_letter import photo_letter as photo_letter_of
from proofgen.proof.wishes import ANY_OTHER, WISHES, more_pixels, wishes
from proofgen.say.tongue import to_say
from proofgen.workshop import Workshop

_ASKS_FOR_ANOTHER = ("stop", "warn")
_PIXELS = "photo/effective-resolution"
_NONE_CAME = to_say("The photo that is still missing")


_UNASKED = (
    "No check asked for another photo of {order}. The mail does not say why you ask: add a line."
)


def _speaks_of(finding: Finding, line: Line, slot: str) -> bool:
    """Whether a finding is about the photo in this slot of this line."""
    return (
        finding.check.startswith("photo/")
        and finding.line == line.number
        and (finding.about == slot or finding.about.startswith(f"{slot}-"))
    )


def _asks(finding: Finding) -> bool:
    """Whether a finding asks for another photo by itself."""
    return finding.status in _ASKS_FOR_ANOTHER and not finding.accepted


def _may_ask(finding: Finding) -> bool:
    """Whether it does so once the maker has looked and asks all the same: notes that name a wish,
    and what was let through."""
    return finding.status in (*_ASKS_FOR_ANOTHER, "note") and (
        f"{finding.check}:{finding.code}" in WISHES
    )


@dataclass(slots=True)
class _Wanted:
    """One photo that is asked for, whatever places it stands in: each is a line and a slot."""

    places: list[tuple[Line, str]]
    findings: list[Finding]


def _wanted(
    workshop: Workshop, prepared: Prepared, asks: Callable[[Finding], bool] | None
) -> dict[str, _Wanted]:
    """The photos of an order to be asked for again because of findings that ask, by file; what
    never came by place. All photos where it is None."""
    wanted: dict[str, _Wanted] = {}
    for line in prepared.order.lines:
        design = workshop.shop.designs[line.design]
        for slot in dict.fromkeys([*design.slots("photo"), *line.photos]):
            about = [f for f in prepared.findings if _speaks_of(f, line, slot)]
            findings = [f for f in about if asks and asks(f)]
            use = line.photos.get(slot)
            if findings or (use and asks is None):
                one = wanted.setdefault(
                    str(use.file) if use else f"{line.number} {slot}", _Wanted([], [])
                )
                one.places.append((line, slot))
                one.findings += findings
    return wanted


@dataclass(frozen=True, slots=True)
class _Needs:
    """What a photo needs: the pixels that serve every place where it stands, its size (mm) on the
    finished piece at the largest of them, without what is folded or cut away, and whether it covers
    some piece, so that nothing can show it smaller."""

    px: tuple[int, int]
    on_piece: Size
    one_size: bool


def _needs(prepared: Prepared, wanted: _Wanted, limits: Limits) -> _Needs:
    at = {(line.number, slot) for line, slot in wanted.places}
    most, size, covers = (0, 0), Size(0.0, 0.0), False
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if not isinstance(placed, PlacedPhoto) or (variant.line, placed.slot) not in at:
                continue
            canvas = variant.layout.plan.canvases[placed.face]
            face = canvas.size
            seen = placed.rect.overlap(Rect(0.0, 0.0, face.width, face.height))
            covers = covers or canvas.covered_by(placed.rect)
            if seen and seen.width * seen.height > size.width * size.height:
                size = Size(seen.width, seen.height)
            needs = checks.needed(placed.rect.width, placed.rect.height, placed.zoom, limits)
            most = max(most[0], needs[0]), max(most[1], needs[1])
    return _Needs(most, size, covers)


def _asked(workshop: Workshop, prepared: Prepared, wanted: _Wanted) -> AskedPhoto | None:
    """What the letter says of a photo; None where nothing is said of it."""
    tongue = workshop.theme_for(prepared.order).tongue
    quantity = sum(line.quantity for line in prepared.order.lines)
    told = for_customer(wanted.findings, tongue, quantity=quantity, letter=True)
    line, slot = wanted.places[0]
    use = line.photos.get(slot)
    facts = prepared.photos.get(str(use.file)) if use else None
    if use and facts:
        facts = facts.turned(use.turn)  # as its pixels are counted
    asks = wishes(wanted.findings, facts) if wanted.findings else [ANY_OTHER]
    if not told and not asks:
        return None
    codes = {f.problem_code for f in (facts,) if f}
    came = use is not None and "missing" not in codes
    checked = {f.check for f in wanted.findings}
    short = _PIXELS in checked
    needs = _needs(prepared, wanted, workshop.shop.settings.limits)
    least = needs.px
    has = (facts.width_px, facts.height_px) if facts and facts.width_px else None
    too_few = has is not None and (has[0] < least[0] or has[1] < least[1])
    if facts and facts.problem_code == "damaged" and too_few:
        # No check counts the pixels of a broken file; were it whole, they would be too few still.
        short, asks = True, [*asks, more_pixels(facts)]
    return AskedPhoto(
        name=use.file.name if use else tongue(_NONE_CAME),
        says=tuple(one.says for one in told),
        wishes=tuple(asks),
        came=came,
        opened=facts is not None and facts.usable,
        on_piece=needs.on_piece,
        least_px=least if (short or not came) and all(least) else None,
        most_px=largest(*has) if has and "too-big" in codes else None,
        has_px=has,
        most_bytes=MAX_BYTES if "too-big" in codes and not has else None,
        wider=_wider(has, least) if has and facts and facts.usable else 1.0,
        smaller_helps=checked == {_PIXELS} and not needs.one_size,
    )


def _wider(has: tuple[int, int], place: tuple[int, int]) -> float:
    """How many times as wide for its height a picture is as its place; 1 where that is unknown."""
    return has[0] * place[1] / (has[1] * place[0]) if all(place) else 1.0


def photo_letter(workshop: Workshop, name: str) -> letters.Written:
    """The letter that asks for better photos.

    Errors: UsageError when there is nothing to ask for, or no such order.
    """
    order = workshop.order(name)
    prepared = prepare_all(workshop, [name])
    if not prepared:
        raise workshop.trouble[-1]
    # What was found first; then what the maker may ask for after a look; then any photo.
    for asks in (_asks, _may_ask, None):
        wanted = _wanted(workshop, prepared[0], asks).values()
        photos = [one for one in (_asked(workshop, prepared[0], w) for w in wanted) if one]
        if photos:
            break
    else:
        raise UsageError(
            f"{name} has no photo, so there is none to ask for",
            f"`proofgen check {name}` shows what was found",
        )
    post, shop = letters.post_of(workshop, order), workshop.shop
    told = shop.house_text("photo", post.tongue.tag, to_be_read=True)
    letter = photo_letter_of(post, photos, told)
    kept = letters.keep(workshop, order, letter, "photo")
    if asks is None:
        return replace(kept, says=(_UNASKED.format(order=name), *kept.says))
    return kept
