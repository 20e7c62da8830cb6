"""An order worked out and checked: photos read, pieces laid out, findings told."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from proofgen import checks
from proofgen.artwork.description import describe
from proofgen.artwork.layout import variants as variants_
from proofgen.errors import ProofgenError, ShopError, SignoffError, StopError, UsageError
from proofgen.model import (
    Finding,
    MeasureKey,
    Order,
    OrderFindings,
    PhotoFacts,
    PhotoMeasures,
    PlacedPhoto,
    Variant,
    beyond,
    blocks,
    key_of,
)
from proofgen.photo.measures import measure_all
from proofgen.photo.opening import inspect, photo_worker
from proofgen.say import number
from proofgen.workshop import Workshop

_AS_GOOD = 1.001  # a measure may differ by so much and still be the one that was accepted


@dataclass
class Prepared:
    """An order with everything that is known before a pixel is made."""

    order: Order
    variants: list[Variant]
    photos: Mapping[str, PhotoFacts]
    findings: list[Finding]
    ppi: float

    @cached_property
    def document(self) -> dict[str, Any]:
        """Everything that changes what is pressed, but the pixels."""
        return describe(self.order, self.variants, self.ppi)

    @property
    def stops(self) -> list[Finding]:
        return blocks(self.findings)


def accepted_findings(workshop: Workshop, order: str) -> dict[str, Mapping[str, Any]]:
    """Finding key to what was accepted of it (`because`, `measure`, `limit`), from the records."""
    return {
        event.data["finding"]: event.data
        for event in workshop.records.events(order)
        if event.kind == "accepted"
    }


def _as_accepted(finding: Finding, kept: Mapping[str, Any]) -> Finding:
    """The finding, accepted no longer if it has become worse than what was accepted."""
    then = kept.get("measure")
    before, now = beyond(then, finding.limit), beyond(finding.measure, finding.limit)
    if before is None or now is None or now <= before * _AS_GOOD:
        return finding
    figures: tuple[Any, Any] = (then, finding.measure)
    was, is_now = (number(float(one), 3) for one in figures)
    said = f"It was accepted at {was} and is {is_now} now."
    return replace(finding, accepted="", cure=f"{finding.cure} {said}".strip())


def prepare(workshop: Workshop, order: Order) -> Prepared:
    """Lay out and check one order. ShopError where its design or blank cannot be used."""
    shop = workshop.shop
    accepted = accepted_findings(workshop, order.id)
    workshop.records.heads(order.id)  # damaged records are this order's trouble, told here
    files: list[Path] = [use.file for line in order.lines for use in line.photos.values()]
    photos = {str(f): inspect(f, workshop.store) for f in dict.fromkeys(files)}
    variants = variants_(shop, order, workshop.store)
    given = checks.CheckInput(
        shop=shop,
        order=order,
        variants=variants,
        photos=photos,
        today=workshop.today,
        twins=workshop.twins,
        store=workshop.store,
        measures=_measures(workshop, variants),
    )
    found = checks.run(given, {key: kept["because"] for key, kept in accepted.items()})
    findings = checks.worst_first(
        _as_accepted(f, accepted[f.key]) if f.accepted else f for f in found
    )
    return Prepared(order, variants, photos, findings, shop.settings.printer.ppi)


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
    found: dict[MeasureKey, PhotoMeasures] = {}
    for facts, keys in asked.values():
        # A photo that was whole a moment ago and is not now is told by its own check.
        with contextlib.suppress(ProofgenError):
            found |= measure_all(facts, sorted(keys, key=repr), workshop.store)
    return found


def is_closed(workshop: Workshop, name: str) -> bool:
    """Whether nothing is left to check: pressed or handed over, taken back or forgotten."""
    records = workshop.records
    heads = records.heads(name)
    number = heads[-1]["edition"] if heads else 0
    done = {e.kind for e in records.events(name) if e.edition == number}
    return bool(done & {"pressed", "handed-over"}) or (
        records.is_withdrawn(name) or records.is_forgotten(name)
    )


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
    found = []
    for name in dict.fromkeys(names):
        try:
            found.append(workshop.order(name))
        except ShopError as error:
            workshop.trouble.append(error)
    return found


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
    with photo_worker():
        for order in orders:
            with workshop.each(f"checking {order.id}"):
                done.append(prepare(workshop, order))
    return done


def findings_of(workshop: Workshop, prepared: list[Prepared]) -> list[OrderFindings]:
    """The findings with the edition they speak of (0: no proof yet)."""
    found = []
    for one in prepared:
        heads = workshop.records.heads(one.order.id)
        found.append(
            OrderFindings(
                order=one.order.id,
                edition=heads[-1]["edition"] if heads else 0,
                findings=one.findings,
            )
        )
    return found


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


def accept(workshop: Workshop, order: Order, key: str, because: str) -> Finding:
    """Let a finding through with a reason that is kept; `key` may be its beginning, if that tells
    it apart. UsageError if no such finding stands."""
    prepared = prepare(workshop, order)
    standing = [f for f in prepared.findings if f.status not in ("pass", "skipped")]
    meant = [f for f in standing if f.key == key] or [f for f in standing if f.key.startswith(key)]
    if len(meant) == 1:
        workshop.sound_records().mark(
            order.id,
            "accepted",
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
