"""JPEGs that lost bytes in their middle: the reader fills the rest, and that is told."""

import numpy as np
import pytest
from PIL import Image

from tests.materials import PICTURES
from tests.photo import picture_files as make


def busy(width: int = 640, height: int = 480) -> Image.Image:
    y, x = np.mgrid[0:height, 0:width]
    waves = [128 + 60 * np.sin(x / (9 + i)) + 40 * np.cos(y / (7 + i)) for i in range(3)]
    grain = np.random.default_rng(1).normal(0, 6, (height, width, 3))
    return Image.fromarray((np.stack(waves, axis=-1) + grain).clip(0, 255).astype(np.uint8))


@pytest.mark.parametrize("share", [0.5, 0.85])
@pytest.mark.parametrize("subsampling", [0, 1, 2])
@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_a_gap_in_the_middle_is_damage(tmp_path, mode, subsampling, share):
    data = make.saved(busy().convert(mode), "JPEG", quality=90, subsampling=subsampling)
    path = tmp_path / "pier.jpg"
    path.write_bytes(data[: int(len(data) * share)] + data[-400:])
    facts = PICTURES.inspect(path)
    assert facts.problem_code == "damaged"
    assert "missing" in facts.problem and facts.cure
    path.write_bytes(data)
    assert PICTURES.inspect(path).usable


@pytest.mark.parametrize("edge", [400, 401, 408, 416])
@pytest.mark.parametrize("ground", ["white", "#808080", "#3060a0"])
def test_an_even_ground_of_its_own_is_none(tmp_path, ground, edge):
    """Whole, with a figure in its middle, or one that reaches a side."""
    for left, right in ((0, 640), (160, 480), (0, 320), (320, 640)):
        picture = Image.new("RGB", (640, 480), ground)
        picture.paste(busy().crop((left, 0, right, edge)), (left, 0))
        path = tmp_path / "figure.jpg"
        picture.save(path, quality=90)
        assert PICTURES.inspect(path).usable, (left, right)
