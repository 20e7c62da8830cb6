"""The parts of a piece that its page shows at their real size."""

from __future__ import annotations

from collections.abc import Sequence

from proofgen.geometry import FaceName
from proofgen.model import Line, PlacedWords
from proofgen.proof.content import RealSize, picture
from proofgen.proof.shown import Look, Shown
from proofgen.say.parts import VIEWS
from proofgen.say.tongue import to_say
from proofgen.units import pixels
from proofgen.views.cut import Cut, real_size_crop, shows_words, words_crop
from proofgen.views.pictures import fitted
from proofgen.views.spot import REAL_SIZE

_PPI = 180.0  # nearly two pixels for each of a page's
_PART = to_say("This part is {wide} wide and {high} high.")
_PART_OF = to_say("{side}: this part is {wide} wide and {high} high.")
_WORDS = to_say("Where the words stand: this part is {wide} wide and {high} high.")
_WORDS_OF = to_say("{side}, where the words stand: this part is {wide} wide and {high} high.")


def real_sizes_of(
    shown: Shown, looks: Sequence[Look], line: Line, faces: Sequence[FaceName]
) -> tuple[RealSize, ...]:
    """Of each face the part to judge its photo by and, where that does not hold them, its words,
    which come first: they are what one measures."""
    rasters, own = looks[0].rasters, _own_slots(looks)
    parts = []
    for face in faces:
        part = real_size_crop(rasters, face, REAL_SIZE, shown.materials.pictures)
        name = f"{line.number}-{face}"
        if not shows_words(rasters, face, part[1], own):
            words = words_crop(rasters, face, REAL_SIZE, own)
            said = _WORDS if len(faces) == 1 else _WORDS_OF
            parts += [_real_size(shown, words, f"{name}-words", said, face)] if words else []
        said = _PART if len(faces) == 1 else _PART_OF
        parts.append(_real_size(shown, part, name, said, face))
    return tuple(parts)


def _own_slots(looks: Sequence[Look]) -> frozenset[str]:
    """The slots whose words are a piece's own: of a list the names."""
    texts: dict[str, set[str]] = {}
    for look in looks:
        for placed in look.variant.layout.layers:
            if isinstance(placed, PlacedWords) and placed.slot:
                texts.setdefault(placed.slot, set()).add(placed.text)
    return frozenset(slot for slot, different in texts.items() if len(different) > 1)


def _real_size(shown: Shown, part: Cut, name: str, said: str, face: FaceName) -> RealSize:
    tongue, (image, lies) = shown.tongue, part
    side = tongue(VIEWS[face])
    return RealSize(
        picture=picture(
            f"real-size-{name}",
            fitted(image, pixels(lies.width, _PPI)),
            tongue("{side}: a part of it at its real size.", side=side),
            tongue(said, side=side, wide=tongue.mm(lies.width), high=tongue.mm(lies.height)),
        ),
        width_mm=lies.width,
        height_mm=lies.height,
    )
