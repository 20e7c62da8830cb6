"""How a check is declared: stable id, why, source, documented codes; and the list of all of them.

A check is a generator over one kind of subject (`over` yields them from a CheckInput, see
subjects.py); it yields what `stop`, `warn`, `note` or `skipped` make. The runner adds the rest.
Ids and codes are for ever: an accepted finding is remembered by them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from proofgen.checks.subjects import CheckInput, Subject
from proofgen.model.limits import PRACTICE as PRACTICE

# Codes the runner itself gives.
RESERVED = frozenset({"pass", "not-needed", "broken"})

_ID = re.compile(r"[a-z]+/[a-z]+(-[a-z]+)*")
_CODE = re.compile(r"[a-z]+(-[a-z]+)*")

S = TypeVar("S", bound=Subject)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What a check yields: the finding without what the subject already tells."""

    status: str
    code: str
    says: str
    cure: str = ""
    measure: float | str | None = None
    limit: float | str | None = None
    pieces: tuple[int, ...] | None = None  # instead of the subject's
    where: str | None = None
    about: str | None = None


def stop(code: str, says: str, cure: str = "", **more: Any) -> Said:
    """Blocks proof and press until mended, or accepted with a reason."""
    return Said(status="stop", code=code, says=says, cure=cure, **more)


def warn(code: str, says: str, cure: str = "", **more: Any) -> Said:
    """Somebody should look before it is pressed."""
    return Said(status="warn", code=code, says=says, cure=cure, **more)


def note(code: str, says: str, cure: str = "", **more: Any) -> Said:
    """Good to know; nothing to do."""
    return Said(status="note", code=code, says=says, cure=cure, **more)


def skipped(code: str, says: str, cure: str = "", **more: Any) -> Said:
    """The check could not look here; `says` tells why."""
    return Said(status="skipped", code=code, says=says, cure=cure, **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A registered check."""

    id: str
    title: str
    why: str
    source: str
    codes: Mapping[str, str]
    over: Callable[[CheckInput], Iterable[Any]]
    look: Callable[[Any], Iterator[Said]]


CHECKS: dict[str, Check] = {}


def check(
    name: str,
    *,
    over: Callable[[CheckInput], Iterable[S]],
    why: str,
    source: str,
    codes: Mapping[str, str],
) -> Callable[[Callable[[S], Iterator[Said]]], Callable[[S], Iterator[Said]]]:
    """Register a check. Its docstring's first line is its title: what holds when it passes.

    Errors: ValueError for an id twice, a badly written id or code, or a missing explanation.
    """

    def register(look: Callable[[S], Iterator[Said]]) -> Callable[[S], Iterator[Said]]:
        title = (look.__doc__ or "").strip().split("\n")[0].rstrip(".")
        if name in CHECKS:
            raise ValueError(f"two checks are called {name}")
        if not _ID.fullmatch(name) or not all(_CODE.fullmatch(c) for c in codes):
            raise ValueError(f"{name}: ids and codes are small letters with hyphens")
        if RESERVED & codes.keys():
            raise ValueError(f"{name}: a code of the runner's own is used")
        if not (title and why and source and codes and all(codes.values())):
            raise ValueError(f"{name}: say what it is, why, from where, and what each code means")
        CHECKS[name] = Check(
            id=name, title=title, why=why, source=source, codes=dict(codes), over=over, look=look
        )
        return look

    return register
