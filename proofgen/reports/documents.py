"""The findings and orders documents: what a program reads, and every rendering is made from."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.model import STATUSES, OrderFindings
from proofgen.model.documents import (
    FindingsDocument,
    OrderFindingsEntry,
    OrdersDocument,
    StandingEntry,
)


def findings_document(orders: Sequence[OrderFindings]) -> FindingsDocument:
    """The worst status of all orders (accepted ones aside), and the findings of each."""
    return {
        "schema": "proofgen/findings/1",
        "worst": min((o.worst for o in orders), key=STATUSES.index, default="pass"),
        "orders": [*map(findings_entry, orders)],
    }


def findings_entry(one: OrderFindings) -> OrderFindingsEntry:
    """The findings of one order in that document."""
    return {
        "order": one.order,
        "edition": one.edition,
        "findings": [finding.as_json() for finding in one.findings],
        "why": one.why,
        "told": one.told,
        "since": one.since,
    }


def orders_document(standings: Sequence[StandingEntry]) -> OrdersDocument:
    """Where each order stands."""
    return {"schema": "proofgen/orders/1", "orders": list(standings)}
