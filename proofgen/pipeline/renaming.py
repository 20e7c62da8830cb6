"""Which order of the folder may be one of the records whose folder is gone, under another name."""

from __future__ import annotations

from collections.abc import Iterable

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.model import Order
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.workshop import Workshop


def may_be_now(workshop: Workshop, name: str) -> list[str]:
    """Orders without a proof that agree with what the latest one of `name` was: the same customer,
    a photo that it shows, or all its words. What merely lies there as well is another's."""
    try:
        latest = workshop.records.latest(name)
    except SignoffError:  # `records verify` tells it
        return []
    if latest is None:
        return []
    customer = latest.terms["customer"] if latest.terms else ""
    photos, words = set(_photos_shown(latest.document)), set(_words_shown(latest.document))
    fresh = workshop.shop.orders.keys() - set(workshop.records.orders())
    return sorted(
        one.id
        for one in map(workshop.shop.orders.__getitem__, fresh)
        if _same_name(one.customer.name, customer)
        or not photos.isdisjoint(_photos_of(one))
        or (words and words == set(_words_of(one)))
    )


def _same_name(one: str, other: str) -> bool:
    return bool(one.strip()) and one.split() == other.split()


def _photos_shown(document: ArtworkDocument) -> Iterable[str]:
    for line in document["lines"]:
        for variant in line["variants"]:
            for layers in variant["faces"].values():
                yield from (one.get("picture") or "" for one in layers if one["kind"] == "photo")


def _words_shown(document: ArtworkDocument) -> Iterable[str]:
    for line in document["lines"]:
        for variant in line["variants"]:
            yield from variant["words"].values()


def _photos_of(order: Order) -> Iterable[str]:
    """Digests of its photos' files; of none that is not there."""
    for line in order.lines:
        for use in line.photos.values():
            if use.file.is_file():
                yield store.file_digest(use.file)


def _words_of(order: Order) -> Iterable[str]:
    for line in order.lines:
        yield from line.words.values()
        for piece in line.pieces:
            yield from piece.words.values()
