"""The light that pictures in the round are taken in, and the ground left about the thing."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mood:
    """A theme's light and framing. `from_right`: where the light comes from; `strength` times as
    much is taken from what turns away from it, and by shadows; `softness` times as wide are its
    shadows and what smooth cloth mirrors. `margin` (mm) is the ground beside the thing. The middle
    of the cloth is as light in every mood: colours are told by it."""

    from_right: bool = False
    strength: float = 1.0
    softness: float = 1.0
    margin: float = 13.0

    @property
    def side(self) -> float:
        """1 for light from the left, -1 from the right: places to the right of the middle, times
        this, lie away from it."""
        return -1.0 if self.from_right else 1.0


USUAL_MOOD = Mood()
# What a theme may choose. Stronger, and the limbs of foam would lose more than the turning page
# can give back (turntable.js, `evenly`); nearer, and shadows would be cut by the picture's edge.
STRENGTHS, SOFTNESSES, MARGINS = (0.5, 1.15), (0.6, 1.6), (9.0, 24.0)
