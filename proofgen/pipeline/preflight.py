"""An order worked out and checked: photos read, pieces laid out, checks run."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import cast

from proofgen import checks, press
from proofgen.artwork import layout
from proofgen.artwork.description import describe, kept_focuses
from proofgen.errors import ProofgenError, ShopError, SignoffError, StopError, UsageError
from proofgen.model import (
    STATUSES,
    Acceptance,
    Finding,
    Measure,
    MeasureKey,
    NoRoom,
    Order,
    OrderFindings,
    PhotoFacts,
    PhotoMeasures,
    PlacedPhoto,
    Settings,
    Variant,
    blocks,
    key_of,
)
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.photo.measures import measure_all
from proofgen.pipeline.chosen import told_apart
from proofgen.pipeline.rights import rights_of
from proofgen.signoff import EventKind, OrderFacts, canonical
from proofgen.signoff.digests import digest_of
from proofgen.workshop import Workshop


@dataclass
class Prepared:
    """An order with everything that is known before a pixel is made."""

    order: Order
    variants: list[Variant]
    photos: Mapping[str, PhotoFacts]
    findings: list[Finding]
    ppi: float

    @cached_property
    def document(self) -> ArtworkDocument:
        """Everything that changes what is pressed, but the pixels."""
        return describe(self.order, self.variants, self.ppi)

    @cached_property
    def digest(self) -> str:
        """What the records would call that description by."""
        return digest_of(canonical(self.document))

    @property
    def stops(self) -> list[Finding]:
        return blocks(self.findings)


def acceptances(workshop: Workshop, order: str, before: int | None = None) -> dict[str, Acceptance]:
    """What was let through, by the finding's key, from the records; `before`: only while an edition
    of a lower number was the latest."""
    accepted = [
        e.data
        for e in workshop.records.events(order)
        if e.kind is EventKind.ACCEPTED and (before is None or e.edition < before)
    ]
    return {
        str(data["finding"]): Acceptance(
            str(data["because"]), cast(Measure | None, data.get("measure"))
        )
        for data in accepted
    }


def prepare(workshop: Workshop, order: Order) -> Prepared:
    """Lay out and check one order. ShopError where its design or blank cannot be used."""
    shop, materials = workshop.shop, workshop.materials
    accepted = acceptances(workshop, order.id)
    workshop.records.heads(order.id)  # damaged records are this order's trouble, told here
    files: list[Path] = [use.file for line in order.lines for use in line.photos.values()]
    photos = {str(f): materials.pictures.inspect(f) for f in dict.fromkeys(files)}
    latest = workshop.records.latest(order.id) if photos else None
    order = told_apart(order, photos, latest)
    # What was shown and signed hangs neither on what is installed now nor on how a later release
    # would choose.
    kept = kept_focuses(latest.document) if latest else {}
    variants = layout.variants(shop, order, materials, kept)
    given = checks.CheckInput(
        shop=shop,
        order=order,
        variants=variants,
        photos=photos,
        today=workshop.today,
        twins=workshop.twins,
        materials=materials,
        measures=_measures(workshop, variants),
        no_room=_no_room(shop.settings, variants),
        rights=rights_of(workshop, order),
    )
    findings = checks.run(given, accepted)
    return Prepared(order, variants, photos, findings, shop.settings.printer.ppi)


def _no_room(settings: Settings, variants: list[Variant]) -> dict[str, NoRoom]:
    """What keeps a blank from being pressed in this shop, by the blank."""
    lacking = ((v.layout.blank.id, press.without_room(v.layout, settings)) for v in variants)
    return {blank: lacks for blank, lacks in lacking if lacks}


def _measures(workshop: Workshop, variants: list[Variant]) -> dict[MeasureKey, PhotoMeasures]:
    """What the pixels of every placed photo tell at its size; each photo is decoded once."""
    ppi = workshop.shop.settings.printer.ppi
    asked: dict[str, tuple[PhotoFacts, set[MeasureKey]]] = {}
    for placed in (p for variant in variants for p in variant.layout.layers):
        if not isinstance(placed, PlacedPhoto):
            continue
        key = key_of(placed, ppi)
        if key and placed.photo and placed.photo.usable:
            asked.setdefault(key.sha256, (placed.photo, set()))[1].add(key)
    measures: dict[MeasureKey, PhotoMeasures] = {}
    for facts, keys in asked.values():
        # A photo that was whole a moment ago and is not now is told by its own check.
        with contextlib.suppress(ProofgenError):
            measures |= measure_all(facts, sorted(keys, key=repr), workshop.materials.pictures)
    return measures


def is_closed(workshop: Workshop, name: str) -> bool:
    """Whether nothing is left to check. SignoffError where the order's records are damaged."""
    workshop.records.heads(name)
    return OrderFacts(order=name, happened=workshop.records.happened(name)).rules.closed


