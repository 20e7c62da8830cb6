"""What a season is printed on, for customers: an outline, its numbers, the photo it wants."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from proofgen import catalogue
from proofgen.model import Blank, Season, Shop
from proofgen.model.blank_names import called_in, cloths_in, finish_in, offered_by, still_alike
from proofgen.render import Theme
from proofgen.render.drawing import blank_svg
from proofgen.say.parts import ON_DRAWINGS
from proofgen.say.tongue import Tongue
from proofgen.units import pixels
from proofgen.workshop import Workshop

_LETTER = 1 / 36  # of width and height together, so that words can be read on a telephone
_MOST_NAMED = 5
_TWINS = 3.0  # mm: what sewn things differ by anyway, common practice, no source


def blank_cards(
    shop: Shop, entries: Sequence[catalogue.Entry], theme: Theme
) -> tuple[catalogue.BlankCard, ...]:
    """A card for each blank these designs are offered on, in the order they come up, with a picture
    of the first one on it; twins share one."""
    carried: dict[str, dict[str, str]] = {}
    plates: dict[str, catalogue.Plate] = {}
    for entry in entries:
        for offer in entry.offers:
            carried.setdefault(offer.blank, {})[entry.id] = entry.title
            plates.setdefault(offer.blank, offer.plates[0])
    ppi = shop.settings.limits.good_ppi
    cards: list[catalogue.BlankCard] = []
    for blank, titles in carried.items():
        card = replace(_card(shop.blanks[blank], titles, ppi, theme), plate=plates[blank])
        twin = next((at for at, other in enumerate(cards) if _are_twins(card, other)), None)
        if twin is None:
            cards.append(card)
        else:
            cards[twin] = _together(cards[twin], card, theme.tongue)
    return tuple(cards)


def _are_twins(one: catalogue.BlankCard, other: catalogue.BlankCard) -> bool:
    """Whether they are made alike, whatever their cloth, and as large but for a few mm."""
    alike = all(getattr(one, what) == getattr(other, what) for what in ("construction", "shape"))
    sides = zip((*one.size_mm, *one.print_mm), (*other.size_mm, *other.print_mm), strict=True)
    cans = (one.vessel_mm or 0.0, other.vessel_mm or 0.0)
    return alike and all(abs(a - b) <= _TWINS for a, b in (*sides, cans))


def _name_of_both(one: str, other: str, tongue: Tongue) -> str:
    """What two things are called together: the words they share, up to a comma, else both."""
    words, others = one.split(", "), other.split(", ")
    alike = [a for a, b in zip(words, others, strict=False) if a == b]
    if alike and words[: len(alike)] == alike:
        return ", ".join(alike)
    return tongue("{one} or {other}", one=one, other=other)


def _together(
    one: catalogue.BlankCard, other: catalogue.BlankCard, tongue: Tongue
) -> catalogue.BlankCard:
    """One card for both: all colours and designs, and the photo that is enough for either."""
    cloths = {finish: dict(shades) for finish, shades in one.cloths}
    for finish, shades in other.cloths:
        cloths[finish] = {**dict(shades), **cloths.get(finish, {})}
    return replace(
        one,
        name=_name_of_both(one.name, other.name, tongue),
        blanks=(*one.blanks, *other.blanks),
        good_px=(max(one.good_px[0], other.good_px[0]), max(one.good_px[1], other.good_px[1])),
        cloths=tuple((finish, tuple(shades.items())) for finish, shades in cloths.items()),
        designs=tuple({**dict(one.designs), **dict(other.designs)}.items()),
    )


def _measures(wide: float, high: float, tongue: Tongue) -> Mapping[str, str]:
    return {"wide": tongue.number(wide, 0), "high": tongue.mm(high, 0)}


def _card(
    blank: Blank, titles: Mapping[str, str], good_ppi: float, theme: Theme
) -> catalogue.BlankCard:
    tongue = theme.tongue
    plan = blank.plan()
    panel, size = next(iter(plan.panels.items()))
    canvas = plan.canvases["round" if blank.construction == "wrap" else "front"]
    name = called_in(blank, tongue)
    drawing = blank_svg(
        plan,
        panel,
        title=tongue("{piece}, laid flat", piece=name),
        desc=tongue("{wide} × {high}.", **_measures(size.width, size.height, tongue)),
        labels={part: tongue(said) for part, said in ON_DRAWINGS.items()},
        prefix=f"blank-{blank.id}",
        strokes=theme.look.strokes,
        letter_mm=(size.width + size.height) * _LETTER,
    )
    return catalogue.BlankCard(
        id=blank.id,
        blanks=(blank.id,),
        name=name,
        construction=blank.construction,
        drawing=drawing,
        size_mm=(size.width, size.height),
        print_mm=(canvas.size.width, canvas.size.height),
        # A picture to the very edge goes a little past it.
        good_px=(pixels(canvas.fill.width, good_ppi), pixels(canvas.fill.height, good_ppi)),
        cloths=((finish_in(blank, tongue), cloths_in(blank, tongue)),),
        designs=tuple(titles.items()),
        vessel_mm=blank.vessel_mm,
        gap_mm=next((z.rect.width for z in plan.zones if z.kind == "gap"), 0.0),
        base_mm=plan.base_mm,
        shape=blank.shape,
    )


def names_alike(workshop: Workshop) -> list[str]:
    """The blanks that customers cannot tell apart by name or size, for people."""
    shop = workshop.shop
    return still_alike(shop.blanks, offered_by(shop.designs), workshop.theme_for(None).tongue)


def without_samples(workshop: Workshop, season: Season) -> list[str]:
    """The season's designs whose place for a photo is shown empty, for people."""
    designs = workshop.shop.designs
    return [
        f"{name} has no sample photo, so its pictures show an empty frame in its place; in "
        f"designs/{name}/design.md add to sample:  photos: {{{lacking[0]}: FILE}}"
        for name in season.designs
        if name in designs
        and (
            lacking := [
                s for s in designs[name].slots("photo") if s not in designs[name].sample_photos
            ]
        )
    ]


def in_no_season(workshop: Workshop, season: Season) -> list[str]:
    """The designs with a price that no season lists, for people: a new one is soon forgotten
    there. What has no price is meant for orders alone."""
    listed = {name for one in workshop.shop.seasons for name in one.designs}
    designs = workshop.shop.designs
    names = sorted(name for name in designs if name not in listed and designs[name].offered)
    if not names:
        return []
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    them = "it" if len(names) == 1 else "them"
    return [
        f"Not in the catalogue: {', '.join(names[:_MOST_NAMED])}{more}. To show {them}, write "
        f"{them} under designs: in {season.place}"
    ]
