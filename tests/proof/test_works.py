"""What is said of an order's photos beside its pictures."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from proofgen.model import Limits
from proofgen.proof.works import sharpness_of
from proofgen.say.tongue import Tongue
from tests.checks.factory import design, photo


def look(**ppi: float) -> Any:
    """A look whose photos have so many pixels an inch, by their slots."""
    layers = [photo(slot=slot, ppi=value) for slot, value in ppi.items()]
    return SimpleNamespace(variant=SimpleNamespace(layout=SimpleNamespace(layers=layers)))


@pytest.mark.parametrize(
    ("photos", "before"), [(("back",), "Your photo"), (("front", "back"), "“back”: Your photo")]
)
def test_the_coarsest_of_several_photos_is_named(photos: tuple[str, ...], before: str) -> None:
    looks = [look(front=400.0, back=150.0) if len(photos) > 1 else look(back=150.0)]
    said = sharpness_of(looks, design(photos=photos), Limits(), Tongue())
    assert said.startswith(f"{before} has 150 pixels (the dots a picture is made of) for every")


@pytest.mark.parametrize(
    ("ppi", "ends"), [(393.0, "enough"), (125.0, "rather few"), (60.0, "too few")]
)
def test_beside_a_smear_the_count_of_pixels_promises_nothing(ppi: float, ends: str) -> None:
    said = sharpness_of([look(front=ppi)], design(photos=("front",)), Limits(), Tongue())
    assert said == (
        f"Your photo has {ppi:.0f} pixels (the dots a picture is made of) for every printed inch: "
        f"{ends} for this size."
    )
