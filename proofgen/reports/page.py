"""The findings as a page for the maker: by order, worst first, each photo's print beside it."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from proofgen.model import BLOCKING, STATUSES, Finding, OrderFindings, measure_text
from proofgen.render import Theme
from proofgen.reports.findings import tally
from proofgen.reports.lines import STYLES
from proofgen.say.local import say_number

_MARK = 5  # mm between two marks of the ruler
# What stands before a finding: its symbol in the terminal, and a word that needs no legend.
_WORDS = {
    "stop": "Stop",
    "broken": "Broken check",
    "warn": "Warning",
    "skipped": "Not looked at",
    "note": "Note",
    "accepted": "Accepted",
    "pass": "Passed",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """A part of a photo as it is printed: a JPEG, its real size in mm and what it shows."""

    jpeg: bytes
    width_mm: float
    height_mm: float
    alt: str
    caption: str = ""


# Order, line and the photo's slot with its digits (a finding's `about`) to its print.
Prints = Mapping[tuple[str, int, str], Print]


def _print(one: Print, theme: Theme) -> dict[str, Any]:
    width, height = say_number(one.width_mm, theme.language, 0), theme.mm(one.height_mm, 0)
    return {
        "href": f"data:image/jpeg;base64,{base64.b64encode(one.jpeg).decode()}",
        "alt": one.alt,
        "width_mm": round(one.width_mm, 2),
        "height_mm": round(one.height_mm, 2),
        "marks": list(range(0, int(one.width_mm) + 1, _MARK)),
        "caption": one.caption or f"{width} × {height}, at its real size",
    }


def _shown(order: str, finding: Finding) -> dict[str, Any]:
    kind = "accepted" if finding.accepted else finding.status
    facts = [finding.check, finding.code]
    facts += [f"measure {measure_text(finding.measure)}"] if finding.measure is not None else []
    facts += [f"limit {measure_text(finding.limit)}"] if finding.limit is not None else []
    return {
        "kind": kind,
        "word": _WORDS[kind],
        "symbol": STYLES[finding.status][0],
        "says": finding.says,
        "cure": finding.cure,
        "accepted": finding.accepted,
        "where": finding.where,
        "facts": " · ".join(facts),
        "accept": f"proofgen check {order} --accept {finding.key} --because “…”"
        if finding.status in BLOCKING and not finding.accepted
        else "",
    }


def _groups(one: OrderFindings, prints: Prints, theme: Theme) -> list[dict[str, Any]]:
    """Findings in their order; those about one photo stand together beside its print."""
    groups: dict[object, dict[str, Any]] = {}
    for number, finding in enumerate(one.findings):
        if finding.status == "pass":
            continue
        key = (one.order, finding.line or 0, finding.about)
        picture = prints.get(key)
        group = groups.setdefault(
            key if picture else number,
            {"picture": _print(picture, theme) if picture else None, "findings": []},
        )
        group["findings"].append(_shown(one.order, finding))
    return list(groups.values())


def _rank(one: OrderFindings) -> tuple[int, int, int, str]:
    many = sum(f.status == one.worst and not f.accepted for f in one.findings)
    let_through = sum(bool(f.accepted) for f in one.findings)
    return STATUSES.index(one.worst), -let_through, -many, one.order


def _summary(orders: list[OrderFindings]) -> str:
    if not orders:
        return "There is no open order to look at."
    stopped = sum(one.worst in BLOCKING for one in orders)
    warned = sum(one.worst == "warn" for one in orders)
    clean = len(orders) - stopped - warned
    told = [f"{stopped} {'is' if stopped == 1 else 'are'} stopped"] if stopped else []
    told += [f"{warned} {'asks' if warned == 1 else 'ask'} for a look"] if warned else []
    told += [f"{clean} {'is' if clean == 1 else 'are'} in order"] if clean else []
    head = f"{len(orders)} {'order' if len(orders) == 1 else 'orders'}"
    return f"{head}: {', '.join(told)}."


def findings_page(
    orders: list[OrderFindings],
    prints: Prints,
    theme: Theme,
    *,
    shop_name: str,
    day: date,
    demo: bool = False,
) -> str:
    """One HTML page with everything inside; it loads nothing. For the maker: never upload it."""
    shown = [
        {
            "name": one.order,
            "edition": one.edition,
            "worst": one.worst,
            "word": _WORDS[one.worst],
            "symbol": STYLES[one.worst][0],
            "tally": tally(one.findings),
            "groups": _groups(one, prints, theme),
            "passed": [f.says for f in one.findings if f.status == "pass"],
        }
        for one in sorted(orders, key=_rank)
    ]
    return theme.render(
        "findings.html",
        styles=("base", "findings"),
        private=True,
        shop_name=shop_name,
        day=day,
        demo=demo,
        summary=_summary(orders),
        orders=shown,
    )
