"""Real photographs through the strict door: upright, in sRGB, whole."""

import io

import numpy as np
import pillow_heif
import pytest
from PIL import Image, ImageCms

from tests.materials import PICTURES
from tests.real_photos import PHOTOS, real_photo

pytestmark = pytest.mark.photos
LARGE = ("guitar.hif", "phone-200mp.heic")  # minutes of work if decoded at every turn


def _mean_by_profile(picture: Image.Image, icc: bytes) -> np.ndarray:
    """Mean colour after a conversion made here, apart from the code under test."""
    source = ImageCms.ImageCmsProfile(io.BytesIO(icc))
    done = ImageCms.profileToProfile(
        picture, source, ImageCms.createProfile("sRGB"), renderingIntent=1, outputMode="RGB"
    )
    return np.asarray(done).reshape(-1, 3).mean(axis=0)


@pytest.mark.parametrize("name", [n for n in PHOTOS if n not in LARGE])
def test_opens_upright(name):
    photo = PHOTOS[name]
    facts = PICTURES.inspect(real_photo(name))
    assert facts.usable, facts.problem
    assert (facts.width_px, facts.height_px) == (photo.width, photo.height)
    picture = PICTURES.open_pixels(facts, wanted=(photo.width // 4, photo.height // 4))
    assert picture.mode == "RGB"
    assert picture.width >= photo.width // 4
    assert picture.width / picture.height == pytest.approx(photo.width / photo.height, rel=0.02)
    assert np.asarray(picture).std() > 10


def test_at_least_twelve_megapixels_whole():
    """All pixels of a 12-megapixel JPEG, the same as Pillow's own."""
    path = real_photo("sunset.jpg")
    facts = PICTURES.inspect(path)
    assert facts.width_px * facts.height_px >= 12_000_000
    picture = PICTURES.open_pixels(facts)
    with Image.open(path) as plain:
        assert picture.tobytes() == plain.convert("RGB").tobytes()


def test_display_p3_of_a_phone():
    path = real_photo("pug.heic")
    facts = PICTURES.inspect(path)
    assert facts.profile == "Display P3"
    assert facts.has_location
    assert facts.clipped is not None and 0 <= facts.clipped < 0.5
    shot = pillow_heif.open_heif(path)
    plain = Image.frombytes(shot.mode, shot.size, shot.data, "raw", shot.mode, shot.stride)
    expected = _mean_by_profile(plain, shot.info["icc_profile"])
    seen = np.asarray(PICTURES.open_pixels(facts)).reshape(-1, 3).mean(axis=0)
    untouched = np.asarray(plain).reshape(-1, 3).mean(axis=0)
    assert np.abs(seen - expected).max() < 0.2
    assert np.abs(seen - untouched).max() > 0.6  # so an ignored profile would show


def test_adobe_rgb_of_a_picture_program():
    path = real_photo("adobe-rgb.jpg")
    facts = PICTURES.inspect(path)
    assert facts.profile == "Adobe RGB (1998)"
    with Image.open(path) as plain:
        expected = _mean_by_profile(plain, plain.info["icc_profile"])
        untouched = np.asarray(plain).reshape(-1, 3).mean(axis=0)
    seen = np.asarray(PICTURES.open_pixels(facts)).reshape(-1, 3).mean(axis=0)
    assert np.abs(seen - expected).max() < 0.5
    assert np.abs(seen - untouched).max() > 1


def test_printing_inks_are_no_negative():
    path = real_photo("cmyk.jpg")
    facts = PICTURES.inspect(path)
    assert facts.mode == "CMYK"
    seen = np.asarray(PICTURES.open_pixels(facts).convert("L")).astype(float)
    with Image.open(path) as plain:
        inks = np.asarray(plain).astype(float).sum(axis=2)
    assert np.corrcoef(seen.ravel(), inks.ravel())[0, 1] < -0.8  # where there is ink it is dark
    red, green, blue = PICTURES.open_pixels(facts).getpixel((250, 200))  # the disc of cyan
    assert red < 60 and green > 140 and blue > 200


def test_two_frames_of_a_stereo_camera():
    facts = PICTURES.inspect(real_photo("fujifilm.mpo"))
    assert (facts.format, facts.frames) == ("MPO", 2)


def test_the_arrow_points_up():
    """Its drawn outline begins with a point above and ends with a broad foot below."""
    facts = PICTURES.inspect(real_photo("arrow.heic"), decode=False)
    assert facts.height_px > facts.width_px
    picture = PICTURES.open_pixels(facts).resize((300, 400)).convert("L")
    ink = np.asarray(picture)[15:385, 15:285] < 90
    rows = np.flatnonzero(ink.any(axis=1))
    breadth = [np.ptp(np.flatnonzero(ink[row : row + 12].any(axis=0))) for row in rows[[0, -12]]]
    assert breadth[0] < 40 < 80 < breadth[1]


@pytest.mark.parametrize("name", LARGE)
def test_very_large_ones_come_scaled(name):
    photo = PHOTOS[name]
    facts = PICTURES.inspect(real_photo(name), decode=False)
    assert facts.usable, facts.problem
    assert (facts.width_px, facts.height_px) == (photo.width, photo.height)
    picture = PICTURES.open_pixels(facts, wanted=(photo.width // 16, photo.height // 16))
    assert picture.size == (-(-photo.width // 8), -(-photo.height // 8))
