"""An order worked out and checked: photos read, pieces laid out, checks run."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import cached_property, partial
from pathlib import Path
from typing import cast

from proofgen import checks, press, store
from proofgen.artwork import layout
from proofgen.artwork.description import describe, kept_choices
from proofgen.errors import ProofgenError, ShopError, SignoffError, StopError, UsageError
from proofgen.model import (
    STATUSES,
    Acceptance,
    AskedChange,
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
    may_be_let_through,
)
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.called import findings_called, short_names, to_accept
from proofgen.photo.measures import measure_all
from proofgen.pipeline.chosen import told_apart
from proofgen.pipeline.crew import LEAST, Crew, crew_for, crew_there
from proofgen.pipeline.rights import rights_of
from proofgen.pipeline.surroundings import surroundings
from proofgen.signoff import EventKind, InStock, OrderFacts, canonical
from proofgen.signoff.asked import came_with
from proofgen.signoff.digests import digest_of
from proofgen.workshop import Workshop

_CHECKED = "order checked/2"


@dataclass
class Laid:
    """An order laid out: what is placed where, and the photos by str(path)."""

    variants: list[Variant]
    photos: Mapping[str, PhotoFacts]


@dataclass
class Prepared:
    """An order with everything that is known before a pixel is made. What an earlier run found is
    not found again: then findings are read, and the order is `laid` out, only where that is asked
    for."""

    order: Order
    find: Callable[[], list[Finding]]
    ppi: float
    lay: Callable[[], Laid]
    known_digest: str = ""

    @cached_property
    def findings(self) -> list[Finding]:
        return self.find()

    @cached_property
    def laid(self) -> Laid:
        return self.lay()

    @property
    def variants(self) -> list[Variant]:
        return self.laid.variants

    @property
    def photos(self) -> Mapping[str, PhotoFacts]:
        return self.laid.photos

    @cached_property
    def document(self) -> ArtworkDocument:
        """Everything that changes what is pressed, but the pixels."""
        return describe(self.order, self.variants, self.ppi)

    @cached_property
    def digest(self) -> str:
        """What the records would call that description by."""
        return self.known_digest or digest_of(canonical(self.document))

    @property
    def stops(self) -> list[Finding]:
        return blocks(self.findings)


def acceptances(workshop: Workshop, order: str, before: int | None = None) -> dict[str, Acceptance]:
    """What was let through, by the finding's key, from the records; `before`: only while an edition
    of a lower number was the latest."""
    standing: dict[str, Acceptance] = {}
    for event in workshop.records.events(order):
        if before is not None and event.edition >= before:
            continue
        key, data = str(event.data.get("finding", "")), event.data
        if event.kind is EventKind.ACCEPTED:
            measure = cast(Measure | None, data.get("measure"))
            standing[key] = Acceptance(str(data["because"]), measure)
        elif event.kind is EventKind.NOT_ACCEPTED:
            standing.pop(key, None)
    return standing


def prepare(workshop: Workshop, order: Order) -> Prepared:
    """Lay out and check one order, unless an earlier run did and nothing it hangs on changed.
    ShopError where its design or blank cannot be used."""
    return surroundings(workshop).kept(
        _CHECKED,
        order.id,
        lambda: _prepare(workshop, order),
        partial(_known, workshop, order),
        lambda made: _as_kept(order, made),
    )


def _known(workshop: Workshop, order: Order, kept: bytes) -> Prepared:
    """What an earlier run found. ValueError for an entry that is none."""
    digest, _, findings = kept.partition(b"\n")
    if len(digest) != len(digest_of(b"")) or not findings:
        raise ValueError("not what `_as_kept` made")

    def find() -> list[Finding]:
        rows = json.loads(findings)
        return [Finding(**{**one, "pieces": tuple(one["pieces"])}) for one in rows]

    def lay() -> Laid:
        return _prepare(workshop, order).laid

    return Prepared(order, find, workshop.shop.settings.printer.ppi, lay, digest.decode("ascii"))


def _as_kept(order: Order, made: Prepared) -> bytes | None:
    """What the next run needs to know; nothing of an order whose photos tell more than its file,
    nor where a check had a fault."""
    if made.order != order or any(one.status == "broken" for one in made.findings):
        return None
    return made.digest.encode() + b"\n" + store.dump_json([*map(asdict, made.findings)])


def _prepare(workshop: Workshop, order: Order) -> Prepared:
    shop, materials = workshop.shop, workshop.materials
    accepted = acceptances(workshop, order.id)
    workshop.records.heads(order.id)  # damaged records are this order's trouble, told here
    files: list[Path] = [use.file for line in order.lines for use in line.photos.values()]
    photos = {str(f): materials.pictures.inspect(f) for f in dict.fromkeys(files)}
    latest = workshop.records.latest(order.id) if photos else None
    order = told_apart(order, photos, latest)
    # What was shown and signed hangs neither on what is installed now nor on how a later release
    # would choose.
    kept = kept_choices(latest.document) if latest else {}
    variants = layout.variants(shop, order, materials, kept)
    came = came_with(order.folder)
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
        in_stock=_stock(workshop, order),
        slip=came.slip,
        remarks=came.remarks,
        written=came.written,
        changes=_changes(workshop, order) if came.slip or came.written else (),
    )
    findings = checks.run(given, accepted)
    laid = Laid(variants, photos)
    return Prepared(order, lambda: findings, shop.settings.printer.ppi, lambda: laid)


def _changes(workshop: Workshop, order: Order) -> list[AskedChange]:
    """The words that answers to this order's proofs asked for otherwise, oldest first."""
    return [one for answer in workshop.records.answers(order.id) for one in answer.changes]


