"""The findings document: what a program reads, and every rendering is made from."""

from __future__ import annotations

from typing import Any

from proofgen.model import STATUSES, OrderFindings

SCHEMA = "proofgen/findings/1"


def findings_document(orders: list[OrderFindings]) -> dict[str, Any]:
    """JSON-able: schema, worst status of all orders (accepted ones aside), findings per order."""
    return {
        "schema": SCHEMA,
        "worst": min((o.worst for o in orders), key=STATUSES.index, default="pass"),
        "orders": [
            {
                "order": one.order,
                "edition": one.edition,
                "findings": [finding.as_json() for finding in one.findings],
            }
            for one in orders
        ],
    }
