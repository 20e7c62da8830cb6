"""Runs checks over an order and turns what they remark into findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from proofgen.checks.frame import Check, Remark, T
from proofgen.checks.listed import CHECKS
from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import STATUSES, Acceptance, Finding, Limits, beyond
from proofgen.say import pieces, plural, sentences


@dataclass(slots=True)
class _Group:
    """The same sentence about several pieces, on its way to being one finding."""

    remark: Remark
    spot: Spot
    pieces: set[int]
    about: set[str]
    texts: set[str]
    where: list[str]


def run(given: CheckInput, accepted: Mapping[str, Acceptance]) -> list[Finding]:
    """All findings of an order, worst first; `accepted` are those let through, by their keys."""
    findings = _told_apart(f for one in CHECKS.values() for f in run_check(one, given))
    return worst_first(
        accepted[f.key].of(f) if f.status != "pass" and f.key in accepted else f for f in findings
    )


def run_check(one: Check[T], given: CheckInput) -> list[Finding]:
    """The findings of one check; at least one, a `pass` when it has nothing to say."""
    try:
        pairs = list(one.over(given))
    except Exception as error:
        return [_broken(one, Spot(where=str(given.order.place)), error)]
    return run_over(one, pairs, given.limits)


def run_over(one: Check[T], pairs: Iterable[tuple[Spot, T]], limits: Limits) -> list[Finding]:
    """The findings of one check over the given things."""
    groups: dict[tuple[object, ...], _Group] = {}
    broken: list[Finding] = []
    looked = False
    for spot, thing in pairs:
        looked = True
        try:
            for remark in one.look(thing, limits):
                if remark.code not in one.codes:
                    raise LookupError(f"the code {remark.code} is not documented")
                _gather(groups, remark, spot)
        except Exception as error:
            broken.append(_broken(one, spot, error))
    findings = _once(broken) + [_finding(one, group) for group in groups.values()]
    return findings or [
        Finding(
            check=one.id,
            code="pass" if looked else "not-needed",
            status="pass",
            says=f"{one.title}." if looked else f"{one.title}: nothing here to look at.",
        )
    ]


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """By status, what was accepted after what was not, then by line, piece and check."""
    return sorted(
        findings,
        key=lambda f: (
            STATUSES.index(f.status),
            bool(f.accepted),
            f.line or 0,
            f.piece or 0,
            f.check,
            f.code,
            f.about,
        ),
    )


def _gather(groups: dict[tuple[object, ...], _Group], remark: Remark, spot: Spot) -> None:
    line = remark.line or spot.line
    key = (remark.status, remark.code, remark.says, remark.cure, line, spot.face, spot.slot)
    group = groups.setdefault(key, _Group(remark, spot, set(), set(), set(), []))
    if _further(remark, group.remark):
        group.remark = remark
    group.pieces.update(spot.pieces)
    group.about.add(spot.about if remark.about is None else remark.about)
    group.texts.add(spot.text)
    where = spot.where if remark.where is None else remark.where
    if where not in group.where:
        group.where.append(where)


def _further(remark: Remark, other: Remark) -> bool:
    """Whether a measure lies further from its limit than that of the same sentence elsewhere."""
    here, there = beyond(remark.measure, remark.limit), beyond(other.measure, other.limit)
    return here is not None and there is not None and here > there


def _finding(one: Check[T], group: _Group) -> Finding:
    remark, spot = group.remark, group.spot
    numbers = tuple(sorted(group.pieces))
    # A sentence about every piece of the line needs no numbers.
    some = bool(numbers) and set(numbers) != set(spot.of_pieces)
    more = len(group.where) - 1
    says = sentences(remark.says, remark.furthest if len(group.texts) > 1 else "")
    return Finding(
        check=one.id,
        code=remark.code,
        status=remark.status,
        says=f"{pieces(numbers, capital=True)}: {says}" if some else says,
        where=group.where[0] + (f" and {plural(more, 'more place')}" if more else ""),
        measure=remark.measure,
        limit=remark.limit,
        cure=remark.cure,
        line=remark.line or spot.line,
        piece=numbers[0] if some and len(numbers) == 1 else None,
        face=spot.face,
        pieces=remark.pieces or numbers,
        some=some or bool(remark.pieces),
        text=remark.text or (next(iter(group.texts)) if len(group.texts) == 1 else ""),
        # Many texts with one fault: it lies in the design.
        about=next(iter(group.about)) if len(group.about) == 1 else spot.slot,
    )


def _broken(one: Check[T], spot: Spot, error: Exception) -> Finding:
    """A fault of the check itself. Only the kind of error is told: its text may name paths."""
    return Finding(
        check=one.id,
        code="broken",
        status="broken",
        says=f"The check “{one.id}” failed here ({type(error).__name__}), so nobody looked at: "
        f"{one.title[0].lower()}{one.title[1:]}. That is a fault of the check, not of the order.",
        where=spot.where,
        cure="Look at this by eye, and report the fault with the order’s file.",
        line=spot.line,
        face=spot.face,
        pieces=spot.pieces,
        about=spot.slot,
    )


def _once(broken: Iterable[Finding]) -> list[Finding]:
    """Broken findings that differ in the pieces alone, as one."""
    kept: dict[str, Finding] = {}
    for finding in broken:
        first = kept.setdefault(finding.key, finding)
        if first is not finding:
            kept[finding.key] = replace(
                first, pieces=tuple(sorted({*first.pieces, *finding.pieces}))
            )
    return list(kept.values())


def _told_apart(findings: Iterable[Finding]) -> list[Finding]:
    """No two findings with one key, or a reason given for one would let both through."""
    seen: dict[str, int] = {}
    apart = []
    for finding in findings:
        if finding.status != "pass":
            many = seen[finding.key] = seen.get(finding.key, 0) + 1
            if many > 1:
                finding = replace(finding, about=f"{finding.about}+{many}".lstrip("+"))
        apart.append(finding)
    return apart
