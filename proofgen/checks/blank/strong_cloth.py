"""Check blank/strong-cloth."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from proofgen.checks.phrases import visible
from proofgen.checks.places import line_where
from proofgen.checks.registry import PRACTICE, Said, check, note, skipped, warn
from proofgen.checks.subjects import LineSubject, lines
from proofgen.colour import hex_to_rgb8, lab_of, luminance


def chroma(colour: str) -> float:
    """How colourful a colour is: CIE Lab chroma, grey 0."""
    lab = lab_of(hex_to_rgb8(colour))
    return float(np.hypot(lab[1], lab[2]))


@check(
    "blank/strong-cloth",
    over=lines,
    why="Ink is see-through: the cloth shows through every colour, and nothing gets paler than it.",
    source=f"{PRACTICE}; luminance as in WCAG 2.2, chroma in CIE Lab",
    codes={
        "dark": "the cloth is so dark that pale colours vanish",
        "tints": "the cloth is colourful and tints what is pressed on it",
        "unknown": "the blank has no cloth of that name",
    },
)
def strong_cloth(subject: LineSubject) -> Iterator[Said]:
    """The cloth is pale and plain enough not to change the picture much."""
    name, blank = subject.item.cloth, subject.blank
    where = line_where(subject.item, "cloth")
    colour = blank.cloth.colours.get(name) if blank else None
    if colour is None:
        yield skipped("unknown", f"The blank has no cloth called “{visible(name)}”.", where=where)
        return
    limits = subject.given.limits
    light = float(luminance(colour))
    if light < limits.dark_cloth:
        yield warn(
            "dark",
            f"The cloth {visible(name)} is dark: pale colours vanish on it, and white parts show "
            "the cloth.",
            "Choose paler cloth, or a picture of dark and strong colours.",
            measure=light,
            limit=limits.dark_cloth,
            where=where,
        )
    elif (strong := chroma(colour)) > limits.strong_cloth:
        yield note(
            "tints",
            f"The cloth {visible(name)} shows through: it tints every colour, and white parts show "
            "the cloth.",
            "Compare the two pictures on the proof, on white and on this cloth.",
            measure=strong,
            limit=limits.strong_cloth,
            where=where,
        )
