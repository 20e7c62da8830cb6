"""What photos' pixels tell, against published values, another library and known damage."""

from __future__ import annotations

import io
import json
import math
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage, signal

from proofgen.photo.measures import quality_of
from proofgen.photo.measures.before import COSINES, quality_before
from proofgen.photo.measures.borders import bars, frame_of, status_line
from proofgen.photo.measures.grids import old_grid
from proofgen.photo.measures.periods import BINS, off_grid, swing_lines, swings
from proofgen.photo.measures.resampling import (
    detail_in,
    energy_of,
    fine_share,
    finest_share,
    repeated_lines,
)
from proofgen.photo.measures.screens import screen_of
from proofgen.photo.measures.sharpness import sharpness_of
from proofgen.photo.measures.tiles import busiest
from proofgen.photo.measures.tones import tones_of
from tests.bench.photo_spoils import crossed, enlarged, of_a_screen, saved, yellowed
from tests.photo.carried import BICUBIC, BILINEAR, NEAREST, grey, larger, picture

DATA = Path(__file__).parents[1] / "data"


# Blur


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
    assert found.across_px is None
    assert found.line_px < 0.7 * sigma
    plane[:, 360:] = 0.8
    assert sharpness_of(ndimage.gaussian_filter(plane, sigma)).across_px == pytest.approx(
        sigma, abs=0.1
    )


def test_one_sharp_part_makes_a_photo_sharp():
    plane = grey(picture("astronaut.png")) / 255
    soft = ndimage.gaussian_filter(plane, 4)
    assert sharpness_of(soft).edge_px > 2
    soft[:192, 128:320] = plane[:192, 128:320]
    assert sharpness_of(soft).edge_px < 0.5


def noisy(plane: np.ndarray, codes: float) -> np.ndarray:
    return plane + np.random.default_rng(5).normal(0, codes / 255, plane.shape)


def wide(name: str, sigma: float) -> np.ndarray:
    """A picture at twice its size, so that it has room for edges, blurred."""
    return ndimage.gaussian_filter(grey(larger(name, 2, BICUBIC)) / 255, sigma)


@pytest.mark.parametrize("codes", [2, 6, 12])
def test_noise_over_a_blurred_photo_is_no_sharpness(codes):
    assert sharpness_of(noisy(wide("astronaut.png", 3), codes)).edge_px > 1.4


@pytest.mark.parametrize("codes", [2, 6, 12])
def test_noise_over_a_sharp_photo_is_no_blur(codes):
    assert sharpness_of(noisy(grey(picture("astronaut.png")) / 255, codes)).edge_px < 0.9


@pytest.mark.parametrize("sigma", [3, 6, 12, 20, 40])
def test_the_wider_the_blur_the_wider_the_edges(sigma):
    """Until none is left at all, while light and dark still differ."""
    found = sharpness_of(noisy(wide("astronaut.png", sigma), 6))
    assert found.span > 0.2
    assert found.edge_px is None or found.edge_px > min(0.35 * sigma, 4)


@pytest.mark.parametrize("sigma", [3, 4, 6, 8, 20])
@pytest.mark.parametrize("name", ["astronaut.png", "coffee.png", "chelsea.png"])
def test_no_grain_makes_a_blurred_photo_sharp(name, sigma):
    """Edges under grain read as sharp here and there, the more the fainter they are; and noise that
    blurred slopes are counted with was taken for detail, which hides nothing."""
    rng = np.random.default_rng(5)
    film = ndimage.gaussian_filter(rng.normal(size=(1024, 1024)), 0.8)
    for grain in (rng.normal(0, 8 / 255, (1024, 1024)), 16 / 255 * film / film.std()):
        plane = wide(name, sigma)
        found = sharpness_of(plane + grain[: plane.shape[0], : plane.shape[1]])
        assert found.edge_px is None or found.edge_px >= 1.4
        assert found.line_px is None or found.line_px >= 0.3


def test_grass_is_told_from_grain():
    """Both hide edges; half size leaves half of grain, and all of grass."""
    grass = sharpness_of(grey(picture("grass.png")) / 255)
    assert (grass.noise_kept > 0.8, grass.line_px) == (True, 0.1)
    grain = noisy(np.full((400, 400), 0.5), 6)
    found = sharpness_of(grain)
    assert found.noise_kept == pytest.approx(0.5, abs=0.05)
    # The slope of white noise after a blur of 1 px, but for its most even patches.
    assert found.noise == pytest.approx(6 / 255 / math.sqrt(8 * math.pi), rel=0.4)
    assert found.edge_px is None


