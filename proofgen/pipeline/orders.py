"""Where each order stands, and the one next step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from proofgen import reports
from proofgen.errors import ProofgenError, SignoffError
from proofgen.model import OrderFindings
from proofgen.model.documents import OrdersDocument, StandingEntry
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.terms import both_terms, late_stops
from proofgen.signoff import (
    Earlier,
    OrderFacts,
    changes,
    in_words,
    press_changes,
    read_facts,
    terms_changes,
)
from proofgen.workshop import Workshop

_UNREAD = (
    "It cannot be worked out here now, so nothing tells whether it is still what proof {edition} "
    "shows."
)


def link_of(workshop: Workshop, order: str) -> str:
    """Address of an order's private page, or where it lies in the folder when there is no site."""
    token = workshop.records.token(order)
    if not token:
        return ""
    base = workshop.shop.settings.site.rstrip("/")
    return f"{base}/p/{token}/" if base else f"site/p/{token}/index.html"


def facts_of(workshop: Workshop, name: str, prepared: Prepared | None) -> OrderFacts:
    """What the table of states asks about an order. `prepared` None: it cannot be read now, so
    that the records alone tell where it stands."""
    return replace(
        read_facts(workshop.records, name, workshop.today),
        has_stop=bool(prepared and prepared.stops),
        is_current=prepared is None or is_current(workshop, prepared),
    )


def is_current(workshop: Workshop, prepared: Prepared) -> bool:
    """Whether the folder holds what the latest edition shows, and nothing stopped it since."""
    name = prepared.order.id
    latest = workshop.records.latest(name)  # read, so that a damaged description is told
    if latest is None or workshop.records.heads(name)[-1]["document"] != prepared.digest:
        return False
    return not late_stops(workshop, prepared)


def earlier_in(workshop: Workshop, facts: OrderFacts) -> list[Earlier]:
    """What was said of an order's proof before the latest, and what that makes of it."""
    latest = workshop.records.latest(facts.order) if facts.has_earlier else None
    return facts.earlier(latest.document) if latest else []


def why_not_current(workshop: Workshop, prepared: Prepared) -> list[str]:
    """What keeps the folder from being what the latest edition shows, in whole sentences."""
    latest = workshop.records.latest(prepared.order.id)
    if latest is None:
        return []
    tongue = workshop.theme.tongue
    then, now = (in_words(d, workshop.shop) for d in (latest.document, prepared.document))
    return [*changes(then, now, tongue), *late_stops(workshop, prepared)]


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
    open_one = prepared if prepared and not rules.closed else None
    both = both_terms(workshop, open_one) if open_one else None
    unread = prepared is None and bool(heads) and not rules.closed
    return {
        "order": name,
        "state": facts.state,
        "edition": facts.edition,
        "fingerprint": heads[-1]["fingerprint"] if heads else "",
        "link": link_of(workshop, name) if rules.has_link else "",
        "next": facts.step if prepared or rules.closed else _mend(workshop, name),
        "words": list(facts.words),
        "asked": [one.said for one in facts.asked],
        "earlier": [] if rules.closed else [one.said for one in earlier_in(workshop, facts)],
        "why": [_UNREAD.format(edition=facts.edition)] * unread
        + (why_not_current(workshop, open_one) if open_one and not facts.is_current else []),
        "told": terms_changes(*both) if both else [],
        "since": press_changes(*both) if both else [],
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


def worked_out(workshop: Workshop) -> dict[str, Prepared]:
    """Every order of the folder that can be worked out now, by name; the rest is gathered."""
    known = {}
    for name, order in workshop.shop.orders.items():
        try:
            known[name] = prepare(workshop, order)
        except ProofgenError as error:
            workshop.trouble.append(error)
    return known


def standings(workshop: Workshop, known: Mapping[str, Prepared]) -> OrdersDocument:
    """Every order of the folder and of the records (schema proofgen/orders/1); `known` are those
    that could be worked out."""
    rows = [known_standing(workshop, name, known.get(name)) for name in order_names(workshop)]
    return reports.orders_document([row for row in rows if row])


def findings_of(workshop: Workshop, prepared: list[Prepared]) -> list[OrderFindings]:
    """The findings with the edition they speak of (0: no proof yet), and what differs from it."""
    found = []
    for one in prepared:
        row = known_standing(workshop, one.order.id, one)
        found.append(
            OrderFindings(
                order=one.order.id,
                edition=len(workshop.records.heads(one.order.id)),
                findings=one.findings,
                why=row["why"] if row else [],
                told=row["told"] if row else [],
                since=row["since"] if row else [],
            )
        )
    return found
