"""Check order/price."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import count, visible
from proofgen.checks.registry import Said, check, skipped, warn
from proofgen.checks.subjects import LineSubject, lines


@check(
    "order/price",
    over=lines,
    why="A proof shows what the order costs; without a price it promises nothing, or too little.",
    source="prices of the design's file",
    codes={
        "not-offered": "the design has no price on this blank",
        "too-few": "the price starts at a larger quantity",
        "no-design": "the shop has no such design",
    },
)
def price(subject: LineSubject) -> Iterator[Said]:
    """Every line has a price."""
    line, design = subject.item, subject.design
    if design is None:
        yield skipped("no-design", f"The shop has no design called “{visible(line.design)}”.")
        return
    if design.price(line.blank, line.quantity) is not None:
        return
    steps = [start for start, _ in design.offered.get(line.blank, ())]
    name = visible(subject.blank.name if subject.blank else line.blank)
    if steps:
        yield warn(
            "too-few",
            f"“{visible(design.title)}” on {name} has a price from {count(min(steps))} pieces on; "
            f"{count(line.quantity)} are ordered.",
            "Order more, or write a price for fewer in the design.",
            measure=line.quantity,
            limit=min(steps),
        )
    else:
        yield warn(
            "not-offered",
            f"“{visible(design.title)}” is not offered on {name}, so it has no price there.",
            "Write a price under “offered” in the design, or choose another blank.",
        )
