"""The findings as a page for the maker: by order, worst first, each photo's print beside it."""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypedDict

from markupsafe import Markup

from proofgen.model import BLOCKING, STATUSES, Finding, OrderFindings, Status, measure_text
from proofgen.model.called import short_names, to_accept
from proofgen.render import AtRealSize, Theme
from proofgen.reports.findings import tally, told_once
from proofgen.reports.lines import STYLES
from proofgen.say import plural
from proofgen.say.local import say_number

# What stands before a finding: its symbol in the terminal, and a word that needs no legend.
WORDS = {
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


def _at_real_size(one: Print, theme: Theme) -> AtRealSize:
    width, height = say_number(one.width_mm, theme.language, 0), theme.mm(one.height_mm, 0)
    return AtRealSize(
        href=f"data:image/jpeg;base64,{base64.b64encode(one.jpeg).decode()}",
        alt=one.alt,
        width_mm=round(one.width_mm, 2),
        height_mm=round(one.height_mm, 2),
        caption=one.caption or f"{width} × {height}, at its real size",
    )


@dataclass(frozen=True, slots=True)
class _Group:
    """Findings that stand together, beside the print they speak of."""

    picture: AtRealSize | None
    findings: list[FindingShown]


class FindingShown(TypedDict):
    """A finding as the maker's pages tell it; `accept` is the command that lets it through."""

    kind: str
    word: str
    symbol: str
    says: str
    cure: str
    accepted: str
    where: str
    facts: str
    accept: str


def finding_shown(order: str, finding: Finding, called: Mapping[str, str]) -> FindingShown:
    """A finding in the words and symbols of a page; `called` has its order's `short_names`."""
    kind = "accepted" if finding.accepted else finding.status
    facts = [finding.check, finding.code]
    facts += [f"measure {measure_text(finding.measure)}"] if finding.measure is not None else []
    facts += [f"limit {measure_text(finding.limit)}"] if finding.limit is not None else []
    return {
        "kind": kind,
        "word": WORDS[kind],
        "symbol": STYLES[finding.status][0],
        "says": finding.says,
        "cure": finding.cure,
        "accepted": finding.accepted,
        "where": finding.where,
        "facts": " · ".join(facts),
        "accept": to_accept(order, called.get(finding.key, "")),
    }


def _groups(one: OrderFindings, prints: Prints, theme: Theme) -> list[_Group]:
    """Findings in their order; those about one photo stand together beside its print."""
    groups: dict[object, _Group] = {}
    called = short_names(one.findings)
    for number, finding in enumerate(told_once(one.findings)):
        if finding.status == "pass":
            continue
        key = (one.order, finding.line or 0, finding.about)
        picture = prints.get(key)
        group = groups.setdefault(
            key if picture else number,
            _Group(_at_real_size(picture, theme) if picture else None, []),
        )
        group.findings.append(finding_shown(one.order, finding, called))
    return list(groups.values())


class OrderTold(TypedDict):
    """An order on the page: where it stands among others, its line in the contents, its part."""

    name: str
    worst: Status
    rank: list[int]
    word: str
    symbol: str
    tally: str
    html: str


def order_told(one: OrderFindings, prints: Prints, theme: Theme) -> OrderTold:
    """An order as the page tells it; the same for the same findings, prints and theme."""
    many = sum(f.status == one.worst and not f.accepted for f in one.findings)
    let_through = sum(bool(f.accepted) for f in one.findings)
    told = tally(told_once(one.findings))
    html = theme.render(
        "findings-order.html",
        styles=(),
        order={
            "name": one.order,
            "edition": one.edition,
            "tally": told,
            "groups": _groups(one, prints, theme),
            "passed": [f.says for f in one.findings if f.status == "pass"],
        },
    )
    return {
        "name": one.order,
        "worst": one.worst,
        "rank": [STATUSES.index(one.worst), -let_through, -many],
        "word": WORDS[one.worst],
        "symbol": STYLES[one.worst][0],
        "tally": told,
        "html": html.removesuffix("\n"),
    }


def _summary(orders: Sequence[OrderTold]) -> str:
    if not orders:
        return "There is no open order to look at."
    stopped = sum(one["worst"] in BLOCKING for one in orders)
    warned = sum(one["worst"] == "warn" for one in orders)
    clean = len(orders) - stopped - warned
    parts = [plural(stopped, "is stopped", "are stopped")] if stopped else []
    parts += [plural(warned, "asks for a look", "ask for a look")] if warned else []
    parts += [plural(clean, "is in order", "are in order")] if clean else []
    return f"{plural(len(orders), 'order')}: {', '.join(parts)}."


def findings_page(
    orders: Sequence[OrderTold], theme: Theme, *, shop_name: str, day: date, demo: bool = False
) -> str:
    """One HTML page with everything inside; it loads nothing. For the maker: never upload it."""
    return theme.render(
        "findings.html",
        styles=("base", "findings"),
        private=True,
        shop_name=shop_name,
        day=day,
        demo=demo,
        summary=_summary(orders),
        orders=[
            {**one, "html": Markup(one["html"])}
            for one in sorted(orders, key=lambda one: (one["rank"], one["name"]))
        ],
    )
