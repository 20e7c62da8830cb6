"""What may be pressed of an order: a signed edition, with all that its ticket tells."""

from __future__ import annotations

from functools import partial

from proofgen import press, store
from proofgen.artwork.rasters import pixel_digest, read_raster
from proofgen.errors import SignoffError
from proofgen.pipeline.orders import earlier_in, why_not_current
from proofgen.pipeline.preflight import Prepared, refuse_stops
from proofgen.pipeline.terms import both_terms, late_stops
from proofgen.signoff import (
    admit,
    came_with,
    press_changes,
    promises,
    read_facts,
    stand,
)
from proofgen.workshop import Workshop


def _pixels_of(png: bytes) -> str:
    """Digest of the pixels of a kept raster."""
    return pixel_digest(read_raster(png))


def job_of(workshop: Workshop, prepared: Prepared) -> press.Job:
    """What may be pressed of an order. SignoffError says why not; StopError if a stop stands."""
    order = prepared.order
    refuse_stops(prepared)
    signed = admit(
        workshop.records,
        order.id,
        prepared.document,
        pixel_digest=_pixels_of,
        why=lambda: why_not_current(workshop, prepared),
        late=late_stops(workshop, prepared),
    )
    edition = workshop.records.latest(order.id)
    if edition is None:
        raise SignoffError(f"{order.id} has no proof", f"proofgen proof {order.id}")
    both = both_terms(workshop, prepared)
    return press.Job(
        signed=signed,
        order=order,
        variants=prepared.variants,
        rasters=store.Lazy(edition.rasters, partial(workshop.records.raster, edition)),
        accepted=[f for f in prepared.findings if f.accepted],
        since=press_changes(*both) if both else [],
        promised=promises(*both) if both else [],
        earlier=[one.said for one in earlier_in(workshop, read_facts(workshop.records, order.id))],
        remarks=came_with(order.folder).remarks,
        sheets=press.kept_sheets(workshop.records.sheets(order.id)),
        recorded=partial(stand, workshop.records, order.id),
    )
