"""Where each order stands, and the one next step."""

from __future__ import annotations

from dataclasses import replace

from proofgen import reports
from proofgen.errors import ProofgenError, SignoffError
from proofgen.model.documents import OrdersDocument, StandingEntry
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.signoff import OrderFacts, canonical, read_facts
from proofgen.workshop import Workshop


def link_of(workshop: Workshop, order: str) -> str:
    """Address of an order's private page, or where it lies in the folder when there is no site."""
    token = workshop.records.token(order)
    if not token:
        return ""
    base = workshop.shop.settings.site.rstrip("/")
    return f"{base}/p/{token}/" if base else f"site/p/{token}/index.html"


def facts_of(workshop: Workshop, name: str, prepared: Prepared | None) -> OrderFacts:
    """What the table of states asks about an order. `prepared` None: it cannot be read now."""
    latest = workshop.records.latest(name)
    same = bool(latest and prepared and canonical(latest.document) == canonical(prepared.document))
    return replace(
        read_facts(workshop.records, name, workshop.today),
        has_stop=bool(prepared and prepared.stops),
        is_current=same,
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
    """Where one order stands. SignoffError where its records are damaged."""
    facts = facts_of(workshop, name, prepared)
    rules = facts.rules
    heads = workshop.records.heads(name)
    return {
        "order": name,
        "state": facts.state,
        "edition": facts.edition,
        "fingerprint": heads[-1]["fingerprint"] if heads else "",
        "link": link_of(workshop, name) if rules.has_link else "",
        "next": facts.step if prepared or rules.closed else _mend(workshop, name),
        "words": list(facts.words),
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


def order_names(workshop: Workshop) -> list[str]:
    """Every order of the folder and of the records."""
    return sorted({*workshop.shop.orders, *workshop.records.orders()})


def standings(workshop: Workshop) -> OrdersDocument:
    """Every order of the folder and of the records (schema proofgen/orders/1)."""
    rows: list[StandingEntry] = []
    for name in order_names(workshop):
        prepared = None
        if name in workshop.shop.orders:
            try:
                prepared = prepare(workshop, workshop.shop.orders[name])
            except ProofgenError as error:
                workshop.trouble.append(error)
        row = known_standing(workshop, name, prepared)
        rows += [row] if row else []
    return reports.orders_document(rows)
