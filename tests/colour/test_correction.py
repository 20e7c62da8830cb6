"""A correction from readings: what is put in comes out, white stays the cloth, noise is told."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen import colour
from proofgen.colour import lab_to_linear
from proofgen.colour.correction import fit_correction
from proofgen.colour.fabric import cloth_matrix

SKY = "#6fb7e9"
ASKED = np.array(
    [[255, 0, 0], [0, 160, 0], [0, 0, 255], [255, 220, 0], [20, 30, 60], [128, 128, 128],
     [255, 255, 255], [240, 200, 160]],
    dtype=np.uint8,
)  # fmt: skip


def test_readings_of_the_plain_law_give_the_plain_law() -> None:
    # The integral keeps white to 3e-4, so its readings are met to a small part of a difference.
    ink = colour.srgb_to_linear(ASKED / 255)
    got = fit_correction(ASKED, colour.linear_to_lab(ink @ cloth_matrix(SKY).T), SKY)
    assert np.allclose(got.rows, cloth_matrix(SKY), atol=2e-3)
    assert got.worst < 0.2 and got.swatches == 7  # the white one is the cloth
    inks = np.random.default_rng(1).integers(0, 256, (4000, 3), dtype=np.uint8)
    apart = colour.ink_on_cloth(inks, SKY, got).astype(int) - colour.ink_on_cloth(inks, SKY)
    assert np.abs(apart).max() <= 4


def test_a_paler_press_is_learned_exactly() -> None:
    """Dye that reaches nine tenths: what was read lies a tenth of the way back to the cloth."""
    ink = colour.srgb_to_linear(ASKED / 255)
    bare = colour.srgb_to_linear(np.array(colour.hex_to_rgb8(SKY)) / 255)
    seen = bare + 0.9 * (ink - 1) @ cloth_matrix(SKY).T
    got = fit_correction(ASKED, colour.linear_to_lab(seen), SKY)
    assert got.mean < 1e-6 and np.allclose(got.light(ink), seen)
    black = colour.ink_on_cloth(np.zeros((1, 3), np.uint8), SKY, got)[0]
    assert (black > 20).all(), "black ink is no longer quite black"


def test_noise_is_told_as_it_is() -> None:
    # Five readings on the line, one off by a known amount: the residual cannot hide it.
    ink = colour.srgb_to_linear(ASKED / 255)
    labs = colour.linear_to_lab(ink @ cloth_matrix(SKY).T)
    labs[5, 0] += 12
    got = fit_correction(ASKED, labs, SKY)
    assert 3 < got.worst < 12 and 0.5 < got.mean < got.worst


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.tuples(*[st.integers(0, 255)] * 3), min_size=6, max_size=12),
    st.tuples(*[st.integers(0, 255)] * 3),
    st.tuples(*[st.integers(0, 255)] * 3),
)
def test_whatever_was_read_white_is_the_cloth_and_nothing_is_lighter(read, cloth, ink) -> None:
    hex_cloth = colour.rgb8_to_hex(cloth)
    asked = ["#ff0000", "#00ff00", "#0000ff", "#ffff00", "#00ffff", "#101010"]
    pairs = tuple(zip(asked, [colour.rgb8_to_hex(r) for r in read[:6]], strict=True))
    fitted = colour.correction_from(pairs, hex_cloth)
    pixels = np.array([(255, 255, 255), ink], np.uint8)
    seen = colour.ink_on_cloth(pixels, hex_cloth, fitted)
    assert tuple(seen[0]) == cloth
    assert colour.luminance(seen[1]) <= colour.luminance(np.array(cloth)) + 1e-3


def test_white_cloth_can_be_corrected_too() -> None:
    pairs = (
        ("#ff0000", "#c03040"),
        ("#00ff00", "#30a060"),
        ("#0000ff", "#303090"),
        ("#000000", "#282828"),
    )
    fitted = colour.correction_from(pairs, "#ffffff")
    seen = colour.ink_on_cloth(
        np.array([[255, 0, 0], [255, 255, 255]], np.uint8), "#ffffff", fitted
    )
    assert tuple(seen[1]) == (255, 255, 255) and tuple(seen[0]) != (255, 0, 0)


def test_lab_and_linear_light_are_each_others_way_back() -> None:
    light = np.random.default_rng(3).random((100, 3))
    assert np.allclose(lab_to_linear(colour.linear_to_lab(light)), light)
    # CIE Lab of sRGB red (computed from IEC 61966-2-1:1999): 53.2371, 80.0901, 67.2033.
    assert np.allclose(lab_to_linear([53.2371, 80.0901, 67.2033]), (1, 0, 0), atol=1e-5)


@pytest.mark.parametrize(
    ("pairs", "why"),
    [
        ((("#ff0000", "#800000"),) * 3, "3 swatches are too few"),
        ((("#ff0000", "#800000"), ("#ffffff", "#6fb7e9")) * 3, "3 swatches are too few"),
        (tuple(("#" + f"{v:02x}" * 3, "#203040") for v in (0, 60, 120, 180)), "alike"),
    ],
)
def test_readings_that_prove_nothing_are_refused(pairs, why) -> None:
    with pytest.raises(ValueError, match=why):
        colour.correction_from(pairs, SKY)
