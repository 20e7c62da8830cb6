"""The piece laid flat as it is held, with what the edges, the join and hidden strips take away."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen.artwork.rasters import Rasters
from proofgen.geometry import FaceName, held
from proofgen.model import Line
from proofgen.proof.content import Drawing, picture
from proofgen.proof.said import Window, said_of
from proofgen.proof.shown import Shown
from proofgen.render.drawing import blank_svg
from proofgen.say.parts import ON_DRAWINGS
from proofgen.say.tongue import to_say
from proofgen.views.cut import held_view
from proofgen.views.pictures import fitted

FLAT_WIDTH, HALF_WIDTH = 640, 480  # px: of a drawing alone, and of one of two side by side
# Type, as a share of the drawing's width and height: smaller than the page's where there is room,
# large enough to read where the whole drawing is as wide as a phone.
_LETTER, _NARROW_LETTER = 1 / 58, 1 / 36

_WHOLE = to_say("The whole piece, laid flat")
_HELD: Mapping[str, str] = {
    "front": to_say("The front, as you hold it"),
    "back": to_say("The back, as you hold it"),
}


def drawings_of(shown: Shown, rasters: Rasters, line: Line) -> tuple[Drawing, ...]:
    """Each part of the piece that is held as one."""
    tongue, layout = shown.tongue, rasters.layout
    plan = held(layout.plan)
    width_px = FLAT_WIDTH if len(plan.panels) == 1 else HALF_WIDTH
    labels = {part: tongue(said) for part, said in ON_DRAWINGS.items()}
    drawings = []
    for name, size in plan.panels.items():
        face: FaceName = "round" if name == "round" else "back" if name == "back" else "front"
        label = tongue(_WHOLE if len(plan.panels) == 1 else _HELD[face])
        flat = picture(
            f"flat-{line.number}-{name.replace(' ', '-')}",
            fitted(held_view(rasters, name), width_px),
            label,
        )
        seen = said_of(layout, Window(face=face), face, tongue)
        wide, narrow = (
            blank_svg(
                plan,
                name,
                prefix="flat",
                picture_href=flat.name,
                title=label,
                desc=seen,
                letter_mm=(size.width + size.height) * share,
                labels=labels,
                strokes=shown.strokes,
            )
            for share in (_LETTER, _NARROW_LETTER)
        )
        drawings.append(Drawing(label=label, svg=wide, picture=flat, narrow_svg=narrow))
    return tuple(drawings)
