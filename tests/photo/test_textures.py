"""How detail falls from octave to octave, and fine texture that was smoothed away."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from proofgen.checks.octaves import falls_alike
from proofgen.photo.measures.edges import edges_of
from proofgen.photo.measures.sharpness import sharpness_of
from proofgen.photo.measures.textures import falls_of, smoothed
from tests.bench import photo_spoils
from tests.photo.carried import picture

SIDE = 384


def cloud(steepness: float) -> np.ndarray:
    """Power that falls by that power of the frequency, as it does in clouds; codes of 255."""
    down, across = np.fft.fftfreq(SIDE)[:, None], np.fft.rfftfreq(SIDE)[None, :]
    speed = np.maximum(np.hypot(down, across), 1 / SIDE)
    waves = np.fft.rfft2(np.random.default_rng(3).standard_normal((SIDE, SIDE)))
    plane = np.fft.irfft2(waves / speed ** (steepness / 2))
    return coded(0.5 + 0.15 * plane / plane.std())


def coded(plane: np.ndarray) -> np.ndarray:
    return np.rint(255 * np.clip(plane, 0, 1)).astype(np.float32) / 255


def rooms() -> np.ndarray:
    """Even squares of many greys, 12 px wide."""
    greys = np.random.default_rng(5).uniform(0.1, 0.9, (SIDE // 12, SIDE // 12))
    return coded(greys.repeat(12, 0).repeat(12, 1))


def alike(plane: np.ndarray) -> bool:
    return falls_alike(sharpness_of(coded(plane)))


def blurred(plane: np.ndarray, sigma: float) -> np.ndarray:
    return ndimage.gaussian_filter(plane, sigma)


@pytest.mark.parametrize("steepness", [3.3, 3.7])
def test_clouds_fall_alike_at_every_size(steepness):
    finest, falls = falls_of(cloud(steepness))
    assert finest > 0.3 / 255
    # Each octave has a quarter of the waves of the one finer, each 2^steepness times as strong.
    assert falls == pytest.approx([steepness - 2] * 3, abs=0.25)
    assert alike(cloud(steepness))


@pytest.mark.parametrize("sigma", [1.5, 2, 3, 4, 8, 20])
@pytest.mark.parametrize("noise", [0, 1, 3])
def test_what_was_blurred_does_not(sigma, noise):
    grain = np.random.default_rng(7).standard_normal((SIDE, SIDE)) * noise / 255
    assert sharpness_of(coded(blurred(rooms(), sigma))).falls
    assert not alike(blurred(rooms(), sigma) + grain)


@pytest.mark.parametrize("sigma", [3, 6])
def test_nor_do_blurred_clouds(sigma):
    assert not alike(blurred(cloud(3.7), sigma))


def test_sharp_pictures_and_small_ones_are_not_asked():
    assert sharpness_of(rooms()).falls == ()
    assert falls_of(blurred(rooms(), 3)[:95]) == (0.0, ())


def texture(plane: np.ndarray) -> float | None:
    return smoothed(plane, edges_of(plane, (0, 1)))


def house(fine: float) -> np.ndarray:
    """Large sharp squares of even greys under faint texture, of which `fine` is left below 3 px."""
    greys = np.random.default_rng(5).uniform(0.2, 0.8, (SIDE // 48, SIDE // 48))
    noise = np.random.default_rng(9).standard_normal((SIDE, SIDE))
    broad = ndimage.gaussian_filter(noise, 3.0)
    faint = 4 / 255 * broad / broad.std() + fine / 255 * noise
    return ndimage.gaussian_filter(greys.repeat(48, 0).repeat(48, 1), 0.6) + faint


def test_fine_texture_that_is_gone_beside_sharp_edges_is_told():
    whole, smeared = (texture(house(fine).astype(np.float32)) for fine in (2.0, 0.0))
    assert whole is not None and smeared is not None
    assert whole < 0 < 1.35 < smeared


def test_where_no_edge_is_sharp_nothing_is_told():
    assert texture(blurred(house(0.0), 2).astype(np.float32)) is None


def test_plain_squares_are_not_taken_for_smeared():
    assert (texture(rooms()) or 0.0) < 0.5


@pytest.mark.parametrize("name", ["coffee.png", "motorcycle_left.png"])
def test_a_photo_tells_that_its_noise_was_wiped_out(name):
    shot = picture(name).convert("L")
    done = [shot, *(photo_spoils.smoothed(shot, weight) for weight in (0.1, 0.2))]
    plain, some, more = (texture(np.asarray(one, dtype=np.float32) / 255) for one in done)
    assert plain is not None and plain < 1.0
    assert some is not None and more is not None and 1.35 < some < more


def test_a_smeared_copy_is_read_the_same_in_any_orientation():
    shot = photo_spoils.smoothed(picture("coffee.png").convert("L"), 0.1)
    turned = shot.transpose(Image.Transpose.TRANSPOSE)
    one, other = (texture(np.asarray(way, dtype=np.float32) / 255) for way in (shot, turned))
    assert one == pytest.approx(other, abs=0.1)


def test_a_sharp_thing_before_a_ground_out_of_focus_is_not_taken_for_smeared():
    plane = blurred(house(0.0), 6)
    plane[:96, :96] = house(0.0)[:96, :96]
    sharp = edges_of(plane.astype(np.float32), (0, 1)).sharp_steps(0.8)
    assert 0 < (sharp >= 8).sum() < 6
    assert texture(plane.astype(np.float32)) is None
