"""The one place that prints: results to stdout, the rest to stderr. Nothing steers the terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Protocol, TypeVar

from proofgen.errors import MachineError, ProofgenError
from proofgen.say.safe import for_json, for_terminal

if TYPE_CHECKING:
    from proofgen.workshop import Workshop

Made = TypeVar("Made")


class Hears(Protocol):
    """Who keeps what a command says."""

    def hears(self, stream: str, text: str) -> None: ...

    def spoiled(self) -> None: ...

    def of(self, workshop: Workshop) -> None: ...

    def has_written(self) -> None: ...

    def says_next(self, lines: Sequence[str]) -> None: ...


_listener: Hears | None = None


def heard_by(listener: Hears | None) -> None:
    """From now on what is printed, but for progress, is kept by this one, or by nobody."""
    global _listener
    _listener = listener


def said_in(workshop: Workshop) -> None:
    """What is printed is said of this shop as it stands today."""
    if _listener:
        _listener.of(workshop)


def all_is_written() -> None:
    """What this run leaves in the shop is there now, while it still holds the shop."""
    if _listener:
        _listener.has_written()


def next_time(lines: Sequence[str]) -> None:
    """The results that the same command gives where all stays as this run leaves it."""
    if _listener:
        _listener.says_next([for_terminal(line) for line in lines])


def not_again() -> None:
    """What is printed is not to be said again: this machine lacks something, or somebody was
    asked."""
    if _listener:
        _listener.spoiled()


def _print(text: str, stream: str = "stdout") -> None:
    if _listener:
        _listener.hears(stream, text)
    print(text, file=sys.stderr if stream == "stderr" else sys.stdout, flush=stream == "stderr")


def result(text: str) -> None:
    """Sentences of any origin."""
    _print(for_terminal(text))


def as_it_is(text: str) -> None:
    """What was made safe where it was written: a report with its colours, a letter."""
    _print(text)


def document(value: object) -> None:
    """The one JSON document of `--json`."""
    _print(for_json(value))


def either(value: Made, text: Callable[[Made], str], *, as_json: bool) -> None:
    """What a command found: as its JSON document, or as `text` says it to people."""
    if as_json:
        document(value)
    else:
        result(text(value))


def aside(sentence: str) -> None:
    _print(for_terminal(sentence), "stderr")


def passing(sentence: str) -> None:
    """What is being done just now."""
    print(for_terminal(sentence), file=sys.stderr, flush=True)


def faults(gathered: Sequence[ProofgenError]) -> None:
    """Every fault of a run, once."""
    if any(isinstance(fault, MachineError) for fault in gathered):
        not_again()
    for sentence in dict.fromkeys(fault.sentence() for fault in gathered):
        aside(sentence)


def wants_colour() -> bool:
    """https://no-color.org: any value of NO_COLOR switches colour off."""
    return bool(sys.stdout) and sys.stdout.isatty() and not os.environ.get("NO_COLOR")
