"""Where each order stands, and the one next step."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from proofgen import reports
from proofgen.errors import ProofgenError, SignoffError
from proofgen.model import OrderFindings
from proofgen.model.documents import OrdersDocument, StandingEntry
from proofgen.pipeline.changing import with_its_lines
from proofgen.pipeline.preflight import Prepared, prepare
from proofgen.pipeline.renaming import may_be_now
from proofgen.pipeline.surroundings import surroundings
from proofgen.pipeline.terms import both_terms, late_stops
from proofgen.pipeline.tickets import as_it_lies, has_sheets
from proofgen.say import joined
from proofgen.signoff import (
    Earlier,
    EventKind,
    Notice,
    OrderFacts,
    Rules,
    State,
    came_with,
    changes,
    in_words,
    press_changes,
    read_facts,
    spoiled_since,
    terms_changes,
)
from proofgen.workshop import Workshop

_UNREAD = (
    "It cannot be worked out here now, so nothing tells whether it is still what proof {edition} "
    "shows."
)


def link_of(workshop: Workshop, order: str) -> str:
    """Address of an order's private page, or where it lies in the folder when there is no site."""
    return address_of(workshop, workshop.records.token(order))


def address_of(workshop: Workshop, token: str | None) -> str:
    """The same of the page with this secret end; '' without one."""
    if not token:
        return ""
    base = workshop.shop.settings.site.rstrip("/")
    return f"{base}/p/{token}/" if base else f"site/p/{token}/index.html"


def to_clear(workshop: Workshop, name: str, rules: Rules) -> str:
    """The folder of an order's page that shows no proof any more and may still do so where the site
    is; '' once it was noted as cleared there, and for a shop without a site."""
    token = ""
    if isinstance(rules.page, Notice) and workshop.shop.settings.site:
        token = workshop.records.page_to_clear(name)
    return f"site/p/{token}/" if token else ""


def facts_of(workshop: Workshop, name: str, prepared: Prepared | None) -> OrderFacts:
    """What the table of states asks about an order. `prepared` None: it cannot be read now, so
    that the records alone tell where it stands."""
    facts = replace(
        read_facts(workshop.records, name, workshop.today),
        is_own=name in workshop.shop.orders and workshop.shop.orders[name].is_own,
        has_stop=bool(prepared and prepared.stops),
        is_current=prepared is None or is_current(workshop, prepared),
    )
    if facts.said_yes:
        facts = replace(
            facts,
            has_sheets=bool(facts.rules.ready) and has_sheets(workshop, name, facts.edition),
            spoiled=spoiled_since(workshop.records, name, facts.edition),
        )
    return with_its_lines(workshop, facts) if facts.rules.names_file else facts


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
        meant = may_be_now(workshop, name)
        called = f" (perhaps it is {joined(meant[:3], 'or')} now)" if meant else ""
        return (
            f"Its folder orders/{name}/ is gone. If it was renamed{called}, give it its old name "
            "again, else put it back from a backup; or remove the rest as well: "
            f"proofgen forget {name}"
        )
    for fault in workshop.trouble:
        if fault.place and f"orders/{name}/" in fault.place.file:
            return f"Mend {fault.place}, then: proofgen check {name}"
    return f"See what keeps it from being read: proofgen check {name}"


# What the records note of an order that makes it somebody's turn.
_MOVES = frozenset({EventKind.SENT, EventKind.WROTE, EventKind.READ, EventKind.PRESSED})


def _waits_since(workshop: Workshop, facts: OrderFacts) -> date | None:
    """The day, at the shop, since which an order waits as it does now; None where nobody noted
    it."""
    if not facts.is_dated or not facts.waits_for:
        return None
    records, number = workshop.records, facts.edition
    moments = [datetime.fromisoformat(h["made"]) for h in records.heads(facts.order)[-1:]]
    moments += [e.when for e in records.events(facts.order) if e.kind in _MOVES]
    moments += [a.received for a in facts.answers if a.edition == number]
    zone = ZoneInfo(workshop.shop.settings.zone)
    last = max(when.astimezone(zone).date() for when in moments)
    run_out = facts.answer_by if not facts.answered else None
    return run_out if run_out and last < run_out < workshop.today else last


def forget_since(workshop: Workshop, facts: OrderFacts) -> date | None:
    """The day on which the shop's `keep:` ran out after the hand-over; None while it did not."""
    keep = workshop.shop.settings.keep_days
    if keep is None or facts.is_own or facts.rules.after is not EventKind.HANDED_OVER:
        return None
    zone = ZoneInfo(workshop.shop.settings.zone)
    handed = workshop.records.events(facts.order, EventKind.HANDED_OVER)
    over = handed[-1].when.astimezone(zone).date() + timedelta(days=keep)
    return over if over <= workshop.today else None


