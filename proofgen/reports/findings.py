"""Findings in a terminal: grouped by order, worst first."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from proofgen.model import STATUSES, Finding, OrderFindings, blocks, measure_text
from proofgen.model.called import short_names, to_accept
from proofgen.reports.lines import STYLES, coloured, since_lines, wrapped
from proofgen.say import plural, visible

_INDENT = " " * 12
_COUNTED = {
    "stop": ("stop", "stops"),
    "broken": ("broken check", "broken checks"),
    "warn": ("warning", "warnings"),
    "skipped": ("skipped", "skipped"),
    "note": ("note", "notes"),
    "pass": ("passed", "passed"),
}


def terminal(orders: list[OrderFindings], *, colour: bool, verbose: bool) -> str:
    """All findings as text without a final line break, the orders that stand still first. Passes
    are only counted unless `verbose`, and what was skipped in the same words in several orders is
    told once."""
    shared = {} if verbose else _skipped_alike(orders)
    sorted_orders = sorted(orders, key=lambda one: not blocks(one.findings))
    parts = [_order(one, colour, verbose, frozenset(shared)) for one in sorted_orders]
    if shared:
        told = [line for one in shared.values() for line in _finding(one, colour, verbose)]
        parts.append("\n".join([coloured("Of several orders:", "1", colour), *told]))
    if any(blocks(one.findings) for one in orders):
        parts.append(_HOW_TO_GO_ON)
    if step := _next(orders):
        parts.append("\n".join(wrapped(f"Next: {step}", "    ")))
    return "\n\n".join(parts)


def _next(orders: list[OrderFindings]) -> str:
    """The one thing to do now; '' where nobody knows any."""
    stopped = [visible(one.order) for one in orders if blocks(one.findings)]
    if len(orders) == 1:
        return f"Mend it, then: proofgen check {stopped[0]}" if stopped else orders[0].next
    if stopped:
        return "Mend what is stopped, then: proofgen check"
    return "See what each of them waits for: proofgen orders" if orders else ""


_HOW_TO_GO_ON = """\
A stop keeps proof and press shut. Mend it, or let it through with a reason, which the
proof shows to the customer where it is about what they sign."""


def _words(finding: Finding) -> tuple[str, ...]:
    return (finding.check, finding.code, finding.says, finding.cure)


def _skipped_alike(orders: list[OrderFindings]) -> dict[tuple[str, ...], Finding]:
    """What was skipped in the same words in several orders, once, by these words."""
    where: dict[tuple[str, ...], list[Finding]] = {}
    for one in orders:
        first = {_words(f): f for f in one.findings if f.status == "skipped" and not f.accepted}
        for words, finding in first.items():
            where.setdefault(words, []).append(finding)
    return {
        words: replace(found[0], where=f"In {plural(len(found), 'order')}")
        for words, found in where.items()
        if len(found) > 1
    }


def tally(findings: list[Finding]) -> str:
    """'1 stop, 2 warnings, 1 accepted, 30 passed'."""
    counts = Counter("accepted" if f.accepted else f.status for f in findings)
    parts = [
        f"{counts[status]} {_COUNTED[status][counts[status] != 1]}"
        for status in STATUSES
        if counts[status]
    ]
    if counts["accepted"]:
        parts.insert(-1 if counts["pass"] else len(parts), f"{counts['accepted']} accepted")
    return ", ".join(parts) or "nothing looked at"


def told_once(findings: list[Finding]) -> list[Finding]:
    """What is said of one photo, or of the same words, in the same words on several lines: once."""
    by_thing: dict[tuple[object, ...], list[Finding]] = {}
    for number, f in enumerate(findings):
        alike = (f.check, f.code, f.says, f.cure, f.accepted, f.face, f.about)
        by_thing.setdefault(alike if f.line and f.about else (number,), []).append(f)
    return [
        replace(first, where=f"{first.where} and {plural(len(more), 'more line')}")
        if more
        else first
        for first, *more in by_thing.values()
    ]


def _order(
    one: OrderFindings, colour: bool, verbose: bool, shared: frozenset[tuple[str, ...]]
) -> str:
    """One order; `shared` are the words of what is told once for several."""
    name = visible(one.order)
    title = f"{name}, proof {one.edition}" if one.edition else name
    findings = one.findings if verbose else told_once(one.findings)  # each has a key of its own
    lines = [f"{coloured(title, '1', colour)}: {tally(findings)}"]
    lines += since_lines(
        one.order, one.edition, why=one.why, told=one.told, since=one.since, indent="  "
    )
    called = short_names(one.findings)
    for finding in findings:
        if verbose or (finding.status != "pass" and not _shared(finding, shared)):
            accept = to_accept(name, called.get(finding.key, ""))
            lines += _finding(finding, colour, verbose, accept)
    if any(_asks_for_a_photo(finding) for finding in blocks(one.findings)):
        lines.append(f"  To ask the customer for a better photo: proofgen letter {name} --photo")
    return "\n".join(lines)


def _asks_for_a_photo(finding: Finding) -> bool:
    return finding.check.startswith("photo/") and finding.check != "photo/present"


def _shared(finding: Finding, shared: frozenset[tuple[str, ...]]) -> bool:
    return finding.status == "skipped" and _words(finding) in shared


def _finding(finding: Finding, colour: bool, verbose: bool, accept: str = "") -> list[str]:
    """Its lines; `accept` is the command that lets it through, which stays in one line."""
    symbol, code = STYLES[finding.status]
    head = coloured(f"  {symbol} {finding.status:<8}", code, colour)
    first, *rest = wrapped(finding.where or finding.check, _INDENT) or [_INDENT]
    lines = [f"{head}{first[len(_INDENT) :]}", *rest]
    lines += wrapped(finding.says, _INDENT)
    if finding.cure:
        lines += wrapped(finding.cure, _INDENT + "  ", _INDENT + "→ ")
    if accept:
        lines += [f"{_INDENT}Or let it through:", f"{_INDENT}  {accept}"]
    if finding.accepted:
        lines += wrapped(f"Accepted: {finding.accepted}", _INDENT)
    if verbose:
        lines += _details(finding, colour)
    return lines


def _details(finding: Finding, colour: bool) -> list[str]:
    facts = [f"{finding.check}, {finding.code}"]
    if finding.measure is not None:
        facts.append(f"measure {measure_text(finding.measure)}")
    if finding.limit is not None:
        facts.append(f"limit {measure_text(finding.limit)}")
    if finding.status != "pass":
        facts.append(f"key {finding.key}")
    return [coloured(line, "2", colour) for line in wrapped("; ".join(facts), _INDENT)]
