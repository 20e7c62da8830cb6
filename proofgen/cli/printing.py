"""The one place that prints: results to stdout, the rest to stderr. Nothing steers the terminal."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeVar

from proofgen.cli.options import COMMANDS
from proofgen.errors import MachineError, ProofgenError
from proofgen.say.safe import for_json, for_terminal
from proofgen.say.shell import for_shell

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
_shop = ""  # how the shop is named in a command to copy; "" where the command is typed in it


def for_shop(folder: Path) -> None:
    """From now on each command that is named to be typed leads to this shop, wherever the one was
    typed that runs."""
    global _shop
    _shop = "" if folder == Path() else f"--shop {for_shell(str(folder))} "


def _for_this_shop(text: str) -> str:
    if not _shop or "proofgen " not in text:
        return text
    return _in_shop().sub(f"proofgen {_shop}".replace("\\", "\\\\"), text)


@cache
def _in_shop() -> re.Pattern[str]:
    """The beginning of a command that needs a shop."""
    names = (re.escape(name) for name, record in COMMANDS.items() if not record.outside)
    return re.compile(rf"\bproofgen (?=(?:{'|'.join(names)})(?![\w-]))")


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
        _listener.says_next([_for_this_shop(for_terminal(line)) for line in lines])


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
    _print(_for_this_shop(for_terminal(text)))


def report(text: str) -> None:
    """A report that was made safe where it was written, with its colours."""
    _print(_for_this_shop(text))


def as_it_is(text: str) -> None:
    """What was made safe where it was written, and is not for the maker: a letter."""
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
    _print(_for_this_shop(for_terminal(sentence)), "stderr")


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