def _is_open(workshop: Workshop, name: str) -> bool:
    """Whether something is left to check; damaged records of an order are gathered."""
    try:
        return not is_closed(workshop, name)
    except SignoffError as error:
        workshop.trouble.append(error)
        return False


def _named(workshop: Workshop, names: Sequence[str]) -> list[Order]:
    """The orders of these names, each once; one that cannot be read is gathered. UsageError for a
    name that no order has."""
    orders = []
    for name in dict.fromkeys(names):
        try:
            orders.append(workshop.order(name))
        except ShopError as error:
            workshop.trouble.append(error)
    return orders


def prepare_all(
    workshop: Workshop, names: Sequence[str], *, closed: bool = False
) -> list[Prepared]:
    """Prepare the named orders, or all that are open (`closed`: really all); what cannot be read
    is gathered."""
    if names:
        orders = _named(workshop, names)
    else:
        orders = [o for o in workshop.shop.orders.values() if closed or _is_open(workshop, o.id)]
    done = []
    for order in orders:
        workshop.materials.pictures.let_go()
        with workshop.each(f"checking {order.id}"):
            done.append(prepare(workshop, order))
    return done


def refuse_stops(prepared: Prepared) -> None:
    """StopError when a stop stands that was neither mended nor accepted."""
    if prepared.stops:
        first = prepared.stops[0]
        more = len(prepared.stops) - 1
        raise StopError(
            f"{prepared.order.id}: {first.says}" + (f" (and {more} more)" if more else ""),
            (first.cure + " " if first.cure else "")
            + f"Or accept it: proofgen check {prepared.order.id} --accept {first.key} "
            '--because "…"',
        )


def reached(orders: list[OrderFindings], status: str) -> bool:
    """Whether the worst finding of an order is of this status, or worse."""
    limit = STATUSES.index(status)
    return any(STATUSES.index(one.worst) <= limit for one in orders)


def accept(workshop: Workshop, name: str, key: str, because: str) -> Finding:
    """Let a finding through with a reason that is kept; `key` may be its beginning, if that tells
    it apart. UsageError if no such finding stands."""
    order = workshop.order(name)
    prepared = prepare(workshop, order)
    standing = [f for f in prepared.findings if f.status not in ("pass", "skipped")]
    meant = [f for f in standing if f.key == key] or [f for f in standing if f.key.startswith(key)]
    if len(meant) == 1:
        workshop.sound_records().mark(
            order.id,
            EventKind.ACCEPTED,
            workshop.now,
            finding=meant[0].key,
            because=because,
            measure=meant[0].measure,
            limit=meant[0].limit,
        )
        return meant[0]
    keys = [f.key for f in meant or standing if f.status in ("stop", "broken", "warn")]
    if meant:
        raise UsageError(f"“{key}” fits {len(meant)} findings", "name one: " + ", ".join(keys))
    raise UsageError(
        f"{order.id} has no finding called “{key}”",
        "the ones that stand are: " + ", ".join(keys) if keys else "nothing needs accepting",
    )
