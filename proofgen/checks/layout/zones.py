"""Check layout/zones."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import crossing, zones_met
from proofgen.checks.phrases import mm, quoted
from proofgen.checks.registry import Said, check, stop, warn
from proofgen.checks.subjects import InkSubject, inked_words

# What happens to letters there; the first three are lost, the others only hard to read.
_WORDS = {
    "closure": "under the closure, where the other end of the cloth hides them",
    "seam": "in the seam, where they are sewn in",
    "gap": "beside the seam, where no ink can reach",
    "fold": "on the fold, where they turn round the bottom",
    "hem": "in the hem, where the cloth is turned in",
    "base": "under the can, where nobody looks",
}
_LOST = ("closure", "seam", "gap")


@check(
    "layout/zones",
    over=inked_words,
    why="A name under the closure or in a seam is a name nobody reads: the blank is lost.",
    source="the blank's own measures",
    codes={
        "in-closure": "letters under the closure",
        "in-seam": "letters in a seam",
        "in-gap": "letters where no ink reaches",
        "in-fold": "letters on the fold",
        "in-hem": "letters in the hem",
        "in-base": "letters under the can",
    },
)
def zones(subject: InkSubject) -> Iterator[Said]:
    """No letter lies in a seam, a fold or under the closure."""
    plan, face = subject.plan, subject.placed.face
    met = zones_met(plan, face, subject.ink)
    if plan.construction == "fold" and crossing(plan, face, subject.ink):
        half = plan.canvases[face].size.width / 2
        met["seam"] = min(half - subject.ink.x, subject.ink.right - half)
    for kind, deep in met.items():
        if kind not in _WORDS:
            continue
        make = stop if kind in _LOST else warn
        yield make(
            f"in-{kind}",
            f"{quoted(subject.placed.text)} would lie {mm(deep)} deep {_WORDS[kind]}.",
            "Move the words away from there, or make them smaller.",
            measure=deep,
            limit=0.0,
        )
