"""What a check says, and the order in which statuses count."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal, NotRequired, TypeAlias, TypedDict, get_args

from proofgen.say import number

# Worst first; `broken` (the check's own fault) is treated as `stop`.
Status = Literal["stop", "broken", "warn", "skipped", "note", "pass"]
STATUSES: tuple[Status, ...] = get_args(Status)
BLOCKING: tuple[Status, ...] = ("stop", "broken")


Measure: TypeAlias = float | str  # a figure, or the word or letters it is about


class FindingDocument(TypedDict):
    """A finding in the documents proofgen/findings/1 and proofgen/look/1."""

    check: str
    code: str
    status: Status
    where: str
    says: str
    measure: Measure | None
    limit: Measure | None
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
    measure: Measure | None = None
    limit: Measure | None = None
    cure: str = ""
    accepted: str = ""  # the maker's reason, when a stop was let through
    line: int | None = None  # number of the order line it speaks of
    piece: int | None = None
    face: str | None = None
    pieces: tuple[int, ...] = ()  # all pieces that show it, where it speaks of several
    some: bool = False  # `pieces` are not all the pieces of the line
    text: str = ""  # the customer's words it is about, where it is about one text
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


def measure_text(measure: Measure) -> str:
    """A measure or a limit as it is shown: at most three decimals."""
    return measure if isinstance(measure, str) else number(measure, 3)


def beyond(measure: Measure | None, limit: Measure | None) -> float | None:
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


# What no reason mends: a picture that cannot be opened would be left off the piece, and what no
# paper or plate is large enough for is never made, nor what nobody ordered.
_TO_BE_MENDED = frozenset({"photo/readable", "blank/fits-press", "order/ordered"})


def may_be_let_through(finding: Finding) -> bool:
    """Whether a maker's reason can stand in for the cure."""
    return finding.check not in _TO_BE_MENDED


_AS_GOOD = 1.001  # a measure may differ by so much and still be the one that was accepted


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Why the maker let a finding through, and its measure then; None where nothing was measured,
    or it was not kept."""

    because: str
    measure: Measure | None = None

    def of(self, finding: Finding) -> Finding:
        """The finding, let through; not if it has become worse since, which its cure then says."""
        then, now = beyond(self.measure, finding.limit), beyond(finding.measure, finding.limit)
        if then is None or now is None or now <= then * _AS_GOOD:
            return replace(finding, accepted=self.because)
        was, is_now = (measure_text(one or 0) for one in (self.measure, finding.measure))
        worse = f"It was accepted at {was} and is {is_now} now."
        return replace(finding, cure=f"{finding.cure} {worse}".strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFindings:
    """All findings of one order, worst first."""

    order: str
    edition: int
    findings: list[Finding] = field(default_factory=list)
    # What differs from the latest edition: its artwork, its terms, how it is pressed.
    why: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    since: list[str] = field(default_factory=list)
    next: str = ""  # the one thing to do with it, once nothing stops it

    @property
    def worst(self) -> Status:
        return worst(self.findings)