@pytest.mark.parametrize("length", [11, 21, 41, 81])
@pytest.mark.parametrize("way", ["level", "upright", "falling", "rising"])
def test_a_camera_that_moved_leaves_no_sharp_edge_of_one_way(way, length):
    """However far: long streaks leave none at all."""
    one, slanting = np.ones((1, length)), np.eye(length)
    moved = {"level": one, "upright": one.T, "falling": slanting, "rising": slanting[::-1]}[way]
    rows, columns = np.indices((1000, 1000)) % 200 - 100
    plane = ndimage.gaussian_filter((np.hypot(rows, columns) < 75) * 0.8, 0.6)  # edges of all ways
    still, found = (
        sharpness_of(one) for one in (plane, signal.oaconvolve(plane, moved / moved.sum(), "same"))
    )
    assert max(still.across_px, still.down_px) < 1.4 < 2.4 > still.diagonal_px
    lost = {"level": found.across_px, "upright": found.down_px}.get(way, found.diagonal_px)
    assert lost is None or lost >= (2.4 if lost is found.diagonal_px else 1.4)


@pytest.mark.parametrize("sigma", [3, 6, 12, 20])
def test_a_date_in_a_corner_makes_no_photo_sharp(sigma):
    plane = wide("astronaut.png", sigma)
    plane[-100:-60, -220:-40:12] = 1.0
    plane[-100:-60, -216:-40:12] = 0.0
    found = sharpness_of(plane)
    assert found.inner_px is None or found.inner_px > 1.4
    assert found.inner_span > 0.2


def test_too_little_to_judge_by():
    assert sharpness_of(np.full((300, 300), 0.5)).edge_px is None
    assert sharpness_of(np.full((300, 300), 0.5)).span == 0
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


def compressed(image: Image.Image, quality: int) -> Image.Image:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality)
    return Image.open(out)


def resized(image: Image.Image, factor: float) -> Image.Image:
    size = (round(image.width * factor), round(image.height * factor))
    return image.convert("RGB").resize(size, Image.Resampling.LANCZOS)


@pytest.mark.parametrize("quality", [None, 90, 70])
@pytest.mark.parametrize("factor", [1.5, 2.0, 4.0])
def test_an_older_grid_is_found_at_its_new_size(factor, quality):
    larger = resized(compressed(picture("coffee.png"), 70), factor)
    assert old_grid(grey(compressed(larger, quality) if quality else larger)) > 1.5


@pytest.mark.parametrize("name", ["coffee.png", "chelsea.png", "grass.png", "astronaut.png"])
def test_no_older_grid_where_there_was_none(name):
    whole = picture(name)
    for seen in (whole, compressed(whole, 90), compressed(whole, 60), resized(whole, 0.75)):
        assert old_grid(grey(seen)) < 1.1
    assert old_grid(np.zeros((255, 900), np.uint8)) == 0.0
    assert old_grid(np.full((300, 300), 90, np.uint8)) < 1


@pytest.mark.parametrize("low, high, factor", [(0.35, 0.5, 2), (0.175, 0.25, 4)])
def test_a_filter_that_cuts_well_leaves_nothing_above_the_old_detail(low, high, factor):
    whole = picture("grass.png")
    before = detail_in(energy_of(busiest(grey(whole))), low, high)
    after = detail_in(energy_of(busiest(grey(resized(whole, factor)))), low, high)
    assert before > 2.5 and after < 0.9
    assert detail_in(energy_of(busiest(np.zeros((9, 9), np.uint8))), low, high) == 9.0


@pytest.mark.parametrize("first, last", [(25, 92), (25, 75), (40, 90), (50, None)])
@pytest.mark.parametrize("name", ["coffee.png", "astronaut.png"])
def test_an_earlier_compression_is_read_from_its_steps(name, first, last):
    twice = compressed(picture(name), first)
    plane = grey(compressed(twice.convert("RGB"), last) if last else twice)
    assert quality_before(busiest(plane)) == pytest.approx(first, abs=4)
    assert quality_before(busiest(plane[3:, 5:])) is None  # off the grid


@pytest.mark.parametrize("name", ["coffee.png", "astronaut.png", "grass.png"])
def test_no_compression_before_the_only_one(name):
    whole = picture(name)
    assert quality_before(busiest(grey(whole))) is None
    for quality in (60, 75, 92):
        found = quality_before(busiest(grey(compressed(whole, quality))))
        assert found is None or abs(found - quality) <= 5
    assert quality_before(busiest(grey(resized(compressed(whole, 25), 0.8)))) is None


def test_grid_of_a_jpeg_swings_at_eighths_alone():
    out = io.BytesIO()
    picture("coffee.png").save(out, "JPEG", quality=40)
    found = swing_lines(busiest(grey(Image.open(out))))
    assert min(found.eighth, found.quarter, found.three_eighths) > 0.03
    assert found.line < 0.03


def test_twice_the_size_leaves_the_top_octave_empty():
    before = fine_share(energy_of(busiest(grey(larger("grass.png", 1, BICUBIC)))))
    after = fine_share(energy_of(busiest(grey(larger("grass.png", 2, BICUBIC)))))
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
        assert fine_share(energy_of(busiest(plane))) < 0.01
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
    [(0, (1, 0)), (1, (1, 0)), (2, (0, 0)), (252, (0, 0)), (253, (0, 1)), (255, (0, 1))],
)
def test_an_end_is_a_few_codes_wide(code, ends):
    tones = tones_of(Image.new("RGB", (20, 20), (code,) * 3))
    assert (tones.dark, tones.bright) == ends


