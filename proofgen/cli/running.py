"""What a command runs on: the open shop folder, questions to a person, progress."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext

from proofgen import pipeline
from proofgen.cli import printing
from proofgen.cli.options import Given, called
from proofgen.errors import UsageError
from proofgen.say.safe import for_terminal
from proofgen.workshop import Workshop, at_work, open_workshop, silent

if sys.platform != "win32":
    import fcntl
    import termios


def _answer(question: str) -> str:
    """What a person types after the question; empty at the end of the input. What a command says
    after that, it says of this once."""
    printing.not_again()
    print(for_terminal(question), end=" ", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip()


def ask() -> Callable[[str], str] | None:
    """How to ask the person who typed the command; None where a program did, or where nobody would
    see the question."""
    return _answer if sys.stdin and sys.stdin.isatty() and sys.stderr.isatty() else None


def _is_piped() -> bool:
    """Whether something waits at the standard input that no person types. Nothing is taken from
    it: it may be the list of a loop that other commands read on."""
    try:
        number = sys.stdin.fileno()
        about = os.fstat(number)
        if stat.S_ISREG(about.st_mode):
            return about.st_size > os.lseek(number, 0, os.SEEK_CUR)
        if sys.platform == "win32":  # of a pipe it is what waits there
            return stat.S_ISFIFO(about.st_mode) and about.st_size > 0
        if not stat.S_ISFIFO(about.st_mode):
            return False
        waiting = fcntl.ioctl(number, termios.FIONREAD, bytes(4))
        return int.from_bytes(waiting, sys.byteorder) > 0
    except (OSError, ValueError, AttributeError):
        return False


def tell_unasked(command: str) -> None:
    """Say why nothing was asked of who piped answers in."""
    if _is_piped():
        printing.not_again()
        printing.aside(
            "Questions are asked at a terminal alone, so what was piped in was not read; give each "
            f"answer as an option: proofgen {command} --help"
        )


@contextmanager
def unasked(command: str) -> Iterator[None]:
    """Where something is missing that would have been asked for."""
    try:
        yield
    except UsageError:
        tell_unasked(command)
        raise


def progress(given: Given) -> Callable[[str], None]:
    """What is told while a command works; nothing with --quiet."""
    return (lambda _: None) if given.quiet else (lambda step: printing.passing(f"  {step} …"))


@contextmanager
def workshop_of(
    given: Given, *, writes: bool = False, looks: bool = False, door: bool = True
) -> Iterator[Workshop]:
    """The shop folder of this command; the lock is held when it writes. What it did, or saw where
    it `looks` at the orders, then stands on the maker's pages. At the `door` the records are
    checked. SignoffError when they are not as they were written."""
    told = progress(given)
    workshop = open_workshop(given.shop, told, told if sys.stderr.isatty() else silent)
    workshop.command = called(given)
    if door and not writes:  # who writes checks them once nobody else can
        workshop.records.refuse_broken()
    with workshop, at_work(workshop) if writes else nullcontext():
        older = pipeline.older_records(workshop) if door else ""
        try:
            yield workshop
        finally:
            if older:  # last, where it is read
                printing.aside(older)
                printing.not_again()
        if workshop.elsewhere:
            printing.faults(workshop.elsewhere)
            printing.aside("No order named here is made with that, so the work went on.")
        printing.said_in(workshop)
        for line in pipeline.keep_workroom(workshop) if writes or looks else ():
            printing.aside(line)
            printing.not_again()
        if writes:
            pipeline.note_records(workshop)
            printing.all_is_written()