def _stock(workshop: Workshop, order: Order) -> Mapping[tuple[str, str], InStock]:
    """What is there of an order's blanks, where one of them is counted: to know what other orders
    need, all of them are looked at."""
    blanks = (workshop.shop.blanks.get(line.blank) for line in order.lines)
    return workshop.in_stock if any(one and one.stock.pieces for one in blanks) else {}


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
            asked.setdefault(key.photo, (placed.photo, set()))[1].add(key)
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


def _leave_elsewhere(workshop: Workshop, orders: Sequence[Order]) -> None:
    """Faults in files of the shop that none of these orders is made with keep nobody from working
    on them. What could be read of an order stands on sound files; beside these may lie others."""
    own = {f"orders/{order.id}" for order in orders}
    for line in (line for order in orders for line in order.lines):
        own |= {f"designs/{line.design}", f"blanks/{line.blank}"}

    def is_elsewhere(fault: ProofgenError) -> bool:
        file = fault.place.file if fault in workshop.shop.faults and fault.place else ""
        room, _, rest = file.partition("/")
        name = rest.partition("/")[0].partition(".")[0]
        return room in ("designs", "blanks", "seasons", "orders") and f"{room}/{name}" not in own

    workshop.elsewhere += filter(is_elsewhere, workshop.trouble)
    workshop.trouble[:] = [one for one in workshop.trouble if not is_elsewhere(one)]


def prepare_all(
    workshop: Workshop, names: Sequence[str], *, closed: bool = False
) -> list[Prepared]:
    """Prepare the named orders, or all that are open (`closed`: really all); what cannot be read
    is gathered."""
    if names:
        orders = _named(workshop, names)
        if len(orders) == len(set(names)):  # of one that cannot be read all may be the cause
            _leave_elsewhere(workshop, orders)
    else:
        orders = [o for o in workshop.shop.orders.values() if closed or _is_open(workshop, o.id)]
    done, crew = [], _checked_ahead(workshop, orders)
    for order in orders:
        workshop.materials.pictures.let_go()
        with workshop.each(f"checking {order.id}"):
            if crew:
                crew.wait_for("check", order.id)
            done.append(prepare(workshop, order))
    return done


