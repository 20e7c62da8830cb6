"""What the surfaces of a model are made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from proofgen.views.solid.turned import Material

Colour = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A material as both formats know it (0..1): linear `colour`, None of the cloth's own."""

    colour: Colour | None
    metallic: float
    roughness: float


# Aluminium's colour as it mirrors: from memory.
LOOKS: Mapping[Material, Look] = {
    "print": Look(colour=(1.0, 1.0, 1.0), metallic=0.0, roughness=0.9),
    "cloth": Look(colour=None, metallic=0.0, roughness=0.95),
    "metal": Look(colour=(0.91, 0.92, 0.92), metallic=1.0, roughness=0.32),
}
