"""What a season is printed on, for customers: an outline, its numbers, the photo it wants."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen import catalogue
from proofgen.model import Blank, Shop
from proofgen.render.drawing import blank_svg
from proofgen.say import number
from proofgen.say.parts import ON_OUTLINES
from proofgen.units import pixels

_LETTER = 1 / 36  # of width and height together, so that words can be read on a telephone


def blank_cards(shop: Shop, designs: Sequence[str]) -> tuple[catalogue.BlankCard, ...]:
    """A card for each blank these designs are offered on, in the order they come up."""
    carried: dict[str, dict[str, str]] = {}
    for name in designs:
        design = shop.designs[name]
        for blank in design.offered:
            if blank in shop.blanks:
                carried.setdefault(blank, {})[design.id] = design.title
    ppi = shop.settings.limits.good_ppi
    return tuple(_card(shop.blanks[b], titles, ppi) for b, titles in carried.items())


def _card(blank: Blank, titles: dict[str, str], good_ppi: float) -> catalogue.BlankCard:
    plan = blank.plan()
    panel, size = next(iter(plan.panels.items()))
    canvas = plan.canvases["round" if blank.construction == "wrap" else "front"]
    drawing = blank_svg(
        plan,
        panel,
        title=f"{blank.name}, laid flat",
        desc=f"{number(size.width, 0)} by {number(size.height, 0)} mm.",
        labels=ON_OUTLINES,
        prefix=f"blank-{blank.id}",
        letter_mm=(size.width + size.height) * _LETTER,
    )
    return catalogue.BlankCard(
        id=blank.id,
        name=blank.name,
        construction=blank.construction,
        drawing=drawing,
        size_mm=(size.width, size.height),
        print_mm=(canvas.size.width, canvas.size.height),
        # A picture to the very edge goes a little past it.
        good_px=(pixels(canvas.fill.width, good_ppi), pixels(canvas.fill.height, good_ppi)),
        finish=blank.cloth.finish,
        cloths=tuple(blank.cloth.colours.items()),
        designs=tuple(titles.items()),
        vessel_mm=blank.vessel_mm,
        gap_mm=next((z.rect.width for z in plan.zones if z.kind == "gap"), 0.0),
        base_mm=next((z.rect.height for z in plan.zones if z.kind == "base"), 0.0),
        shape=blank.shape,
    )
