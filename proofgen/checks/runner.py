"""Runs checks over an order or a bare photo and turns what they say into findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from proofgen.checks import phrases
from proofgen.checks.registry import CHECKS, Check, Said
from proofgen.checks.subjects import CheckInput, Subject
from proofgen.model import STATUSES, Finding, beyond


@dataclass(slots=True)
class _Group:
    """The same sentence about several pieces, on its way to being one finding."""

    said: Said
    subject: Subject
    pieces: set[int]
    about: set[str]
    where: list[str]


def run(given: CheckInput, accepted: Mapping[str, str]) -> list[Finding]:
    """All findings of an order, worst first; `accepted` maps a finding's key to a reason."""
    found = [f for one in CHECKS.values() for f in run_check(one, given)]
    found = [
        replace(f, accepted=accepted[f.key]) if f.status != "pass" and f.key in accepted else f
        for f in _told_apart(found)
    ]
    return worst_first(found)


def run_check(one: Check, given: CheckInput) -> list[Finding]:
    """The findings of one check; at least one, a `pass` when it has nothing to say."""
    try:
        subjects = list(one.over(given))
    except Exception as error:
        return [_broken(one, Subject(where=str(given.order.place)), error)]
    return run_over(one, subjects)


def run_over(one: Check, subjects: Iterable[Any]) -> list[Finding]:
    """The findings of one check over the given subjects."""
    groups: dict[tuple[object, ...], _Group] = {}
    broken: list[Finding] = []
    looked = False
    for subject in subjects:
        looked = True
        try:
            for said in one.look(subject):
                if said.code not in one.codes:
                    raise LookupError(f"the code {said.code} is not documented")
                _gather(groups, said, subject)
        except Exception as error:
            broken.append(_broken(one, subject, error))
    found = _once(broken) + [_finding(one, group) for group in groups.values()]
    return found or [
        Finding(
            check=one.id,
            code="pass" if looked else "not-needed",
            status="pass",
            says=f"{one.title}." if looked else f"{one.title}: nothing here to look at.",
        )
    ]


def worst_first(found: Iterable[Finding]) -> list[Finding]:
    """By status, what was accepted after what was not, then by line, piece and check."""
    return sorted(
        found,
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


def _gather(groups: dict[tuple[object, ...], _Group], said: Said, subject: Subject) -> None:
    key = (said.status, said.code, said.says, said.cure, subject.line, subject.face, subject.slot)
    group = groups.setdefault(key, _Group(said, subject, set(), set(), []))
    if _further(said, group.said):
        group.said = said
    group.pieces.update(subject.pieces if said.pieces is None else said.pieces)
    group.about.add(subject.about if said.about is None else said.about)
    where = subject.where if said.where is None else said.where
    if where not in group.where:
        group.where.append(where)


def _further(said: Said, other: Said) -> bool:
    """Whether a measure lies further from its limit than that of the same sentence elsewhere."""
    here, there = beyond(said.measure, said.limit), beyond(other.measure, other.limit)
    return here is not None and there is not None and here > there


def _finding(one: Check, group: _Group) -> Finding:
    said, subject = group.said, group.subject
    numbers = tuple(sorted(group.pieces))
    # A sentence about every piece of the line needs no numbers.
    some = bool(numbers) and set(numbers) != set(subject.of_pieces)
    # Many texts with one fault: it lies in the design.
    about = next(iter(group.about)) if len(group.about) == 1 else subject.slot
    more = len(group.where) - 1
    return Finding(
        check=one.id,
        code=said.code,
        status=said.status,
        says=f"{phrases.pieces(numbers)}: {said.says}" if some else said.says,
        where=group.where[0] + (f" and {phrases.plural(more, 'more place')}" if more else ""),
        measure=said.measure,
        limit=said.limit,
        cure=said.cure,
        line=subject.line,
        piece=numbers[0] if some and len(numbers) == 1 else None,
        face=subject.face,
        pieces=numbers,
        about=about,
    )


def _broken(one: Check, subject: Subject, error: Exception) -> Finding:
    """A fault of the check itself. Only the kind of error is told: its text may name paths."""
    return Finding(
        check=one.id,
        code="broken",
        status="broken",
        says=f"The check “{one.id}” failed here ({type(error).__name__}), so nobody looked at: "
        f"{one.title[0].lower()}{one.title[1:]}. That is a fault of the check, not of the order.",
        where=subject.where,
        cure="Look at this by eye, and report the fault with the order’s file.",
        line=subject.line,
        face=subject.face,
        pieces=subject.pieces,
        about=subject.slot,
    )


def _once(found: list[Finding]) -> list[Finding]:
    """Broken findings that differ in the pieces alone, as one."""
    kept: dict[str, Finding] = {}
    for finding in found:
        first = kept.setdefault(finding.key, finding)
        if first is not finding:
            kept[finding.key] = replace(
                first, pieces=tuple(sorted({*first.pieces, *finding.pieces}))
            )
    return list(kept.values())


def _told_apart(found: list[Finding]) -> list[Finding]:
    """No two findings with one key, or a reason given for one would let both through."""
    seen: dict[str, int] = {}
    apart = []
    for finding in found:
        if finding.status == "pass":
            apart.append(finding)
            continue
        many = seen[finding.key] = seen.get(finding.key, 0) + 1
        if many > 1:
            finding = replace(finding, about=f"{finding.about}+{many}".lstrip("+"))
        apart.append(finding)
    return apart
