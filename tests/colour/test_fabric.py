"""Ink on cloth: the basis, the matrix, the fast path, and what can never happen."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen import colour
from proofgen.colour.basis import cloth_matrix, spectra
from proofgen.colour.spaces import XYZ_FROM_LINEAR
from tests.colour.integral import reflectance, spectral_ink_on_cloth, spectral_light

CLOTHS = ["#6fb7e9", "#e07a1f", "#00a651", "#c8102e", "#f7b5cd", "#1b2a41", "#f5e6d3", "#0b0b0b"]


@pytest.fixture(scope="module")
def inks():
    """20,000 colours: random ones, plus pale ones, where rounding could lift most."""
    rng = np.random.default_rng(20_000)
    return np.concatenate(
        [
            rng.integers(0, 256, (16_000, 3), dtype=np.uint8),
            rng.integers(240, 256, (4_000, 3), dtype=np.uint8),
        ]
    )


def _luminance(rgb8):
    return (colour.srgb_to_linear(rgb8 / 255) @ XYZ_FROM_LINEAR.T)[..., 1]


def test_basis_is_the_published_one(other_library):
    # Mallett & Yuksel 2019: the three sum to one; carried in colour-science as well.
    basis = spectra()[0]
    assert basis.shape == (81, 3)
    assert np.abs(basis.sum(axis=1) - 1).max() < 1e-5
    assert basis.min() > 0
    assert basis.max() == pytest.approx(0.97335, abs=1e-5)
    theirs = other_library.recovery.MSDS_BASIS_FUNCTIONS_sRGB_MALLETT2019.values
    assert np.allclose(basis, theirs, atol=1e-12)


@pytest.mark.parametrize(
    ("nm", "values"),
    [
        (450, (0.011986, 0.030989, 0.957025)),
        (550, (0.006401, 0.973351, 0.020248)),
        (650, (0.904606, 0.063434, 0.031960)),
    ],
)
def test_basis_rows(nm, values):
    assert np.allclose(spectra()[0][(nm - 380) // 5], values, atol=6e-7)


def test_round_trip_through_wavelengths():
    # The paper's promise: a colour taken apart into wavelengths comes back as itself.
    back = spectral_light(np.eye(3), "#ffffff")
    assert np.abs(back - np.eye(3)).max() < 3e-4
    # With the four-digit matrix of IEC 61966-2-1 red comes back as in colour-science 0.4.7.
    four = [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
    red = np.array(four) @ XYZ_FROM_LINEAR @ back[0]
    assert np.allclose(red, (0.99993, 0.000105, 0.000024), atol=1e-4)


def test_integral_agrees_with_another_library(other_library):
    ink, cloth = (colour.hex_to_rgb8(c) for c in ("#f4c2a1", "#9bd770"))
    shape = other_library.SpectralShape(380, 780, 5)
    observer = other_library.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape)
    lamp = other_library.SDS_ILLUMINANTS["D65"].copy().align(shape)
    recover = other_library.recovery.RGB_to_sd_Mallett2019
    light = [colour.srgb_to_linear(np.array(c) / 255) for c in (ink, cloth)]
    product = recover(light[0]) * recover(light[1])
    theirs = other_library.sd_to_XYZ(product, observer, lamp, method="Integration") / 100
    ours = spectral_light(light[0], "#9bd770") @ XYZ_FROM_LINEAR.T
    assert np.allclose(ours, theirs, atol=1e-6)


def test_worked_examples(table):
    for row in table("ink_on_fabric_examples.csv"):
        ink = np.array(colour.hex_to_rgb8(row["ink"]), np.uint8)
        expected = np.array(colour.hex_to_rgb8(row["spectral_multiply_sRGB"]))
        for way in (colour.ink_on_cloth, spectral_ink_on_cloth):
            seen = way(ink, row["fabric"]).astype(int)
            assert np.abs(seen - expected).max() <= 1, (way.__name__, row)


def test_sky_cloth_has_its_known_row():
    assert np.allclose(cloth_matrix("#6fb7e9")[0], (0.193, -0.029, -0.005), atol=6e-4)


@pytest.mark.parametrize("cloth", CLOTHS)
def test_matrix_equals_the_integral(cloth, inks):
    linear = colour.srgb_to_linear(inks / 255)
    by_matrix = linear @ cloth_matrix(cloth).T
    assert np.abs(by_matrix - spectral_light(linear, cloth)).max() < 1e-12


@pytest.mark.parametrize("cloth", CLOTHS)
def test_fast_path_is_at_most_one_code_off(cloth, inks):
    fast = colour.ink_on_cloth(inks, cloth).astype(int)
    off = np.abs(fast - spectral_ink_on_cloth(inks, cloth)).max(axis=1)
    assert off.max() <= 1
    assert np.mean(off > 0) <= 0.02


@pytest.mark.parametrize("cloth", CLOTHS)
def test_never_lighter_than_the_cloth(cloth, inks):
    top = _luminance(np.array(colour.hex_to_rgb8(cloth)))
    assert _luminance(colour.ink_on_cloth(inks, cloth)).max() <= top + 1e-12
    assert _luminance(spectral_ink_on_cloth(inks, cloth)).max() <= top + 1e-12


def test_clipping_alone_would_lift_some_colours(inks):
    """The guard has work to do: without it, this pale ink would brighten that cloth."""
    cloth = "#0000ff"
    linear = np.clip(colour.srgb_to_linear(inks / 255) @ cloth_matrix(cloth).T, 0, 1)
    rounded = np.rint(colour.linear_to_srgb(linear) * 255)
    top = _luminance(np.array(colour.hex_to_rgb8(cloth)))
    assert (_luminance(rounded) > top + 1e-9).any()
    assert _luminance(colour.ink_on_cloth(inks, cloth)).max() <= top + 1e-12


@settings(deadline=None)
@given(st.tuples(*[st.integers(0, 255)] * 3), st.tuples(*[st.integers(0, 255)] * 3))
def test_any_ink_on_any_cloth(ink, cloth):
    hex_cloth = colour.rgb8_to_hex(cloth)
    pixels = np.array([ink, (255, 255, 255), (0, 0, 0)], np.uint8)
    seen = colour.ink_on_cloth(pixels, hex_cloth)
    assert tuple(seen[1]) == cloth
    assert tuple(seen[2]) == (0, 0, 0)
    assert _luminance(seen[0]) <= _luminance(np.array(cloth)) + 1e-12
    assert np.abs(seen.astype(int) - spectral_ink_on_cloth(pixels, hex_cloth)).max() <= 1


def test_darker_at_every_wavelength():
    ink = colour.srgb_to_linear(np.random.default_rng(3).random((200, 3)))
    assert reflectance(ink).max() <= 1 + 1e-5


def test_grey_cloth_only_dims():
    ink = colour.srgb_to_linear(np.random.default_rng(4).random((200, 3)))
    grey = colour.srgb_to_linear(128 / 255)
    assert np.abs(ink @ cloth_matrix("#808080").T - ink * grey).max() < 3e-4


def test_ink_and_cloth_commute():
    one, two = "#f4c2a1", "#9bd770"
    a = colour.ink_on_cloth(np.array(colour.hex_to_rgb8(one), np.uint8), two)
    b = colour.ink_on_cloth(np.array(colour.hex_to_rgb8(two), np.uint8), one)
    assert np.abs(a.astype(int) - b).max() <= 1


def test_white_cloth_leaves_a_picture_as_it_is(inks):
    seen = colour.ink_on_cloth(inks, "#ffffff")
    assert np.array_equal(seen, inks)
    assert not np.shares_memory(seen, inks)


def test_shape_is_kept_and_blocks_do_not_show(inks):
    picture = np.resize(inks, (300, 401, 3))
    seen = colour.ink_on_cloth(picture, "#6fb7e9")
    assert seen.shape == picture.shape
    assert np.array_equal(seen[150, 7], colour.ink_on_cloth(picture[150, 7], "#6fb7e9"))


@pytest.mark.parametrize("bad", [np.zeros((4, 3)), np.zeros((4, 4), np.uint8)])
def test_other_arrays_are_refused(bad):
    with pytest.raises(ValueError, match="8-bit"):
        colour.ink_on_cloth(bad, "#6fb7e9")


def _by_the_law(law, rgb8):
    """What a page's script makes of a law: the same arithmetic, written anew."""
    light = colour.srgb_to_linear(rgb8 / 255)
    if law.inks:
        c, m, y = ((1 - np.sqrt(light)) ** np.array(law.curves)).T
        shares = [
            (c if cyan else 1 - c) * (m if magenta else 1 - m) * (y if yellow else 1 - y)
            for cyan in (0, 1) for magenta in (0, 1) for yellow in (0, 1)
        ]  # fmt: skip
        light = (np.array(shares).T @ np.array(law.inks).reshape(8, 3)) ** 2
    seen = light @ np.array(law.matrix).reshape(3, 3).T
    return np.rint(colour.linear_to_srgb(np.clip(seen, 0, 1)) * 255).astype(int)


PRESSED = (("#ff0000", "#903040"), ("#00ff00", "#308060"), ("#0000ff", "#303070"),
           ("#000000", "#202428"), ("#ffff00", "#909030"))  # fmt: skip


@pytest.mark.parametrize("read", [(), PRESSED], ids=["by the numbers", "as pressed"])
def test_a_page_is_told_the_law_that_proofs_are_made_by(inks, read):
    correction = colour.correction_from(read, "#6fb7e9") if read else None
    law = colour.law_of("#6fb7e9", correction)
    assert bool(law.inks) == bool(law.curves) == bool(read)
    ours = colour.ink_on_cloth(inks, "#6fb7e9", correction).astype(int)
    off = np.abs(_by_the_law(law, inks) - ours).max(axis=1)
    inked = (inks < 255).any(axis=1)
    below = _luminance(_by_the_law(law, inks)) <= _luminance(np.array([111, 183, 233]))
    assert off[inked & below].max() <= 1 and (inked & below).mean() > 0.95


def test_the_law_of_white_cloth_changes_nothing():
    law = colour.law_of("#ffffff")
    assert (law.matrix, law.inks, law.curves) == ((), (), ())
    assert colour.law_of("#ffffff", colour.correction_from(PRESSED, "#ffffff")).inks
