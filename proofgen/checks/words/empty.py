"""Check words/empty."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from proofgen.checks.phrases import visible
from proofgen.checks.registry import Said, check, skipped, stop
from proofgen.checks.subjects import VariantSubject, variants


def says_nothing(text: str) -> bool:
    """Whether a text holds only spaces and characters nobody sees."""
    return all(unicodedata.category(c)[0] in "ZC" for c in text)


@check(
    "words/empty",
    over=variants,
    why="A place for a name without one is pressed bare.",
    source="the design's slots",
    codes={
        "no-words": "the design has a place for words and the piece has none for it",
        "no-design": "the shop has no such design",
    },
)
def empty(subject: VariantSubject) -> Iterator[Said]:
    """Every place for words has some."""
    line = next(i for i in subject.given.order.lines if i.number == subject.line)
    design = subject.given.shop.designs.get(line.design)
    if design is None:
        yield skipped("no-design", f"The shop has no design called “{visible(line.design)}”.")
        return
    for slot in design.slots("words"):
        if says_nothing(subject.variant.words.get(slot, "")):
            yield stop(
                "no-words",
                f"This design has a place for words (“{slot}”), and nothing stands there.",
                "Please send the words, or choose a design without them.",
                about=slot,
            )
