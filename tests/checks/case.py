"""One row of a check's table: what is looked at, and what must be said."""

from __future__ import annotations

from dataclasses import dataclass, field

from proofgen.checks import CheckInput

PASS = ("pass", "pass")
NOT_NEEDED = ("pass", "not-needed")


@dataclass(frozen=True)
class Case:
    """`wants` are all (status, code) pairs; `says` must stand in a sentence or a cure; `without`
    is a library that is missing on this machine."""

    check: str
    label: str
    given: CheckInput
    wants: tuple[tuple[str, str], ...]
    says: tuple[str, ...] = field(default=())
    without: str = ""

    def __str__(self) -> str:
        return f"{self.check}: {self.label}"
