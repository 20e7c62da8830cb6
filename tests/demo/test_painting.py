"""The demo's pictures are what the script paints, carry what they should, and are small."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import ExifTags, Image, ImageFilter

sys.path.insert(0, str(Path(__file__).parent))

import paint
import render

SMALL = 0.2
# Mean difference of 8-bit codes between a small painting and the committed one made small: JPEG
# and the two ways of making edges smooth cost one to two codes; a moved house costs far more.
CLOSE = 3.0


def pictures() -> list[Path]:
    parts = [paint.CONTENT / "orders", paint.CONTENT / "designs"]  # the records' are not painted
    return [p for part in parts for p in part.rglob("*") if p.suffix in (".jpg", ".png")]


def codes(picture: Image.Image, size: tuple[int, int]) -> np.ndarray:
    small = picture.convert("RGB").resize(size, Image.Resampling.BOX)
    return np.asarray(small.filter(ImageFilter.BoxBlur(1)), dtype=float)


@pytest.mark.parametrize("name", paint.PHOTOS)
def test_photo_is_what_the_script_paints(name):
    with Image.open(paint.CONTENT / "orders" / name) as kept:
        scale = SMALL if kept.width > 1000 else 1.0
        painted = paint.photo(name, scale)
        assert kept.size == tuple(round(side / scale) for side in painted.size)
        apart = np.abs(codes(kept, painted.size) - codes(painted, painted.size))
    assert apart.mean() < CLOSE


def test_another_picture_would_be_noticed():
    gold = paint.photo("quill-wedding/photos/hill.png", SMALL)
    rose = paint.SAMPLES["two-on-a-hill"](SMALL)
    apart = np.abs(codes(gold, gold.size) - codes(rose, gold.size))
    assert apart.mean() > 3 * CLOSE


@pytest.mark.parametrize("name", paint.ART)
def test_art_is_what_the_script_draws(name):
    drawn = paint.ART[name]()
    with Image.open(paint.CONTENT / "designs" / name) as kept:
        assert (kept.mode, kept.size) == (drawn.mode, drawn.size)
        apart = np.abs(np.asarray(kept, dtype=float) - np.asarray(drawn, dtype=float))
    # Other builds of Pillow may round an edge another way; nothing else may differ.
    assert apart.mean() < 0.05


def test_same_numbers_give_the_same_picture():
    one, other = (paint.photo("thistle-sill/photos/cat.jpg").tobytes() for _ in range(2))
    assert one == other


def test_turned_photo_says_so_and_stands_upright():
    with Image.open(paint.CONTENT / "orders" / paint.TURNED[0]) as kept:
        assert kept.getexif()[ExifTags.Base.Orientation] == 6
        assert kept.width > kept.height


def test_pictures_are_small_to_carry_and_all_made_by_a_script():
    assert sum(p.stat().st_size for p in pictures()) <= 3_000_000
    made = {f"orders/{name}" for name in paint.PHOTOS}
    made |= {shot.path for shot in render.SHOTS.values()}
    made |= {f"designs/{name}" for name in paint.ART}
    made |= {f"designs/{name}/sample.jpg" for name in paint.SAMPLES}
    assert {p.relative_to(paint.CONTENT).as_posix() for p in pictures()} == made


@pytest.mark.parametrize("design", [*paint.SAMPLES, "harbour-photo"])
def test_samples_are_not_customers_pictures(design):
    with Image.open(paint.CONTENT / "designs" / design / "sample.jpg") as sample:
        size = (60, 60)
        shown = codes(sample, size)
    for path in (paint.CONTENT / "orders").glob("*/photos/*"):
        with Image.open(path) as kept:
            assert np.abs(codes(kept, size) - shown).mean() > CLOSE, path


def test_the_script_runs_by_itself():
    code = f"import runpy; runpy.run_path({paint.__file__!r}, run_name='looked at')"
    subprocess.run([sys.executable, "-c", code], check=True, cwd="/")
