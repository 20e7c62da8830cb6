"""A picture of ink shown on cloth."""

import numpy as np
import pytest
from PIL import Image

from proofgen.views import ink


def test_white_is_bare_cloth_and_the_picture_is_kept():
    picture = Image.new("RGB", (5, 3), "white")
    picture.putpixel((1, 2), (255, 255, 0))
    seen = ink.on_cloth(picture, "#6fb7e9")
    assert (seen.mode, seen.size) == ("RGB", (5, 3))
    assert seen.getpixel((0, 0)) == (0x6F, 0xB7, 0xE9)
    # Yellow on sky blue by the spectral product: #71b930 (see tests/data/ink_on_fabric_examples).
    assert np.abs(np.array(seen.getpixel((1, 2))) - (0x71, 0xB9, 0x30)).max() <= 1
    assert picture.getpixel((0, 0)) == (255, 255, 255)


def test_white_cloth_changes_nothing():
    picture = Image.effect_noise((64, 48), 90).convert("RGB")
    assert ink.on_cloth(picture, "#ffffff").tobytes() == picture.tobytes()


@pytest.mark.parametrize("mode", ["RGBA", "L", "CMYK"])
def test_other_modes_are_refused(mode):
    with pytest.raises(ValueError, match="RGB is needed"):
        ink.on_cloth(Image.new(mode, (2, 2)), "#ffffff")
