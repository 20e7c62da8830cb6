"""The checks of pixels on real photographs, untouched and spoilt."""

from __future__ import annotations

import functools

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageEnhance
from scipy import ndimage

from proofgen.checks import look
from proofgen.geometry import Size, cover_crop
from proofgen.model import Limits
from proofgen.photo.measures import measure
from tests.bench.photo_set import good, opened, path_of
from tests.bench.photo_spoils import blurred
from tests.checks.factory import blank
from tests.materials import PICTURES

pytestmark = pytest.mark.photos
SMALL = (126.0, 56.0)  # mm
# Reported on once, when no limit had seen them: the ones in the smallest packages.
UNTOUCHED = (
    "bridge-dusk.jpg",
    "chameleon.jpg",
    "citrus-slices.jpg",
    "clay-monster.jpg",
    "dark-cabin.jpg",
    "detour-sign.jpg",
    "hat-woman.jpg",
    "highland-rocks.jpg",
    "honey-bee.jpg",
    "milford-sound.jpg",
    "night-ridge.jpg",
    "rice-plough.jpg",
    "road-cyclist.jpg",
    "snow-camera.jpg",
    "stone-canal.jpg",
    "venice-purple.jpg",
    "wood-stairs.jpg",
    "yellow-car.jpg",
)
ABOUT = ("photo/blur", "photo/enlarged", "photo/exposure", "photo/screenshot", "photo/jpeg-quality")


whole_photo = functools.lru_cache(maxsize=3)(opened)


@functools.cache
def rocks(width: int) -> Image.Image:
    """A phone's photo, so many px wide."""
    whole = whole_photo("highland-rocks.jpg")
    return whole.resize((width, round(whole.height * width / whole.width)), Image.Resampling.BOX)


@functools.cache
def part(name: str, side: int) -> Image.Image:
    """The middle of a photo, in its own pixels."""
    whole = whole_photo(name)
    left, top = (whole.width - side) // 2, (whole.height - side) // 2
    return whole.crop((left, top, left + side, top + side))


def told(path, size_mm=SMALL, least="warn") -> dict[str, str]:
    """Code by check of all that is warned of, or noted as well, printed at a size at 300 ppi."""
    facts = PICTURES.inspect(path, decode=False)
    crop = cover_crop(Size(facts.width_px, facts.height_px), Size(*size_mm), (0.5, 0.5))
    raster = (round(size_mm[0] / 25.4 * 300), round(size_mm[1] / 25.4 * 300))
    seen = measure(facts, crop, raster, PICTURES)
    found = look(facts, [blank()], Limits(), seen, size_mm)
    heard = ("warn", "stop", least)
    return {f.check: f.code for f in found if f.check in ABOUT and f.status in heard}


def saved(tmp_path, image: Image.Image, name: str = "photo.png", **options):
    path = tmp_path / name
    image.save(path, **options)
    return path


@pytest.mark.parametrize("name", UNTOUCHED)
def test_nothing_is_said_against_an_untouched_photo(name):
    assert good(name)
    assert told(path_of(name)) == {}


def test_a_blurred_photo_is_told(tmp_path):
    sharp = rocks(1488)
    assert told(saved(tmp_path, sharp)) == {}
    assert told(saved(tmp_path, blurred(sharp, 3))) == {"photo/blur": "blurred"}
    # The same, printed small.
    assert told(saved(tmp_path, blurred(sharp, 3)), (27.0, 12.0)) == {}


@pytest.mark.parametrize("sigma", [6, 12, 20, 40])
def test_the_more_a_photo_is_blurred_the_surer_it_is_told(tmp_path, sigma):
    found = told(saved(tmp_path, blurred(rocks(1488), sigma)))
    assert found in ({"photo/blur": "blurred"}, {"photo/blur": "beyond-use"})


@pytest.mark.parametrize("noise", [2, 6, 12])
def test_a_blurred_photo_is_told_through_noise_and_compression(tmp_path, noise):
    soft = np.asarray(blurred(rocks(1488), 3), dtype=np.float64)
    noisy = soft + np.random.default_rng(3).normal(0, noise, soft.shape)
    image = Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))
    found = told(saved(tmp_path, image, "photo.jpg", quality=85))
    assert found in ({"photo/blur": "blurred"}, {"photo/blur": "under-grain"})


