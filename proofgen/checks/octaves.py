"""What a photo's detail, octave by octave, tells that several checks ask.

All limits here are calibrated by tests/bench/calibrate_photo.py.
"""

from __future__ import annotations

from proofgen.model import Sharpness

# Detail that fills its finest octave (so much, of full scale, as no weak noise has) and falls alike
# from octave to octave (powers of two: at most so steeply, and never so much less steeply).
# A blur makes it fall ever more steeply; noise over a blur keeps the finest from falling at first.
_FINEST, _STEEP, _ALIKE = 0.3 / 255, 2.4, 0.45
_LEVEL, _RISING = -0.5, 0.1
# Of the span from dark to light, so much slope (a px) in the most even parts.
_TEXTURED = 0.012
# Powers of two by which fine detail is weaker along one way all over: of level and upright, which
# two good photographs of 508 reach (a calm sea, bricks), and of the slanting ways, which three do.
_LEVEL_LEAN, _SLANTING_LEAN = 2.4, 0.7


def falls_alike(seen: Sharpness) -> bool:
    """Whether a soft picture is as soft at every size, as clouds, mist and plain surfaces are; one
    that is out of focus, blurred or enlarged gets sharp when it is made smaller, and one of a
    camera that moved is softer along one way."""
    if seen.finest < _FINEST or not seen.falls or leaning(seen) >= 1:
        return False
    steepest, least = max(seen.falls), min(seen.falls)
    # Where no octave has more than the finest, none is missing.
    alike = steepest <= 0 or (steepest < _STEEP and steepest - least < _ALIKE)
    return alike and seen.falls[0] > _LEVEL and seen.falls[0] > seen.falls[1] - _RISING


def leaning(seen: Sharpness) -> float:
    """How much weaker fine detail is along one way all over a picture, as a share of what tells
    that the camera moved."""
    level, slanting = seen.leans
    return round(max(abs(level) / _LEVEL_LEAN, abs(slanting) / _SLANTING_LEAN), 3)


def all_texture(seen: Sharpness) -> bool:
    """Whether fine texture makes up what there is between dark and light, as of a board, of cloth
    or of sand; little contrast in a picture of something makes its texture as little."""
    return seen.noise >= _TEXTURED * seen.span > 0
