"""Check layout/safe."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.areas import past_shape
from proofgen.checks.phrases import mm, quoted
from proofgen.checks.registry import PRACTICE, Said, check, stop, warn
from proofgen.checks.subjects import InkSubject, inked_words


@check(
    "layout/safe",
    over=inked_words,
    why="Cloth moves under the press and edges are cut, turned or curved away; letters near an "
    "edge look crowded at best and are cut at worst.",
    source=f"the blank's own safe distance; {PRACTICE}",
    codes={
        "near-edge": "letters are nearer to an edge than the safe distance",
        "off-edge": "letters run over an edge",
    },
)
def safe(subject: InkSubject) -> Iterator[Said]:
    """All letters keep their distance from the edges."""
    plan, face = subject.plan, subject.placed.face
    off = past_shape(plan, face, subject.ink, 0.0)
    near = past_shape(plan, face, subject.ink, plan.safe)
    words = quoted(subject.placed.text)
    cure = "Make the words smaller, or move them further in."
    if off > 1e-6:
        yield stop(
            "off-edge", f"{words} would run {mm(off)} over the edge.", cure, measure=-off, limit=0.0
        )
    elif near > 1e-6:
        left = plan.safe - near
        yield warn(
            "near-edge",
            f"{words} would end {mm(max(left, 0.0))} from the edge; {mm(plan.safe)} is safe.",
            cure,
            measure=left,
            limit=plan.safe,
        )
