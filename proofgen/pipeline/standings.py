"""Where each order stands, and the one next step."""

from __future__ import annotations

from proofgen import reports
from proofgen.errors import ProofgenError, SignoffError
from proofgen.model.documents import OrdersDocument, StandingEntry
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.signoff import OrderFacts, canonical, state_of
from proofgen.workshop import Workshop

# Nothing of these is read from the folder any more.
CLOSED = ("forgotten", "withdrawn", "handed over", "pressed")


def link_of(workshop: Workshop, order: str) -> str:
    """Address of an order's private page, or where it lies in the folder when there is no site."""
    token = workshop.records.token(order)
    if not token:
        return ""
    base = workshop.shop.settings.site.rstrip("/")
    return f"{base}/p/{token}/" if base else f"site/p/{token}/index.html"


def facts_of(workshop: Workshop, name: str, prepared: Prepared | None) -> OrderFacts:
    """What the table of states asks about an order. `prepared` None: it cannot be read now."""
    records = workshop.records
    latest = records.latest(name)
    number = latest.number if latest else 0
    kinds = {e.kind for e in records.events(name) if e.edition == number}
    same = bool(latest and prepared and canonical(latest.document) == canonical(prepared.document))
    return OrderFacts(
        order=name,
        has_stop=bool(prepared and prepared.stops),
        edition=latest,
        current_fingerprint_matches=same,
        sent="sent" in kinds,
        answers=[a for a in records.answers(name) if a.edition == number],
        answer_by=latest.answer_by if latest else None,
        today=workshop.today,
        pressed="pressed" in kinds,
        handed="handed-over" in kinds,
        withdrawn=records.is_withdrawn(name),
        forgotten=records.is_forgotten(name),
    )


def _mend(workshop: Workshop, name: str) -> str:
    """The next step of an order that is in the records and cannot be worked out from the folder."""
    if not (workshop.folder / "orders" / name).is_dir():
        return (
            f"Its folder orders/{name}/ is gone. Put it back from a backup, or remove the rest "
            f"as well: proofgen forget {name}"
        )
    for fault in workshop.trouble:
        if fault.place and f"orders/{name}/" in fault.place.file:
            return f"Mend {fault.place}, then: proofgen check {name}"
    return f"See what keeps it from being read: proofgen check {name}"


def standing(workshop: Workshop, name: str, prepared: Prepared | None) -> StandingEntry:
    """One order of the schema proofgen/orders/1."""
    facts = facts_of(workshop, name, prepared)
    state, step = state_of(facts)
    gone = facts.withdrawn or facts.forgotten
    if prepared is None and state not in CLOSED:
        step = _mend(workshop, name)
    return {
        "order": name,
        "state": state,
        "edition": facts.edition.number if facts.edition else 0,
        "fingerprint": facts.edition.fingerprint if facts.edition else "",
        "link": "" if gone else link_of(workshop, name),
        "next": step,
    }


def known_standing(
    workshop: Workshop, name: str, prepared: Prepared | None
) -> StandingEntry | None:
    """The standing of an order; None, and gathered trouble, where its records are damaged."""
    try:
        return standing(workshop, name, prepared)
    except SignoffError as error:
        workshop.trouble.append(error)
        return None


def standings(workshop: Workshop) -> OrdersDocument:
    """Every order of the folder and of the records (schema proofgen/orders/1)."""
    found: list[StandingEntry] = []
    for name in sorted({*workshop.shop.orders, *workshop.records.orders()}):
        prepared = None
        if name in workshop.shop.orders:
            try:
                prepared = prepare(workshop, workshop.shop.orders[name])
            except ProofgenError as error:
                workshop.trouble.append(error)
        row = known_standing(workshop, name, prepared)
        found += [row] if row else []
    return reports.orders_document(found)
