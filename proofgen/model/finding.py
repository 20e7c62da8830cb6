"""What a check says, and the order in which statuses count."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, NotRequired, TypedDict, get_args

# Worst first; `broken` (the check's own fault) is treated as `stop`.
Status = Literal["stop", "broken", "warn", "skipped", "note", "pass"]
STATUSES: tuple[Status, ...] = get_args(Status)
BLOCKING: tuple[Status, ...] = ("stop", "broken")


class FindingDocument(TypedDict):
    """A finding in the documents proofgen/findings/1 and proofgen/look/1."""

    check: str
    code: str
    status: Status
    where: str
    says: str
    measure: float | str | None
    limit: float | str | None
    cure: str
    key: str
    accepted: NotRequired[str]


_DIGITS = 6  # of a digest: enough to tell the photos and texts of one slot apart


def about_of(slot: str, digest: str) -> str:
    """What a finding speaks of: a slot, with a few digits of its photo's or text's digest, so that
    what was accepted of one is not accepted of the next."""
    return "-".join(part for part in (slot, digest[:_DIGITS]) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One sentence about one thing, that could be sent to a customer.

    `where` is a plain place such as 'orders/fenn/order.yaml:9, photo' and `key` names the finding
    for `check --accept`: it holds still while the thing it speaks of does.
    """

    check: str
    code: str
    status: Status
    says: str
    where: str = ""
    measure: float | str | None = None
    limit: float | str | None = None
    cure: str = ""
    accepted: str = ""  # the maker's reason, when a stop was let through
    line: int | None = None  # number of the order line it speaks of
    piece: int | None = None
    face: str | None = None
    pieces: tuple[int, ...] = ()  # all pieces that show it, where it speaks of several
    about: str = ""  # the very thing, as `about_of` names it

    @property
    def key(self) -> str:
        parts = [self.check, self.code]
        parts += [str(p) for p in (self.line, self.piece, self.face) if p is not None]
        parts += [self.about] if self.about else []
        return ":".join(parts)

    def as_json(self) -> FindingDocument:
        """The fields of the documents."""
        document: FindingDocument = {
            "check": self.check,
            "code": self.code,
            "status": self.status,
            "where": self.where,
            "says": self.says,
            "measure": self.measure,
            "limit": self.limit,
            "cure": self.cure,
            "key": self.key,
        }
        if self.accepted:
            document["accepted"] = self.accepted
        return document


def beyond(measure: object, limit: object) -> float | None:
    """How far a measure lies from its limit; None where they are not both numbers."""
    if isinstance(measure, int | float) and isinstance(limit, int | float):
        return abs(measure - limit)
    return None


def worst(findings: list[Finding]) -> Status:
    """The worst status among findings that were not accepted; `pass` when there is none."""
    open_ones = [f.status for f in findings if not f.accepted]
    return min(open_ones, key=STATUSES.index, default="pass")


def blocks(findings: list[Finding]) -> list[Finding]:
    """The findings that keep proof and press shut."""
    return [f for f in findings if f.status in BLOCKING and not f.accepted]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFindings:
    """All findings of one order, worst first."""

    order: str
    edition: int
    findings: list[Finding] = field(default_factory=list)

    @property
    def worst(self) -> Status:
        return worst(self.findings)