def _checked_ahead(workshop: Workshop, orders: Sequence[Order]) -> Crew | None:
    """Who works out side by side what no earlier run did, where that is enough."""
    if len(orders) < LEAST:
        return crew_there(workshop)
    around = surroundings(workshop)
    new = [order.id for order in orders if not around.knows(_CHECKED, order.id)]
    # Where no proof follows, photos alone take long, and a third of what a proof takes.
    with_photos = (workshop.shop.orders[name].has_photos for name in new)
    crew = crew_for(workshop, len(new) if workshop.is_locked else sum(with_photos) // 3)
    if crew:
        crew.to_come = len(new) if workshop.is_locked else 0  # their proofs, as a rule
        for name in new:
            crew.add("check", name)
    return crew


def refuse_stops(prepared: Prepared) -> None:
    """StopError when a stop stands that was neither mended nor accepted."""
    if prepared.stops:
        first = prepared.stops[0]
        more = len(prepared.stops) - 1
        name = short_names(prepared.findings).get(first.key, "")
        accept = to_accept(prepared.order.id, name)
        raise StopError(
            f"{prepared.order.id}: {first.says}" + (f" (and {more} more)" if more else ""),
            " ".join(filter(None, (first.cure, accept and f"Or accept it: {accept}"))),
        )


def reached(orders: list[OrderFindings], status: str) -> bool:
    """Whether the worst finding of an order is of this status, or worse."""
    limit = STATUSES.index(status)
    return any(STATUSES.index(one.worst) <= limit for one in orders)


def accept(workshop: Workshop, name: str, key: str, because: str) -> Finding:
    """Let a finding through with a reason that is kept; `key` as `findings_called` reads it.
    UsageError if no such finding stands, or several, or it must be mended."""
    order = workshop.order(name)
    prepared = prepare(workshop, order)
    standing = [f for f in prepared.findings if f.status not in ("pass", "skipped")]
    meant = findings_called(key, standing)
    if meant and not any(map(may_be_let_through, meant)):
        raise UsageError(f"{order.id}: no reason lets this through: {meant[0].says}", meant[0].cure)
    if len({finding.key for finding in meant}) == 1:
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
    names = short_names(prepared.findings)
    known = dict.fromkeys(
        names.get(f.key, f.key) for f in meant or blocks(standing) if may_be_let_through(f)
    )
    if meant:
        raise UsageError(f"“{key}” fits {len(meant)} findings", "name one: " + ", ".join(known))
    nothing = f"see what stops it: proofgen check {name}" if blocks(standing) else ""
    raise UsageError(
        f"{order.id} has no finding called “{key}”",
        "the ones that stop it are: " + ", ".join(known)
        if known
        else nothing or f"nothing stops it; all that was found: proofgen check {order.id} -v",
    )


def not_accept(workshop: Workshop, name: str, key: str) -> str:
    """Take back that a finding was let through; its key. The records keep both. UsageError where
    no acceptance of that name, or beginning, stands."""
    order = workshop.order(name)
    standing = sorted(acceptances(workshop, name))
    meant = [one for one in standing if one == key] or [o for o in standing if o.startswith(key)]
    if not meant and standing:
        accepted = [f for f in prepare(workshop, order).findings if f.key in standing]
        meant = list(dict.fromkeys(f.key for f in findings_called(key, accepted)))
    if len(meant) != 1:
        raise UsageError(
            f"“{key}” is {'one of several findings' if meant else 'nothing'} that you let through "
            f"for {name}",
            "name one: " + ", ".join(meant or standing)
            if standing
            else f"nothing of {name} was let through, so nothing need be taken back",
        )
    workshop.sound_records().mark(name, EventKind.NOT_ACCEPTED, workshop.now, finding=meant[0])
    return meant[0]
