"""A proof that was made, as it is told to the maker."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from proofgen.checks import AS_ORDERED
from proofgen.model import Finding
from proofgen.signoff import Earlier


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeProof:
    """A proof that is on disk now."""

    order: str
    edition: int
    page: Path
    why: str
    next: str
    wrote: list[str]  # what was written into its order, and of its link, in whole sentences
    findings: Sequence[Finding]
    before: Sequence[Earlier]  # what was said of the proof that was seen before

    @property
    def says(self) -> list[str]:
        """Lines below its own, for the maker: what to look at before the customer does."""
        return [*self.wrote, *_not_as_ordered(self.findings), *_still_open(self.before)]


def _not_as_ordered(findings: Iterable[Finding]) -> Iterator[str]:
    told = [
        one.says
        for one in findings
        if one.check in AS_ORDERED and one.status == "warn" and not one.accepted
    ]
    if told:
        yield "Not as it was ordered; look before the customer does:"
        yield from (f"    {said}" for said in told)


def _still_open(before: Iterable[Earlier]) -> Iterator[str]:
    """What was said of an earlier proof and is not seen to be done."""
    left = [one for one in before if not one.asked or one.became != "changed"]
    if left:
        yield f"The customer said of proof {left[0].edition}; look whether it is done:"
        yield from (f"    {one.said}" for one in left)
