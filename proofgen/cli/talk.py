"""Small helpers of the commands: results to stdout, the rest to stderr, colour only when wanted."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from typing import Any

from proofgen.errors import ProofgenError
from proofgen.photo.opening import photo_worker
from proofgen.workshop import Workshop, at_work, open_workshop


def result(text: str) -> None:
    print(text)


def document(value: Any) -> None:
    print(json.dumps(value, ensure_ascii=False, indent=2))


def aside(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def ask(question: str) -> str:
    """What a person types after the question; empty at the end of the input."""
    print(question, end=" ", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip()


def wants_colour() -> bool:
    """https://no-color.org: any value of NO_COLOR switches colour off."""
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def progress(given: argparse.Namespace) -> Any:
    return (lambda _: None) if given.quiet else (lambda text: aside(f"  {text} …"))


@contextmanager
def workshop_of(given: argparse.Namespace, *, writes: bool = False) -> Iterator[Workshop]:
    """The shop folder of this command; the lock is held when it writes. All its photos are opened
    by one process, so that each is decoded once."""
    workshop = open_workshop(given.shop, progress(given))
    with photo_worker(), at_work(workshop) if writes else nullcontext():
        yield workshop


def tell_trouble(trouble: list[ProofgenError]) -> None:
    """Every gathered fault, once."""
    for sentence in dict.fromkeys(e.sentence() for e in trouble):
        aside(sentence)