def test_grain_on_a_sharp_photo_is_no_blur(tmp_path):
    sharp = np.asarray(rocks(1488), dtype=np.float64)
    noisy = sharp + np.random.default_rng(3).normal(0, 12, sharp.shape)
    assert told(saved(tmp_path, Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8)))) == {}


def test_a_date_on_a_blurred_photo_does_not_make_it_sharp(tmp_path):
    image = blurred(rocks(1488), 6)
    pen = ImageDraw.Draw(image)
    for left in range(image.width - 200, image.width - 40, 24):
        pen.rectangle((left, image.height - 60, left + 9, image.height - 35), outline="white")
    assert told(saved(tmp_path, image), least="note")["photo/blur"] in (
        "beside",
        "blurred",
        "beyond-use",
        "soft",
    )


@pytest.mark.parametrize("degrees", [0, 45])
def test_a_shaken_photo_is_told(tmp_path, degrees):
    sharp = np.asarray(rocks(1488), dtype=np.float64)
    moved = np.ones((1, 21)) if not degrees else np.eye(21)
    soft = ndimage.convolve(sharp, moved[..., None] / moved.sum())
    assert "photo/blur" not in told(saved(tmp_path, rocks(1488)), least="note")
    image = Image.fromarray(np.clip(soft, 0, 255).astype(np.uint8))
    assert told(saved(tmp_path, image), least="note")["photo/blur"] in ("shaken", "soft")


@pytest.mark.parametrize("name", ["highland-rocks.jpg", "rice-plough.jpg"])
@pytest.mark.parametrize("way", [Image.Resampling.BILINEAR, Image.Resampling.BICUBIC])
@pytest.mark.parametrize("factor", [1.5, 2.0, 4.0])
def test_an_enlarged_photo_is_told(tmp_path, name, factor, way):
    side = int(700 / factor)
    small = part(name, side)
    large = small.resize((round(side * factor),) * 2, way)
    assert "photo/enlarged" not in told(saved(tmp_path, small))
    assert told(saved(tmp_path, large))["photo/enlarged"] == "enlarged"


@pytest.mark.parametrize("factor", [1.5, 2.0, 4.0])
def test_repeated_lines_are_told(tmp_path, factor):
    side = int(700 / factor)
    large = part("chameleon.jpg", side).resize(
        (round(side * factor),) * 2, Image.Resampling.NEAREST
    )
    assert told(saved(tmp_path, large))["photo/enlarged"] == "repeated"


@pytest.mark.parametrize("quality, codes", [(40, {"photo/jpeg-quality": "strongly-compressed"}),
                                            (85, {})])  # fmt: skip
def test_a_squeezed_photo_is_told(tmp_path, quality, codes):
    assert told(saved(tmp_path, rocks(1600), "photo.jpg", quality=quality)) == codes


def test_dark_pale_and_flat_photos_are_told(tmp_path):
    image = rocks(900)
    dark, black = (image.point(lambda code, k=k: code * k) for k in (0.2, 0.12))
    pale = image.point(lambda code: 215 + code * 40 / 255)
    flat = ImageEnhance.Contrast(image).enhance(0.15)
    found = [
        told(saved(tmp_path, one)).get("photo/exposure") for one in (image, dark, black, pale, flat)
    ]
    assert found == [None, "too-dark", "nearly-black", "too-pale", "flat"]


def phone(photo: Image.Image, *, signs: bool) -> Image.Image:
    """A picture of a phone's screen with a photo across its middle."""
    screen = Image.new("RGB", (1170, 2532), (18, 18, 20))
    wide = photo.resize((1170, round(photo.height * 1170 / photo.width)))
    screen.paste(wide, (0, (2532 - wide.height) // 2))
    if signs:
        for left, right in ((90, 190), (960, 1090)):
            for x in range(left, right, 9):
                screen.paste((240, 240, 240), (x, 50, x + 4, 84))
    return screen


def test_a_picture_of_a_screen_is_told(tmp_path):
    photo = rocks(1170)
    with_clock = saved(tmp_path, phone(photo, signs=True))
    assert told(with_clock)["photo/screenshot"] == "screenshot"
    bare = saved(tmp_path, phone(photo, signs=False))
    assert told(bare, (40.0, 80.0))["photo/screenshot"] == "bars"
    assert "photo/screenshot" not in told(bare)  # the can shows the middle alone
