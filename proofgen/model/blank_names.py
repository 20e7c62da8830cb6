"""What customers call a blank and the colours of its cloth, in their language."""

from __future__ import annotations

from proofgen.model.blank import Blank
from proofgen.say.parts import FINISH_WORDS, PIECES
from proofgen.say.tongue import Tongue

# A wrap for cans narrower than the one, or higher than the other, is called by it, mm: between a
# slim can's 53 to 58 and a common one's 66, between their wraps' 100 and 140. Common practice, no
# source.
_SLIM, _TALL = 60.0, 120.0


def called_in(blank: Blank, tongue: Tongue) -> str:
    """The maker's own word for it; else what it is, its cloth and, of a flat one, its size."""
    if blank.called:
        return tongue.message(blank.called)  # those of built-in blanks are translated
    piece, finish = tongue(PIECES[_kind(blank)]), tongue(FINISH_WORDS[blank.cloth.finish])
    if blank.construction != "flat":
        return tongue("{piece}, {finish}", piece=piece, finish=finish)
    size = next(iter(blank.plan().panels.values()))
    measure = tongue.mm(size.height, 0)
    if blank.shape != "round":
        measure = f"{tongue.number(size.width, 0)} × {measure}"
    return tongue("{piece}, {finish}, {size}", piece=piece, finish=finish, size=measure)


def _kind(blank: Blank) -> str:
    """A key of PIECES."""
    if blank.construction == "flat":
        return blank.shape
    if blank.construction == "wrap" and blank.vessel_mm is not None:
        if blank.vessel_mm < _SLIM:
            return "slim"
        if blank.height_mm > _TALL:
            return "tall"
    return blank.construction


def cloths_in(blank: Blank, tongue: Tongue) -> tuple[tuple[str, str], ...]:
    """The colours of its cloth by name, each with its '#rrggbb'; common names are translated."""
    return tuple((tongue.message(name), shade) for name, shade in blank.cloth.colours.items())
