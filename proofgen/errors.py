"""Errors a person can act on: place, problem, cure; each class owns its exit code."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

EXIT_DONE = 0
EXIT_FINDING = 1
EXIT_USAGE = 2
EXIT_SHOP = 3
EXIT_UNSIGNED = 4
EXIT_MACHINE = 5
EXIT_STOPPED = 130  # as shells have it: 128 and the number of the signal

# What each says of a run: the one table of it.
EXIT_CODES = {
    EXIT_DONE: "done",
    EXIT_FINDING: "done, and a finding asks for something (as `check --fail-on` says)",
    EXIT_USAGE: "what was typed cannot be taken",
    EXIT_SHOP: "something in the shop's folder cannot be read",
    EXIT_UNSIGNED: "not signed, or an answer that was refused",
    EXIT_MACHINE: "this machine cannot: something is missing, full, or at work already",
    EXIT_STOPPED: "stopped by you (Ctrl+C)",
}

# `build` does all it can, then ends with the first of these that happened.
EXIT_RANK = (EXIT_MACHINE, EXIT_SHOP, EXIT_UNSIGNED, EXIT_FINDING, EXIT_USAGE, EXIT_DONE)


# What helps where the system lets nobody in; Get Info is what a Mac calls a file's properties.
READ_CURE = (
    "close the program that has it open; else let yourself read it, in its properties (Get Info "
    "on a Mac), or copy it to a folder of your own"
)
WRITE_CURE = (
    "close the program that has it open; else let yourself write there, in the folder’s properties "
    "(Get Info on a Mac)"
)


def worst_exit(*codes: int) -> int:
    """The exit code that tells most about a run: 5 > 3 > 4 > 1 > 2 > 0."""
    return min(codes, key=EXIT_RANK.index, default=EXIT_DONE)


def written_out(char: str) -> str:
    """A character that nobody can see, as ⟨U+202E⟩."""
    return f"⟨U+{ord(char):04X}⟩"


@dataclass(frozen=True, slots=True)
class Place:
    """Where something is: a file of the shop folder, and a line if it has lines. Said, it is one
    line in which all of a file's name can be seen."""

    file: str
    line: int | None = None

    def __str__(self) -> str:
        file = "".join(c if c.isprintable() else written_out(c) for c in self.file)
        return f"{file}:{self.line}" if self.line else file


class ProofgenError(Exception):
    """Base: what is wrong, where, and what to do; never shown with a traceback."""

    exit_code = EXIT_FINDING

    def __init__(self, problem: str, cure: str = "", place: Place | Path | None = None) -> None:
        self.problem = problem
        self.cure = cure
        self.place = Place(str(place)) if isinstance(place, Path) else place
        super().__init__(self.sentence())

    def sentence(self) -> str:
        """`place: problem`, then the cure on a line of its own."""
        head = f"{self.place}: {self.problem}" if self.place else self.problem
        return f"{head}\n    To mend it: {self.cure}" if self.cure else head


class UsageError(ProofgenError):
    """The command was given something it cannot take."""

    exit_code = EXIT_USAGE


class ShopError(ProofgenError):
    """A file of the shop folder cannot be read or says something impossible."""

    exit_code = EXIT_SHOP


class ShopFaults(ShopError):
    """Every fault of every file, reported together."""

    def __init__(self, faults: list[ShopError]) -> None:
        self.faults = faults
        super().__init__(faults[0].problem, faults[0].cure, faults[0].place)

    def sentence(self) -> str:
        return "\n".join(f.sentence() for f in self.faults)


class SignoffError(ProofgenError):
    """Not signed, or an answer that was refused."""

    exit_code = EXIT_UNSIGNED


class MachineError(ProofgenError):
    """This machine cannot: a library is missing, the disk is full, another run is at work."""

    exit_code = EXIT_MACHINE


class StopError(ProofgenError):
    """A finding stops the work until it is mended or accepted with a reason."""

    exit_code = EXIT_FINDING
