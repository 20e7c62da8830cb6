"""What a design's order form can tell of a choice before it is sent: what a cloth makes of the
design, and which letters its lettering has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from proofgen.catalogue.order_form import Suiting
from proofgen.model import Layout, Placed, PlacedPhoto, PlacedWords
from proofgen.model.blank_names import cloths_in
from proofgen.proof.colour_words import say_colours, say_photo
from proofgen.views.colours import kept_report
from proofgen.workshop import Workshop


def suiting_of(workshop: Workshop, layouts: Sequence[Layout]) -> Suiting:
    """Of a design on each blank it is offered on. Errors: as `paint`."""
    cloths = {layout.blank.id: _cloths(workshop, layout) for layout in layouts}
    return Suiting(cloths, _letters(workshop, layouts))


def _cloths(workshop: Workshop, layout: Layout) -> dict[str, str]:
    """Of each cloth that changes a design, in the shop's language, what becomes of it there. The
    customer's photo is not known yet: of it is told what a cloth makes of any. Errors: as
    `paint`."""
    tongue, cloth = workshop.theme_for(None).tongue, layout.blank.cloth
    has_photo = any(isinstance(placed, PlacedPhoto) for placed in layout.layers)
    own, told = _own_ink(layout), dict[str, str]()
    fits = {fit.name: fit for fit in kept_report(own, workshop.materials).cloths}
    for (name, shade), (called, _) in zip(
        cloth.colours.items(), cloths_in(layout.blank, tongue), strict=True
    ):
        real, said = cloth.correction(name), list[str]()
        if not fits[name].suits:
            there = replace(own, cloth=name, cloth_hex=shade, correction=real)
            report = kept_report(there, workshop.materials)
            said.append(tongue("The cloth “{cloth}” suits this design less well.", cloth=called))
            said += say_colours(report, tongue)
        if has_photo:
            said.append(say_photo(shade, real, tongue))
        if not fits[name].suits:
            said.append(
                tongue("You can choose it all the same: you see it on your proof before we press.")
            )
        told[name] = " ".join(filter(None, said))
    return {name: text for name, text in told.items() if text}


def _own_ink(layout: Layout) -> Layout:
    """What is pressed of a design whatever photo comes; nor words on a photo, since what they stand
    on is not known."""
    photos = [
        shown
        for placed in layout.layers
        if isinstance(placed, PlacedPhoto)
        for shown in layout.on_panel(placed)
    ]

    def is_known(placed: Placed) -> bool:
        if not isinstance(placed, PlacedWords):
            return not isinstance(placed, PlacedPhoto)
        mine = layout.on_panel(placed, placed.ink)
        return not any(
            panel == one and rect.overlap(other) for panel, rect in mine for one, other in photos
        )

    faces = layout.faces.items()
    return replace(layout, faces={name: tuple(filter(is_known, some)) for name, some in faces})


def _letters(
    workshop: Workshop, layouts: Sequence[Layout]
) -> dict[str, tuple[frozenset[int], ...]]:
    """By slot of words the letters of each font that it is set in."""
    fonts: dict[str, dict[Path, frozenset[int]]] = {}
    for layout in layouts:
        for placed in layout.layers:
            if isinstance(placed, PlacedWords) and placed.slot:
                letters = workshop.materials.typeface(placed.font_file).letters
                fonts.setdefault(placed.slot, {})[placed.font_file] = letters
    return {slot: tuple(dict.fromkeys(some.values())) for slot, some in fonts.items()}
