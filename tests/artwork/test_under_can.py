"""What of a photo lies under the can: measured on a picture whose busy part is known."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from proofgen.artwork.joins import under_can
from proofgen.geometry import Rect, plan_fold
from tests.materials import MATERIALS

PLAN = plan_fold(width=112, height=204, seam=6, fold=4, hem=0, base=25, bleed=6, safe=5)
FACE = Rect(0, 0, 100, 100)


def _noise_at(folder: Path, top: int, bottom: int) -> Path:
    """A plain grey picture of 400 × 400 px with noise between two rows."""
    pixels = np.full((400, 400, 3), 128, dtype=np.uint8)
    noise = np.random.default_rng(5).integers(0, 255, (bottom - top, 400, 3))
    pixels[top:bottom] = noise.astype(np.uint8)
    Image.fromarray(pixels).save(folder / "noise.png")
    return folder / "noise.png"


@pytest.mark.parametrize("face", ["front", "back", "round"])
@pytest.mark.parametrize(
    ("rows", "least", "most"), [((320, 390), 0.9, 1.0), ((40, 200), 0.0, 0.05)]
)
def test_what_is_busy_under_the_can_is_measured(tmp_path, face, rows, least, most):
    pictures = MATERIALS.pictures
    photo = pictures.inspect(_noise_at(tmp_path, *rows))
    canvas = PLAN.canvases[face]
    under = under_can(photo, PLAN, canvas, canvas.size.rect, Rect(0, 0, 400, 400), pictures)
    assert under is not None
    assert (under.hidden, under.hidden_mm) == pytest.approx((0.25, 25.0), abs=0.01)
    assert least <= under.detail <= most


@pytest.mark.parametrize(
    ("rect", "deep"), [(Rect(10, 10, 80, 65), None), (Rect(10, 10, 80, 70), 5.0)]
)
def test_a_photo_in_a_box_is_under_the_can_as_far_as_it_reaches(tmp_path, rect, deep):
    pictures = MATERIALS.pictures
    photo = pictures.inspect(_noise_at(tmp_path, 0, 400))
    under = under_can(photo, PLAN, PLAN.canvases["front"], rect, Rect(0, 0, 400, 400), pictures)
    assert (under and under.hidden_mm) == deep
