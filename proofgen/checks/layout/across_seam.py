"""Check layout/across-seam."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.phrases import mm
from proofgen.checks.registry import PRACTICE, Said, check, note, warn
from proofgen.checks.subjects import VariantSubject, variants


@check(
    "layout/across-seam",
    over=variants,
    why="Ink cannot follow the cloth into a finished seam, and pressing both sides flattens foam.",
    source=f"{PRACTICE} (all-round print on a sewn blank; flat-to-sew; wrap)",
    codes={
        "line": "an all-round picture on a sewn blank leaves a line at the seams",
        "meets": "an all-round picture on a folded blank meets in the seams",
    },
)
def across_seam(subject: VariantSubject) -> Iterator[Said]:
    """No picture has to cross a seam."""
    layout = subject.layout
    if not layout.faces.get("round"):
        return
    if layout.plan.construction == "sewn":
        line = 2 * max((z.rect.width for z in layout.plan.zones if z.kind == "gap"), default=0.0)
        wide = f"a bare line about {mm(line)} wide" if line else "a thin bare line"
        foam = layout.blank.cloth.finish == "foam"
        flat = ", and pressing both sides flattens the foam" if foam else ""
        yield warn(
            "line",
            f"This picture goes all the way round a sewn blank: {wide} stays at each seam{flat}.",
            "Take it so; or choose a wrap, which carries the picture in one piece; or a blank "
            "pressed flat and sewn afterwards, which leaves no line.",
            measure=line,
            limit=0.0,
        )
    elif layout.plan.construction == "fold":
        yield note(
            "meets",
            "This picture goes all the way round and meets in the two seams at the sides; sewing "
            "may shift it by a millimetre there, and the finished piece looks rounder.",
        )
