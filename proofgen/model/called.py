"""What a maker calls a finding: a short name that tells it from the others of its order."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Sequence

from proofgen.model.finding import Finding, blocks, may_be_let_through


def _names(finding: Finding) -> list[str]:
    """Every name a finding answers to, the shortest first: 'blur', 'blur-line-2',
    'blur-line-2-photo' …"""
    at = {"line": finding.line, "piece": finding.piece}
    numbered = [f"{word}-{number}" for word, number in at.items() if number]
    slot = finding.about.rpartition("-")[0]
    parts = [*numbered, finding.face or "", slot, finding.code, finding.about]
    more = list(dict.fromkeys(filter(None, parts)))
    return [
        "-".join([finding.check.rpartition("/")[2], *some])
        for count in range(len(more) + 1)
        for some in itertools.combinations(more, count)
    ]


def short_names(findings: Sequence[Finding]) -> dict[str, str]:
    """A short name for each that keeps proof and press shut and may be let through, by its key; it
    is told apart from these alone."""
    shut = filter(may_be_let_through, blocks(list(findings)))
    answers = {finding.key: _names(finding) for finding in shut}
    many = Counter(name for names in answers.values() for name in {*names})
    return {
        key: next((name for name in names if many[name] == 1), key)
        for key, names in answers.items()
    }


def findings_called(said: str, findings: Sequence[Finding]) -> list[Finding]:
    """Those meant by a key, else by a name, else by the beginning of a key, else by some words
    of their sentences, two at least; of all that fit so, those that keep proof and press
    shut if any do."""
    words = " ".join(said.casefold().split())
    ways = (
        lambda f: f.key == said,
        lambda f: words.replace(" ", "-") in map(str.casefold, _names(f)),
        lambda f: f.key.startswith(said),
        lambda f: " " in words and words in f.says.casefold(),
    )
    for way in ways:
        found = list(filter(way, findings))
        if found:
            return blocks(found) or found
    return []


def to_accept(order: str, name: str) -> str:
    """The command that lets a finding through; '' without a name of it."""
    return f'proofgen check {order} --accept {name} --because "…"' if name else ""
