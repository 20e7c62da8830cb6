"""What photos' pixels tell, against published values, another library and known damage."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import numpy as np
import pytest
import skimage
import skimage.color
import skimage.measure
from PIL import Image
from scipy import ndimage

from proofgen.photo.measures import quality_of
from proofgen.photo.measures.blur import blur_effect
from proofgen.photo.measures.borders import bars, frame_of, status_line
from proofgen.photo.measures.edges import sharpness_of
from proofgen.photo.measures.periods import BINS, off_grid, swing_lines, swings
from proofgen.photo.measures.resampling import fine_share, repeated_lines
from proofgen.photo.measures.tiles import busiest
from proofgen.photo.measures.tones import tones_of
from tests.photo.carried import BICUBIC, BILINEAR, NEAREST, grey, larger, picture

DATA = Path(__file__).parents[1] / "data"


# Blur


@pytest.mark.parametrize("name", ["astronaut.png", "coffee.png", "chelsea.png", "rocket.jpg"])
def test_blur_effect_equals_another_library(name):
    plane = skimage.color.rgb2gray(np.asarray(picture(name)))
    assert blur_effect(plane) == pytest.approx(skimage.measure.blur_effect(plane), abs=1e-6)
    odd = plane[3:150, 5:203]
    assert blur_effect(odd) == pytest.approx(skimage.measure.blur_effect(odd), abs=1e-6)
    assert blur_effect(odd, 4) == pytest.approx(skimage.measure.blur_effect(odd, 4), abs=1e-6)


def published() -> list[tuple[str, float]]:
    """Of blur_checks.csv, the rows without enlarging (scikit-image 0.26, Pillow 13)."""
    with (DATA / "blur_checks.csv").open() as stream:
        rows = [(r["image"], float(r["blur_effect"])) for r in csv.DictReader(stream)]
    return [row for row in rows if "centre" not in row[0]]


@pytest.mark.parametrize("image, expected", published())
def test_blur_effect_has_the_published_values(image, expected):
    name, _, blur = image.partition(" gaussian sigma=")
    plane = grey(picture(name if "." in name else f"{name}.png")) / 255
    plane = ndimage.gaussian_filter(plane, float(blur)) if blur else plane
    assert blur_effect(plane) == pytest.approx(expected, abs=1e-6)


def test_blur_effect_of_an_even_plane_is_none():
    assert blur_effect(np.full((40, 40), 0.5)) == 0.0


@pytest.mark.parametrize("sigma", [1.5, 2.0, 3.0, 4.0])
def test_edge_widths_give_back_the_blur_of_a_step(sigma):
    step = np.zeros((240, 240))
    step[:, 120:] = 0.8
    found = sharpness_of(ndimage.gaussian_filter(step, sigma))
    assert found.across_px == pytest.approx(sigma, abs=0.1)
    assert found.edge_px == pytest.approx(sigma, abs=0.1)
    assert found.down_px is None  # no edge runs that way
    turned = sharpness_of(ndimage.gaussian_filter(step, sigma).T)
    assert (turned.down_px, turned.across_px) == (pytest.approx(sigma, abs=0.1), None)


@pytest.mark.parametrize("sigma", [1.5, 2.0, 3.0])
def test_flanks_of_lines_are_not_taken_for_sharp_steps(sigma):
    """Blurred again they take from each other, and would read as half as wide."""
    plane = np.zeros((240, 480))
    plane[:, 20:220:20] = 1.0  # lines of one px
    found = sharpness_of(ndimage.gaussian_filter(plane, sigma))
    assert found.edge_px is None
    assert found.line_px < 0.7 * sigma
    plane[:, 360:] = 0.8
    assert sharpness_of(ndimage.gaussian_filter(plane, sigma)).edge_px == pytest.approx(
        sigma, abs=0.1
    )


def test_one_sharp_part_makes_a_photo_sharp():
    plane = grey(picture("astronaut.png")) / 255
    soft = ndimage.gaussian_filter(plane, 4)
    assert sharpness_of(soft).edge_px > 2
    soft[:192, 128:320] = plane[:192, 128:320]
    assert sharpness_of(soft).edge_px < 0.5
    assert blur_effect(soft) > 0.55  # which the whole's own blur would not tell


def test_noise_over_a_blurred_photo_is_no_sharpness():
    plane = ndimage.gaussian_filter(grey(picture("astronaut.png")) / 255, 3)
    noisy = plane + np.random.default_rng(5).normal(0, 2 / 255, plane.shape)
    assert (
        blur_effect(noisy) < blur_effect(plane) - 0.05
    )  # which the published measure takes it for
    assert sharpness_of(noisy).edge_px > 1.4


def test_too_little_to_judge_by():
    assert sharpness_of(np.full((300, 300), 0.5)).edge_px is None
    assert sharpness_of(np.zeros((20, 300))).edge_px is None


# Enlarging


@pytest.mark.parametrize("name", ["coffee.png", "camera.png", "chelsea.png", "grass.png"])
def test_no_swing_in_untouched_pictures(name):
    assert swing_lines(busiest(grey(picture(name)))).over < 5


def test_exactly_twice_swings_at_a_half():
    found = swing_lines(busiest(grey(larger("coffee.png", 2, BICUBIC))))
    assert found.half > 0.1 > 10 * found.quarter
    assert swing_lines(busiest(grey(picture("coffee.png")))).half < 0.02


@pytest.mark.parametrize("way", [BILINEAR, BICUBIC])
@pytest.mark.parametrize("factor", [1.37, 1.5, 1.75, 2.5, 3.0])
def test_rules_swing_once_for_every_old_pixel(factor, way):
    tiles = busiest(grey(larger("coffee.png", factor, way)))
    assert swing_lines(tiles).over > 10
    at = off_grid(swings(tiles)).argmax() / BINS
    places = [abs(n / factor - round(n / factor)) for n in (1, 2, 3)]
    assert min(abs(at - place) for place in places) < 0.008


def test_four_times_swings_at_a_quarter():
    found = swing_lines(busiest(grey(larger("astronaut.png", 4, BILINEAR))))
    assert found.quarter > 0.05 > 5 * max(found.eighth, found.three_eighths)


def test_grid_of_a_jpeg_swings_at_eighths_alone():
    out = io.BytesIO()
    picture("coffee.png").save(out, "JPEG", quality=40)
    found = swing_lines(busiest(grey(Image.open(out))))
    assert min(found.eighth, found.quarter, found.three_eighths) > 0.03
    assert found.line < 0.03


def test_twice_the_size_leaves_the_top_octave_empty():
    before = fine_share(busiest(grey(larger("grass.png", 1, BICUBIC))))
    after = fine_share(busiest(grey(larger("grass.png", 2, BICUBIC))))
    assert before > 0.1 > 5 * after


@pytest.mark.parametrize("factor, share", [(1.5, 1 / 3), (2, 1 / 2), (4, 3 / 4)])
def test_lines_repeat_without_blending(factor, share):
    assert repeated_lines(grey(larger("camera.png", factor, NEAREST))) == pytest.approx(
        share, abs=0.01
    )
    assert repeated_lines(grey(larger("camera.png", factor, BILINEAR))) < 0.05


def test_small_or_even_planes_have_no_traces():
    for plane in (np.zeros((20, 20), np.uint8), np.full((300, 300), 90, np.uint8)):
        assert swing_lines(busiest(plane)).line < 0.01
        assert fine_share(busiest(plane)) < 0.01
        assert repeated_lines(plane) == 0.0


# JPEG quality


def tables(image: Image.Image, **options: object) -> dict[int, tuple[int, ...]]:
    out = io.BytesIO()
    image.save(out, "JPEG", **options)
    with Image.open(out) as opened:
        return {number: tuple(table) for number, table in opened.quantization.items()}


@pytest.mark.parametrize("mode", ["L", "RGB", "CMYK"])
def test_every_quality_is_read_from_its_tables(mode):
    small = picture("coffee.png").resize((32, 24)).convert(mode)
    for quality in range(1, 101):
        assert quality_of(tables(small, quality=quality)) == quality
    assert quality_of(tables(small, quality=73, progressive=True)) == 73


def test_annex_k_is_quality_50():
    """ITU-T T.81, Annex K.1 and K.2; jpeg_quant.json holds what libjpeg writes."""
    known = json.loads((DATA / "jpeg_quant.json").read_text())
    for quality in (50, 75):
        luma, chroma = (
            tuple(step for row in known[f"{name}_Q{quality}"] for step in row)
            for name in ("luma", "chroma")
        )
        assert quality_of({0: luma, 1: chroma}) == quality
        assert quality_of({0: luma}) == quality
        assert quality_of({0: tuple(reversed(luma))}) == quality  # whatever the order of listing


def test_foreign_tables_are_the_nearest_quality():
    image = picture("coffee.png").resize((32, 24))
    at_70 = tables(image, quality=70)
    near = {n: tuple(max(1, round(step * 1.03)) for step in t) for n, t in at_70.items()}
    assert abs(quality_of(near) - 70) <= 2
    qualities = [quality_of({0: (step,) * 64}) for step in (1, 2, 5, 10, 30, 80, 200)]
    assert qualities == sorted(qualities, reverse=True)
    assert qualities[0] == 100 and qualities[-1] < 25


@pytest.mark.parametrize("odd", [{}, {1: (1,) * 64}, {0: (1,)}, {0: (0,) * 64}])
def test_no_whole_table_no_quality(odd):
    assert quality_of(odd) is None


# Lightness and borders


@pytest.mark.parametrize(
    "code, light", [(0, 0.0), (119, 50.03), (128, 53.59), (255, 100.0)]
)  # CIE L* of sRGB greys: tests/data/srgb_lab.csv and IEC 61966-2-1
def test_lightness_of_greys(code, light):
    found = tones_of(Image.new("RGB", (64, 48), (code,) * 3))
    assert found.lightness == pytest.approx((light,) * 7, abs=0.02)
    assert (found.dark, found.bright) == (float(code == 0), float(code == 255))


def test_ends_of_the_scale_are_counted():
    image = Image.new("RGB", (100, 100), (90, 120, 60))
    image.paste((255, 255, 255), (0, 0, 100, 30))
    image.paste((0, 0, 0), (0, 30, 100, 40))
    image.paste((255, 40, 40), (0, 40, 100, 60))
    found = tones_of(image)
    assert (found.bright, found.dark) == pytest.approx((0.3, 0.1))


@pytest.mark.parametrize(
    ("code", "ends"),
    [(0, (1, 0)), (1, (1, 0)), (2, (0, 0)), (253, (0, 0)), (254, (0, 1)), (255, (0, 1))],
)
def test_an_end_is_two_codes_wide(code, ends):
    tones = tones_of(Image.new("RGB", (20, 20), (code,) * 3))
    assert (tones.dark, tones.bright) == ends


def framed(colour: int, top: int = 0, left: int = 0) -> np.ndarray:
    photo = grey(picture("coffee.png"))
    return np.pad(photo, ((top, top), (left, left)), constant_values=colour)


def test_bars_are_found_on_their_sides():
    assert bars(framed(0)) == (0.0, 0.0, 0.0, 0.0)
    left, top, right, bottom = bars(framed(0, top=100))
    assert (left, right) == (0.0, 0.0)
    assert (top, bottom) == pytest.approx((1 / 6, 1 / 6), abs=0.01)
    left, top, right, bottom = bars(framed(250, left=60))
    assert (top, bottom) == (0.0, 0.0)
    assert (left, right) == pytest.approx((60 / 720, 60 / 720), abs=0.01)


def test_a_bar_has_its_like_and_a_straight_end():
    photo = grey(picture("coffee.png"))
    one = np.pad(photo, ((100, 0), (0, 0)), constant_values=0)
    assert bars(one)[1] == 0.0  # a dark sky
    sky_and_snow = np.pad(one, ((0, 100), (0, 0)), constant_values=250)
    assert bars(sky_and_snow) == (0.0, 0.0, 0.0, 0.0)
    ground = np.full((600, 600), 255, np.uint8)  # a thing on white
    rows, columns = np.ogrid[:600, :600]
    ground[(rows - 300) ** 2 + (columns - 300) ** 2 < 200**2] = 60
    assert bars(ground) == (0.0, 0.0, 0.0, 0.0)


@pytest.mark.parametrize("side", range(4))
def test_a_bar_is_shown_where_it_reaches_into_the_print(side):
    plane = framed(0, left=60) if side in (0, 2) else framed(0, top=100)
    depth = 60 if side in (0, 2) else 100
    whole = [0, 0, plane.shape[1], plane.shape[0]]
    inside = [depth, depth, plane.shape[1] - depth, plane.shape[0] - depth]
    for by, shown in ((-5, True), (0, False), (5, False)):
        box = list(inside)
        box[side] += by if side < 2 else -by
        assert frame_of(plane, tuple(box)).bars_shown is shown
    assert frame_of(plane, tuple(whole)).bars_shown


def test_status_line_of_a_phone():
    screen = np.full((1600, 740), 20, np.uint8)
    screen[400:900] = np.asarray(picture("coffee.png").convert("L").resize((740, 500)))
    assert not status_line(screen)
    screen[24:44, 40:110:3] = 240  # a clock
    assert not status_line(screen)
    screen[22:46, 640:700:4] = 240  # signs
    assert status_line(screen)
    assert not status_line(screen[:, ::-1].T)  # lying
    assert not status_line(screen[:1000])  # no phone's shape