@pytest.mark.parametrize("name", ["coffee.png", "chelsea.png"])
def test_one_tint_over_all_leaves_no_colour_astray(name):
    photo = picture(name).convert("RGB")
    assert tones_of(photo).strays > 5
    toned = tones_of(yellowed(photo, 1.0))
    assert toned.strays < 2 and toned.tint[1] > 8
    a, b = toned.light_tint
    assert b > toned.dark_tint[1] > 0 < a


def test_a_filter_gives_lights_and_darks_tints_of_their_own():
    photo = picture("chelsea.png").convert("RGB")
    made = tones_of(crossed(photo, 50))
    assert made.light_tint[1] > 20 and made.dark_tint[1] < -20


def test_a_thin_line_is_found_where_it_is_printed():
    photo = grey(picture("coffee.png"))
    high, wide = photo.shape
    assert frame_of(photo, (0, 0, wide, high)).lines == (0.0, 0.0, 0.0, 0.0)
    lined = np.pad(photo[:-3], ((0, 3), (0, 0)), constant_values=240)
    assert frame_of(lined, (0, 0, wide, high)).lines == (0.0, 0.0, 0.0, 3 / high)
    assert frame_of(lined, (0, 0, wide, high - 3)).lines[3] == 0.0
    assert frame_of(lined.T, (0, 0, high, wide)).lines == (0.0, 0.0, 3 / high, 0.0)
    fog = np.linspace(120, 240, 40).astype(np.uint8)[:, None]  # that grows lighter is none
    sky = np.vstack([photo[40:], np.broadcast_to(fog, (40, wide))])
    assert frame_of(sky, (0, 0, wide, high)).lines[3] == 0.0


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


@pytest.mark.parametrize("name", ["coffee.png", "astronaut.png"])
def test_no_square_of_what_was_made_four_times_as_large_holds_a_fine_wave(name):
    photo, large = picture(name), enlarged(picture(name), 4, Image.Resampling.LANCZOS)
    for quality in (80, 70):
        assert finest_share(busiest(grey(saved(photo, quality)))) > 0.1
        assert finest_share(busiest(grey(saved(large, quality)))) < 0.001
    wave = 128 + 30 * np.cos(np.pi * 7 * (np.arange(256) + 0.5) / 8)
    tiles = busiest(np.tile(wave, (256, 1)).astype(np.uint8))
    assert finest_share(tiles) == finest_share(tiles.swapaxes(1, 2)) == 1.0
    assert finest_share(tiles[:0]) == 1.0


@pytest.mark.parametrize("codes, share", [(3.9, 0.0), (4.1, 1.0)])
def test_what_rounding_leaves_is_no_fine_wave(codes, share):
    """A wave of each square's finest that is so high."""
    square = np.outer(COSINES[7], COSINES[2]) * codes
    tiles = np.tile(square, (2, 4, 4)).astype(np.float32)
    assert finest_share(tiles) == share


@pytest.mark.parametrize("name", ["coffee.png", "chelsea.png", "astronaut.png"])
def test_the_grid_of_a_screen_is_told_from_what_it_shows(name):
    photo = picture(name)
    assert screen_of(grey(photo)) < 0.2
    for pitch, turn in ((2.3, 1), (3, 7), (4, -2)):
        assert screen_of(grey(saved(of_a_screen(photo, pitch, turn), 85))) >= 0.9


@pytest.mark.parametrize("name", ["brick.png", "gravel.png", "grass.png"])
def test_a_wall_and_what_repeats_are_no_screen(name):
    assert screen_of(grey(picture(name))) < 0.4
    assert screen_of(grey(picture(name))[:200]) == 0.0
    assert screen_of(np.full((512, 512), 90, np.uint8)) == 0.0


def test_stripes_alone_are_no_screen():
    waves = 128 + 60 * np.sin(2 * np.pi * 0.31 * np.arange(512))
    stripes = np.tile(waves, (512, 1))
    assert screen_of(stripes.astype(np.uint8)) == 0.0
    assert screen_of(((stripes + stripes.T) / 2).astype(np.uint8)) == 1.0


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


@pytest.mark.parametrize("ink", [255, 0])
def test_status_line_over_a_photo_that_fills_the_screen(ink):
    screen = np.asarray(picture("coffee.png").convert("L").resize((740, 1600))).copy()
    np.clip(screen, 30, 220, out=screen)
    assert not status_line(screen)
    screen[24:44, 40:110:3] = ink  # a clock
    assert not status_line(screen)
    screen[22:46, 640:700:4] = ink  # signs
    assert status_line(screen)
    screen[30:34, 360:380] = ink  # something in the middle, too: no phone's
    assert not status_line(screen)
