"""sRGB, XYZ and Lab against published values and two other libraries."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import rgb2lab

from proofgen import colour
from proofgen.colour.spaces import XYZ_FROM_LINEAR


def test_curve_has_the_published_value():
    # IEC 61966-2-1:1999 as worked in colour-science's own test (models/rgb/transfer_functions).
    assert colour.linear_to_srgb(0.18) == pytest.approx(0.461356129500442, abs=1e-12)


def test_curve_joins_and_returns():
    values = np.linspace(0, 1, 4097)
    assert np.allclose(colour.linear_to_srgb(colour.srgb_to_linear(values)), values, atol=5e-8)
    assert np.all(np.diff(colour.srgb_to_linear(values)) > 0)


def test_matrix_is_the_standards_to_four_digits():
    # IEC 61966-2-1:1999, the four-digit matrix.
    printed = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    assert np.allclose((colour.srgb_to_linear(np.eye(3)) @ XYZ_FROM_LINEAR.T).T, printed, atol=6e-5)


def test_table_of_linear_xyz_and_lab(table):
    for row in table("srgb_lab.csv"):
        rgb = np.array(colour.hex_to_rgb8(row["hex"])) / 255
        linear = [float(row[k]) for k in ("r_lin", "g_lin", "b_lin")]
        assert np.allclose(colour.srgb_to_linear(rgb), linear, atol=6e-7), row["hex"]
        xyz = [float(row[k]) for k in "XYZ"]
        assert np.allclose(colour.srgb_to_linear(rgb) @ XYZ_FROM_LINEAR.T, xyz, atol=6e-7), row[
            "hex"
        ]
        lab = [float(row[k]) for k in "Lab"]
        assert np.allclose(colour.lab_of(rgb * 255), lab, atol=6e-5), row["hex"]


def test_greys_are_neutral():
    greys = np.repeat(np.arange(256)[:, None], 3, axis=1)
    assert np.abs(colour.lab_of(greys)[:, 1:]).max() < 1e-12


def test_agrees_with_another_library():
    rgb = np.random.default_rng(5).random((500, 3))
    assert np.abs(colour.lab_of(rgb * 255) - rgb2lab(rgb)).max() < 0.03  # its matrix has six digits


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_hex_goes_both_ways(rgb):
    assert colour.hex_to_rgb8(colour.rgb8_to_hex(rgb)) == rgb


def test_short_hex():
    assert colour.hex_to_rgb8("#fa0") == (255, 170, 0)
    assert colour.hex_to_rgb8(" 6FB7E9 ") == (111, 183, 233)


@pytest.mark.parametrize("text", ["", "#12", "#12345", "sky", "#gggggg", "#1234567", "#١٢٣"])
def test_bad_hex_says_what_to_write(text):
    with pytest.raises(ValueError, match="write it like #6fb7e9"):
        colour.hex_to_rgb8(text)


@pytest.mark.parametrize("rgb", [(1, 2), (0, 0, 256), (-1, 0, 0)])
def test_bad_numbers_are_refused(rgb):
    with pytest.raises(ValueError, match="three numbers"):
        colour.rgb8_to_hex(rgb)
