"""Who gave a photo its focus: the maker, or the tool, which wrote it there for one picture."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from proofgen.artwork.description import rounded
from proofgen.model import Order, PhotoFacts, PhotoUse, PlacedPhoto, Variant
from proofgen.signoff import Edition


def told_apart(order: Order, photos: Mapping[str, PhotoFacts], latest: Edition | None) -> Order:
    """The order with every focus that the tool wrote marked so; one that it chose for another
    picture than the slot has now is outdated, and left open. `photos` are by str(path), `latest`
    is the order's latest edition. What the maker wrote stays as it is."""
    if latest is None:
        return order
    lines = []
    for line in order.lines:
        uses = {
            slot: _told_apart(use, photos[str(use.file)], set(_shown(latest, line.number, slot)))
            for slot, use in line.photos.items()
        }
        lines.append(replace(line, photos=uses))
    return replace(order, lines=tuple(lines))


def chosen_in(order: Order, variants: list[Variant]) -> set[tuple[int, str]]:
    """The photos, by line and slot, whose focus the tool chose: now or for an earlier proof."""
    before = {
        (line.number, slot)
        for line in order.lines
        for slot, use in line.photos.items()
        if use.by_tool
    }
    return before | {
        (variant.line, placed.slot)
        for variant in variants
        for placed in variant.layout.layers
        if isinstance(placed, PlacedPhoto) and placed.focus_chosen
    }


def _told_apart(
    use: PhotoUse, facts: PhotoFacts, shown: set[tuple[tuple[float, ...], str | None, int]]
) -> PhotoUse:
    if use.focus is None or not facts.usable:
        return use
    focus = tuple(map(rounded, use.focus))
    pictures = {(picture, turn) for seen, picture, turn in shown if seen == focus}
    if not pictures:
        return use
    if (facts.sha256, use.turn) in pictures:
        return replace(use, by_tool=True)
    return replace(use, focus=None, anew=True, outdated=use.focus)


def _shown(
    edition: Edition, line: int, slot: str
) -> Iterator[tuple[tuple[float, ...], str | None, int]]:
    """Every focus of a photo that the tool chose in an edition, with the picture's digest and by
    how many degrees it was turned. An
    edition that does not say who chose counts as chosen by the tool."""
    if edition.chosen is not None and (line, slot) not in edition.chosen:
        return
    for one in edition.document["lines"]:
        for look in one["variants"] if one["line"] == line else ():
            for layer in (layer for layers in look["faces"].values() for layer in layers):
                if layer["kind"] == "photo" and layer["slot"] == slot and layer.get("focus"):
                    yield tuple(layer["focus"] or ()), layer["picture"], layer.get("turn", 0)
