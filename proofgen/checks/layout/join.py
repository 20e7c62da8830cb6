"""Check layout/join."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import PRACTICE, Said, check, note, warn
from proofgen.checks.subjects import LayerSubject, placed_photos
from proofgen.model import PlacedPhoto
from proofgen.units import number

# A photo that is busy all over has as large a share of its detail there as of its area.
BUSY_TIMES = 1.6


@check(
    "layout/join",
    over=placed_photos,
    why="Where a wrap closes, one end of the picture lies hidden under the other, and two places "
    "of the picture that do not belong together meet.",
    source=f"the blank's own measures; which places of a photo are busy: {PRACTICE}",
    codes={
        "meets": "how much of the photo lies under the overlap, and what meets at the join",
        "busy": "much of what is busy in the photo lies under the overlap or beside the join",
    },
)
def join(subject: LayerSubject[PlacedPhoto]) -> Iterator[Said]:
    """No photo has its main things where a wrap closes."""
    closes = subject.placed.join
    if closes is None:
        return
    ends = ("left", "right") if closes.side == "left" else ("right", "left")
    hides = (
        f"Where the ends close, {number(closes.hidden_mm, 0)} mm of this photo at its {ends[0]} "
        f"end ({number(closes.hidden * 100, 0)} % of it) lie hidden under the overlap"
    )
    limit = max(subject.given.limits.busy_join, BUSY_TIMES * closes.strips)
    if closes.detail > limit:
        yield warn(
            "busy",
            f"{hides}, and with the edges of the join that takes "
            f"{number(closes.detail * 100, 0)} % of what is busy in the picture: a face or a "
            "figure may be cut there.",
            "Move the photo’s focus, or leave it out and the calmest place is chosen.",
            measure=closes.detail,
            limit=limit,
        )
    else:
        yield note(
            "meets",
            f"{hides}. Its {ends[1]} end comes to lie beside that strip; the picture does not run "
            "on from one to the other.",
            measure=closes.hidden,
        )
