"""What a command runs on: the open shop folder, questions to a person, progress."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext

from proofgen.cli.options import Given
from proofgen.cli.printing import aside
from proofgen.say.safe import for_terminal
from proofgen.workshop import Workshop, at_work, open_workshop, silent


def _answer(question: str) -> str:
    """What a person types after the question; empty at the end of the input."""
    print(for_terminal(question), end=" ", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip()


def ask() -> Callable[[str], str] | None:
    """How to ask the person who typed the command; None where a program did."""
    return _answer if sys.stdin.isatty() else None


def progress(given: Given) -> Callable[[str], None]:
    """What is told while a command works; nothing with --quiet."""
    return (lambda _: None) if given.quiet else (lambda step: aside(f"  {step} …"))


@contextmanager
def workshop_of(given: Given, *, writes: bool = False) -> Iterator[Workshop]:
    """The shop folder of this command; the lock is held when it writes."""
    told = progress(given)
    workshop = open_workshop(given.shop, told, told if sys.stderr.isatty() else silent)
    with workshop, at_work(workshop) if writes else nullcontext():
        yield workshop
