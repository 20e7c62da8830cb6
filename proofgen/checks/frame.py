"""How a check is declared: stable id, why, source, documented codes; and what it remarks.

A check looks at one kind of thing (`over` draws them from a CheckInput, see subjects.py), with the
shop's limits beside it, and yields what `stop`, `warn`, `note` or `skipped` make. The runner adds
the rest. `listed.py` names all checks. Ids and codes are for ever: an accepted finding is
remembered by them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import KW_ONLY, dataclass
from functools import partial
from typing import Generic, TypeAlias, TypeVar

from proofgen.checks.subjects import CheckInput, Spot
from proofgen.model import Limits, Measure, Status

# Codes the runner itself gives.
_RESERVED = frozenset({"pass", "not-needed", "broken"})

_ID = re.compile(r"[a-z]+/[a-z]+(-[a-z]+)*")
_CODE = re.compile(r"[a-z]+(-[a-z]+)*")

T = TypeVar("T")  # what a check looks at


@dataclass(frozen=True, slots=True)
class Remark:
    """What a check yields: the finding without what its spot already tells."""

    status: Status
    code: str
    says: str
    cure: str = ""
    _: KW_ONLY
    measure: Measure | None = None
    limit: Measure | None = None
    where: str | None = None  # instead of the spot's
    about: str | None = None
    furthest: str = ""  # of several with one sentence, said of the one furthest from the limit
    line: int | None = None  # of the order, where the spot is about several
    text: str = ""  # the very words, where the spot does not know them
    pieces: tuple[int, ...] = ()  # the pieces meant, likewise; the sentence names them itself


Remarks: TypeAlias = Iterator[Remark]

stop = partial(Remark, "stop")  # shuts proof and press until mended, or accepted with a reason
warn = partial(Remark, "warn")  # somebody should look before it is pressed
note = partial(Remark, "note")  # good to know; nothing to do
skipped = partial(Remark, "skipped")  # the check could not look here; the sentence tells why


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Generic[T]):
    """A check. `title` is what holds when it passes.

    Errors: ValueError for a badly written id or code, or a missing explanation.
    """

    id: str
    title: str
    why: str
    source: str
    codes: Mapping[str, str]
    over: Callable[[CheckInput], Iterable[tuple[Spot, T]]]
    look: Callable[[T, Limits], Remarks]

    def __post_init__(self) -> None:
        if not _ID.fullmatch(self.id) or not all(_CODE.fullmatch(c) for c in self.codes):
            raise ValueError(f"{self.id}: ids and codes are small letters with hyphens")
        if _RESERVED & self.codes.keys():
            raise ValueError(f"{self.id}: a code of the runner's own is used")
        if not all((self.title, self.why, self.source, self.codes, *self.codes.values())):
            raise ValueError(f"{self.id}: say what it is, why, from where, what each code means")


def check(
    id: str,
    over: Callable[[CheckInput], Iterable[tuple[Spot, T]]],
    *,
    why: str,
    source: str,
    codes: Mapping[str, str],
) -> Callable[[Callable[[T, Limits], Remarks]], Check[T]]:
    """Make a check of a look-function; the first line of its docstring is the title."""

    def declared(look: Callable[[T, Limits], Remarks]) -> Check[T]:
        title = (look.__doc__ or "").strip().split("\n")[0].rstrip(".")
        return Check(id=id, title=title, why=why, source=source, codes=codes, over=over, look=look)

    return declared