def standing(workshop: Workshop, name: str, prepared: Prepared | None) -> StandingEntry:
    """Where one order stands; as an earlier run found it, where nothing it hangs on changed.
    SignoffError where its records are damaged."""
    if prepared is None:  # then what is wrong with its folder tells the next step
        return _standing(workshop, name, prepared)
    return surroundings(workshop).kept(
        "order standing/4",
        name,
        lambda: _standing(workshop, name, prepared),
        json.loads,
        lambda row: json.dumps(row).encode(),  # its fields in their order, as they are printed
        beside=as_it_lies(workshop, name),
    )


def _standing(workshop: Workshop, name: str, prepared: Prepared | None) -> StandingEntry:
    facts = facts_of(workshop, name, prepared)
    rules = facts.rules
    heads = workshop.records.heads(name)
    open_one = prepared if prepared and not rules.closed else None
    both = both_terms(workshop, open_one) if open_one else None
    unread = prepared is None and bool(heads) and not rules.closed
    order = workshop.shop.orders.get(name)
    due, since = order.due if order else None, _waits_since(workshop, facts)
    forget = forget_since(workshop, facts)
    return {
        "order": name,
        "state": facts.state,
        "customer": order.customer.name if order else "",
        "due": due.isoformat() if due else None,
        "days_left": (due - workshop.today).days if due and facts.waits_for else None,
        "waits_for": facts.waits_for,
        "waits_since": since.isoformat() if since else None,
        "forget_since": forget.isoformat() if forget else None,
        "edition": facts.edition,
        "fingerprint": heads[-1]["fingerprint"] if heads else "",
        "link": link_of(workshop, name) if rules.has_link else "",
        "next": facts.step if prepared or rules.closed else _mend(workshop, name),
        "words": list(facts.words) if heads else remarks_of(workshop, name),
        "asked": [one.said for one in facts.asked],
        "earlier": [] if rules.closed else [one.said for one in earlier_in(workshop, facts)],
        "unmarked": facts.unmarked,
        "why": [_UNREAD.format(edition=facts.edition)] * unread
        + (why_not_current(workshop, open_one) if open_one and not facts.is_current else []),
        "told": terms_changes(*both) if both else [],
        "since": press_changes(*both) if both else [],
        "clear": to_clear(workshop, name, rules),
    }


def remarks_of(workshop: Workshop, name: str) -> list[str]:
    """What the customer wrote with the order, as long as no proof of it was made."""
    order = workshop.shop.orders.get(name)
    has_proof = bool(workshop.records.heads(name))
    return [*came_with(order.folder).remarks] if order and not has_proof else []


def with_remarks(workshop: Workshop, names: Sequence[str]) -> dict[str, list[str]]:
    """The same of those of the named orders, or of all, that may get their first proof and have
    one."""
    orders = workshop.shop.orders
    able = [one for one in names or orders if one in orders and not orders[one].draft]
    return {one: said for one in able if (said := remarks_of(workshop, one))}


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


_STATES = list(State)  # in the order an order goes through them


def rank(row: StandingEntry, by: str) -> tuple[Any, ...]:
    """Where a row stands: by its day what is open comes first, and what has no day last of it."""
    due = (not row["waits_for"], row["due"] is None, row["due"], row["order"])
    if by == "state":
        return (_STATES.index(State(row["state"])), *due)
    return (row["order"],) if by == "name" else due


def standings(workshop: Workshop, known: Mapping[str, Prepared], by: str = "due") -> OrdersDocument:
    """Every order of the folder and of the records (schema proofgen/orders/1), sorted by "due",
    "name" or "state"; `known` are those that could be worked out."""
    rows = [known_standing(workshop, name, known.get(name)) for name in order_names(workshop)]
    return reports.orders_document(sorted((r for r in rows if r), key=lambda r: rank(r, by)))


def standing_of_one(workshop: Workshop, name: str) -> OrdersDocument:
    """The same of one order; nothing else that is wrong in the folder is told. UsageError where
    neither folder nor records know it, SignoffError where its records are damaged."""
    mine = [f for f in workshop.trouble if f.place and f"orders/{name}/" in f.place.file]
    if name not in workshop.shop.orders and name not in workshop.records.orders():
        workshop.order(name)  # says which name is near, or what is wrong with its file
    workshop.trouble[:] = mine
    prepared = None
    if name in workshop.shop.orders:
        try:
            prepared = prepare(workshop, workshop.shop.orders[name])
        except ProofgenError as error:
            workshop.trouble.append(error)
    return reports.orders_document([standing(workshop, name, prepared)])


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
                next=row["next"] if row else "",
            )
        )
    return found
