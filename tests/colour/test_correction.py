"""A correction from readings: what is put in comes out, white stays the cloth, noise is told."""

from __future__ import annotations

import csv

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen import colour
from proofgen.colour import lab_to_linear
from proofgen.colour.basis import cloth_matrix
from proofgen.colour.correction import fit_correction
from proofgen.colour.spaces import XYZ_FROM_LINEAR
from tests.colour.conftest import DATA

SKY = "#6fb7e9"
ASKED = np.array(
    [[255, 0, 0], [0, 160, 0], [0, 0, 255], [255, 220, 0], [20, 30, 60], [128, 128, 128],
     [255, 255, 255], [240, 200, 160]],
    dtype=np.uint8,
)  # fmt: skip


def test_readings_of_the_plain_law_give_the_plain_law() -> None:
    # The plain law multiplies reflectances, printed inks mix by area: near, not the same.
    ink = colour.srgb_to_linear(ASKED / 255)
    got = fit_correction(ASKED, colour.linear_to_lab(ink @ cloth_matrix(SKY).T), SKY)
    assert got.worst < 4 and got.swatches == 7  # the white one is the cloth
    inks = np.random.default_rng(1).integers(0, 256, (4000, 3), dtype=np.uint8)
    apart = colour.ciede2000(
        colour.lab_of(colour.ink_on_cloth(inks, SKY, got)),
        colour.lab_of(colour.ink_on_cloth(inks, SKY)),
    )
    assert np.median(apart) < 4.5 and np.quantile(apart, 0.9) < 9


def test_a_paler_press_is_learned() -> None:
    """Dye that reaches nine tenths: what was read lies a tenth of the way back to the cloth."""
    ink = colour.srgb_to_linear(ASKED / 255)
    bare = colour.srgb_to_linear(np.array(colour.hex_to_rgb8(SKY)) / 255)
    seen = bare + 0.9 * (ink - 1) @ cloth_matrix(SKY).T
    got = fit_correction(ASKED, colour.linear_to_lab(seen), SKY)
    assert got.mean < 2.2
    black = colour.ink_on_cloth(np.zeros((1, 3), np.uint8), SKY, got)[0]
    assert (black > 20).all(), "black ink is no longer quite black"


def test_noise_is_told_as_it_is() -> None:
    # Five readings on the line, one off by a known amount: the residual cannot hide it.
    ink = colour.srgb_to_linear(ASKED / 255)
    labs = colour.linear_to_lab(ink @ cloth_matrix(SKY).T)
    labs[5, 0] += 12
    got = fit_correction(ASKED, labs, SKY)
    assert 3 < got.worst < 12 and 0.5 < got.mean < got.worst


@settings(deadline=None, max_examples=40)
@given(
    st.lists(st.tuples(*[st.integers(0, 255)] * 3), min_size=4, max_size=10),
    st.tuples(*[st.integers(0, 255)] * 3),
)
def test_whatever_was_read_white_is_the_cloth_and_more_ink_never_lighter(read, cloth) -> None:
    hex_cloth = colour.rgb8_to_hex(cloth)
    asked = ("#ff0000", "#00ff00", "#0000ff", "#101010", "#00ffff", "#ffff00", "#ff00ff", "#804020",
             "#c0c0c0", "#206080")  # fmt: skip
    pairs = tuple(zip(asked, [colour.rgb8_to_hex(r) for r in read], strict=False))
    fitted = colour.correction_from(pairs, hex_cloth)
    ramp = np.linspace(255, 0, 18).astype(np.uint8)[:, None]
    for less in ((1, 1, 1), (1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 0), (0, 1, 1), (1, 0, 1)):
        inks = np.where(np.array(less, bool), ramp, np.uint8(255))
        seen = colour.ink_on_cloth(inks, hex_cloth, fitted)
        assert tuple(seen[0]) == cloth
        exact = fitted.light(colour.srgb_to_linear(inks / 255)) @ XYZ_FROM_LINEAR[1]
        assert np.diff(exact).max() < 1e-4, less
        assert colour.luminance(seen).max() <= colour.luminance(np.array(cloth)) + 1e-3


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


# Readings of real inks: three printing profiles, the inks laid in three ways (the table says how).


