"""How large a model is, in words."""

from __future__ import annotations

from proofgen.say.tongue import Tongue
from proofgen.views.solid.made import Model


def size_told(model: Model, tongue: Tongue, *, on_can: bool) -> str:
    """A sentence: of a sleeve how wide and high it is `on_can`, else how wide and deep."""
    wide, high, deep = (tongue.mm(side, 0) for side in model.size_mm)
    if on_can:
        return tongue("On its can it is {wide} wide and {high} high.", wide=wide, high=high)
    return tongue("It is {wide} wide and {deep} deep.", wide=wide, deep=deep)
