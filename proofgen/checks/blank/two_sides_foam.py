"""Check blank/two-sides-foam."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import PRACTICE, Said, check, note
from proofgen.checks.subjects import VariantSubject, variants


@check(
    "blank/two-sides-foam",
    over=variants,
    why="Heat flattens foam for good; the side that is not pressed keeps its feel.",
    source=f"{PRACTICE}: pressing both sides of sewn foam flattens it, one side keeps the feel",
    codes={"flattened": "both sides of a sewn foam blank are pressed"},
)
def two_sides_foam(subject: VariantSubject) -> Iterator[Said]:
    """No sewn foam is pressed on both sides."""
    layout = subject.layout
    if layout.plan.construction != "sewn" or layout.blank.cloth.finish != "foam":
        return
    pressed = {panel for layer in layout.layers for panel, _ in layout.on_panel(layer)}
    if len(pressed) > 1:
        yield note(
            "flattened",
            "Both sides of this foam are pressed, which makes it thinner and firmer.",
            "Choose a design for one side, if it should stay soft.",
            measure=len(pressed),
            limit=1,
        )