@pytest.fixture(scope="module")
def presses() -> dict[str, tuple[np.ndarray, np.ndarray, str]]:
    """Of each press: codes asked for, Lab read (as a file keeps it, 8-bit sRGB), the cloth."""
    lines = (DATA / "press_readings.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("# ")))
    found = {}
    for press in dict.fromkeys(row["press"] for row in rows):
        own = [row for row in rows if row["press"] == press]
        asked = np.array([colour.hex_to_rgb8(row["asked"]) for row in own])
        lab = np.array([[float(row[k]) for k in "Lab"] for row in own])
        found[press] = (asked, colour.lab_of(_codes(lab)), own[0]["cloth"])
    return found


def _codes(lab: np.ndarray) -> np.ndarray:
    return np.rint(colour.linear_to_srgb(np.clip(lab_to_linear(lab), 0, 1)) * 255)


def _off(fitted, asked: np.ndarray, lab: np.ndarray) -> np.ndarray:
    cloth = colour.linear_to_lab(np.clip(fitted.light(colour.srgb_to_linear(asked / 255)), 0, 1))
    return colour.ciede2000(cloth, lab)


def test_readings_of_real_inks_are_taken(presses) -> None:
    """With one linear 3 × 3 they lay 9.2 off in the middle and 29 at worst."""
    off = {name: _off(fit_correction(*p), *p[:2])[:-1] for name, p in presses.items()}
    assert np.median(list(off.values())) < 3.2
    for name, each in off.items():
        assert np.median(each) < 5.5 and each.max() < 15, name


def test_a_misread_swatch_does_not_bend_the_rest(presses) -> None:
    """A reading wrong by 60 codes in a channel: the others stay, and it lies furthest off."""
    rng = np.random.default_rng(5)
    others, found = [], []
    for asked, lab, cloth in presses.values():
        for wrong in rng.choice(24, 3, replace=False):
            codes = _codes(lab)
            channel = rng.integers(3)
            codes[wrong, channel] += 60 if codes[wrong, channel] < 128 else -60
            fitted = fit_correction(asked, colour.lab_of(codes), cloth)
            others.extend(np.delete(_off(fitted, asked, lab), [wrong, 24]))
            found.append(int(np.argmax(fitted.off)) == wrong)
    assert np.median(others) < 3.5 and max(others) < 20
    assert np.mean(found) >= 0.7


def test_two_swapped_swatches_are_the_two_that_lie_off(presses) -> None:
    others, found = [], []
    pairs = [(0, 1), (3, 9), (4, 5), (8, 15), (2, 11), (6, 17), (1, 2), (12, 20), (7, 5)]
    for (asked, lab, cloth), pair in zip(presses.values(), pairs, strict=True):
        swapped = lab.copy()
        swapped[list(pair)] = lab[list(pair[::-1])]
        fitted = fit_correction(asked, swapped, cloth)
        others.extend(np.delete(_off(fitted, asked, lab), [*pair, 24]))
        found.append(set(np.argsort(fitted.off)[-2:].tolist()) == set(pair))
    assert np.median(others) < 3.5 and np.mean(found) >= 0.75


def test_four_readings_leave_black_black_and_tell_of_the_rest(presses) -> None:
    """Red, green, blue and orange alone; with one linear 3 × 3 a strong green greyed black."""
    unread = []
    for asked, lab, cloth in presses.values():
        few = [0, 1, 2, 15]
        fitted = fit_correction(asked[few], lab[few], cloth)
        black = colour.linear_to_lab(fitted.light(np.zeros((1, 3))))[0]
        assert black[0] < 25 and np.hypot(*black[1:]) < 12
        unread.extend(np.delete(_off(fitted, asked, lab), [*few, 24]))
    assert np.median(unread) < 10


def test_one_green_alone_does_not_turn_black_grey() -> None:
    pairs = (("#ff0000", "#b02838"), ("#00ff00", "#c0d8a0"), ("#0000ff", "#303880"),
             ("#00ffff", "#3090b8"), ("#ff00ff", "#a83878"), ("#ffff00", "#e8d020"),
             ("#000000", "#1c1a1e"))  # fmt: skip
    fitted = colour.correction_from(pairs, "#f4f4f2")
    black = colour.ink_on_cloth(np.zeros((1, 3), np.uint8), "#f4f4f2", fitted)[0]
    assert black.max() < 50
