"""Prints what the rows of the calibration tell, group by group, and what a stronger spoil tells
less of."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tests.bench.photo_rows import HOLES, LOOKS, Row, Seen, about_looks, rows
from tests.bench.photo_set import GROUPS

_CAME = ("as it came", "any part of it")
_RANK = {"note": 1, "warn": 2, "stop": 3}
_WARN = ("warn", "stop")
_TOLD = ("warn", "stop", "note")


def _checks_of(label: str) -> tuple[str, ...]:
    if label in _CAME:
        return LOOKS
    return ("readable",) if label in HOLES else rows()[label].checks


def _status(seen: Seen, checks: Sequence[str]) -> str:
    """The worst that any of these checks says of a picture."""
    said = [seen.said[check][0] for check in checks if check in seen.said]
    return max(said, key=lambda status: _RANK.get(status, 0), default="")


def _line(label: str, what: str, some: Sequence[Seen], checks: Sequence[str]) -> str:
    """Of each group the shares that warn, and that are told at all, '95.0 % 100.0 % of 40'."""
    told = []
    for name in GROUPS:
        worst = [_status(seen, checks) for seen in some if seen.whose == name]
        warn, any_ = (sum(w in kind for w in worst) for kind in (_WARN, _TOLD))
        share = 100 / max(len(worst), 1)
        told.append(
            f"{share * warn:5.1f} % {share * any_:5.1f} % of {len(worst):4d}" if worst else "-"
        )
    return f"{label:38} {what:14}" + "".join(f"{one:>26}" for one in told)


def _lines(label: str, some: list[Seen], checks: tuple[str, ...]) -> Iterator[str]:
    for check in checks:
        yield _line(label, check, some, (check,))
    if len(checks) > 1:
        yield _line(label, "any of these", some, checks)


def table(all_seen: list[Seen]) -> Iterator[str]:
    """The printed lines: shares of each row, those poor by eye, false warnings, broken ladders."""
    by: dict[str, list[Seen]] = defaultdict(list)
    for seen in all_seen:
        by[seen.label].append(seen)
        if seen.label.startswith("x") and "lanczos" not in seen.label:
            after = ", then JPEG 90" if "JPEG" in seen.label else ""
            by[f"all enlarged but lanczos{after}"].append(seen)
    poor = by.pop("poor by eye", [])
    heads = (f"{name}: warn, told" for name in GROUPS)
    yield " " * 53 + "".join(f"{head:>26}" for head in heads)
    for label, some in by.items():
        checks = ("enlarged",) if label.startswith("all ") else _checks_of(label)
        yield from _lines(label, some, checks)
    if poor:
        yield from _poor(poor)
    yield from _false(all_seen)
    yield from broken_ladders(all_seen)


def _poor(some: list[Seen]) -> Iterator[str]:
    """Of each photo that looks poor by eye, whether any of its prints is told of, and by what."""
    by: dict[tuple[str, str], list[Seen]] = defaultdict(list)
    for seen in some:
        by[seen.whose, seen.name].append(seen)
    for whose in GROUPS:
        told = {}
        for (group, name), prints in by.items():
            if group == whose:
                found = [about_looks(seen.said) for seen in prints]
                told[name] = sorted(
                    {f"{c}: {v[1]} ({v[0]})" for one in found for c, v in one.items()}
                )
        if told:
            hits = sum(map(bool, told.values()))
            yield f"poor by eye, as it came, {whose}: told {hits} of {len(told)} photos"
            for name, words in told.items():
                yield f"    {name:24} {'; '.join(words) or 'nothing'}"


def _false(all_seen: list[Seen]) -> Iterator[str]:
    """Every warning of a good photo as it came, and the notes counted by code."""
    notes: Counter[str] = Counter()
    for seen in all_seen:
        if seen.label not in (*_CAME, "untouched, as PNG") and not seen.label.startswith("sharp"):
            continue
        asked = LOOKS if seen.label in _CAME else _checks_of(seen.label)
        for check in asked:
            status, code = seen.said.get(check, ("", ""))
            if status in _WARN:
                yield f"warns of {seen.name} ({seen.whose}), {seen.label}: {check} {code}, " + str(
                    seen.measures
                )
            elif status == "note":
                notes[f"{seen.label}, {seen.whose}: {check} {code}"] += 1
    for what, number in sorted(notes.items()):
        yield f"notes: {number:3d} {what}"


def broken_ladders(all_seen: list[Seen]) -> list[str]:
    """Where a spoil made stronger is told less: of all, and of single pictures."""
    ladders: dict[str, list[Row]] = defaultdict(list)
    for row in rows().values():
        if row.ladder:
            ladders[row.ladder].append(row)
    by: dict[str, dict[tuple[str, str, int], Seen]] = defaultdict(dict)
    for seen in all_seen:
        by[seen.label][seen.whose, seen.name, seen.place] = seen
    out = []
    for ladder in ladders.values():
        steps = sorted(ladder, key=lambda row: row.strength)
        for weak, strong in pairwise(steps):
            both = by[weak.label].keys() & by[strong.label].keys()
            for whose in GROUPS:
                keys = sorted(key for key in both if key[0] == whose)
                out += _broken_step(weak, strong, whose, keys, by)
    return out


def _broken_step(
    weak: Row,
    strong: Row,
    whose: str,
    keys: list[tuple[str, str, int]],
    by: dict[str, dict[tuple[str, str, int], Seen]],
) -> list[str]:
    """One step of a ladder: counts of the same pictures, and which of them are told less."""
    pairs = [
        [_RANK.get(_status(by[row.label][key], row.checks), 0) for row in (weak, strong)]
        for key in keys
    ]
    less = [f"{key[1]}, print {key[2]}" for key, (a, b) in zip(keys, pairs, strict=True) if b < a]
    counts = [[sum(pair[i] >= rank for pair in pairs) for i in (0, 1)] for rank in (2, 1)]
    step = f"{weak.label} -> {strong.label}, {whose}"
    told = [
        f"BREAK of a ladder: {step}: {kind} {first} -> {then} of {len(pairs)}"
        for kind, (first, then) in zip(("warn", "told"), counts, strict=True)
        if then < first
    ]
    return told + ([f"    told less: {step}: {len(less)}: {'; '.join(less[:6])}"] if less else [])
