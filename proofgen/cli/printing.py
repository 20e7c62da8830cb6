"""The one place that prints: results to stdout, the rest to stderr. Nothing steers the terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from proofgen.errors import ProofgenError
from proofgen.say.safe import for_json, for_terminal


def result(text: str) -> None:
    """Sentences of any origin."""
    print(for_terminal(text))


def as_it_is(text: str) -> None:
    """What was made safe where it was written: a report with its colours, a letter."""
    print(text)


def document(value: object) -> None:
    """The one JSON document of `--json`."""
    print(for_json(value))


def aside(sentence: str) -> None:
    print(for_terminal(sentence), file=sys.stderr, flush=True)


def faults(gathered: Sequence[ProofgenError]) -> None:
    """Every fault of a run, once."""
    for sentence in dict.fromkeys(fault.sentence() for fault in gathered):
        aside(sentence)


def wants_colour() -> bool:
    """https://no-color.org: any value of NO_COLOR switches colour off."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")
