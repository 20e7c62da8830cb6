"""What photos' pixels tell, against published values, another library and known damage."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import PIL
import pytest
import skimage
import skimage.color
import skimage.measure
from PIL import Image
from scipy import ndimage

from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import MeasureKey, PhotoMeasures, measure_key
from proofgen.photo import measures
from proofgen.photo.measures import measure, measure_all, measure_picture, quality_of
from proofgen.photo.measures.blur import blur_effect
from proofgen.photo.measures.borders import bars, status_line
from proofgen.photo.measures.edges import sharpness_of
from proofgen.photo.measures.periods import BINS, off_grid, swing_lines, swings
from proofgen.photo.measures.resampling import fine_share, repeated_lines
from proofgen.photo.measures.tiles import busiest
from proofgen.photo.measures.tones import tones_of
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.materials import PICTURES

DATA = Path(__file__).parents[1] / "data"
CARRIED = Path(skimage.__file__).parent / "data"  # pictures that the wheel carries
BICUBIC, BILINEAR = Image.Resampling.BICUBIC, Image.Resampling.BILINEAR
NEAREST = Image.Resampling.NEAREST


def picture(name: str) -> Image.Image:
    with Image.open(CARRIED / name) as opened:
        return opened.convert("RGB")


def grey(image: Image.Image) -> np.ndarray:
    return np.asarray(image.convert("L"))


def larger(name: str, factor: float, way: Image.Resampling, most: int = 700) -> Image.Image:
    """The middle of a picture, enlarged to at most so many px."""
    whole = picture(name)
    side = min(*whole.size, int(most / factor))
    left, top = (whole.width - side) // 2, (whole.height - side) // 2
    return whole.crop((left, top, left + side, top + side)).resize((round(side * factor),) * 2, way)


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
    ground = np.full((600, 600), 255, np.uint8)  # a thing on white
    rows, columns = np.ogrid[:600, :600]
    ground[(rows - 300) ** 2 + (columns - 300) ** 2 < 200**2] = 60
    assert bars(ground) == (0.0, 0.0, 0.0, 0.0)


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


# All together


WHOLE = Rect(0, 0, 512, 512)


def same(one: PhotoMeasures, other: PhotoMeasures, share: float) -> None:
    for name in ("blur", "edge_px"):
        pair = (getattr(part.sharpness, name) for part in (one, other))
        assert next(pair) == pytest.approx(next(pair), rel=share)
    assert one.traces.fine == pytest.approx(other.traces.fine, rel=share)
    light = other.tones.lightness
    assert one.tones.lightness == pytest.approx(light, rel=share, abs=0.5 * share * 100)


# How stored pixels come from upright ones (EXIF tag 0x0112): the way back of tests/data/
# exif_orientation.json.
STORED = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


def test_same_pixels_give_the_same_measures(tmp_path):
    """In PNG and TIFF, stored in any of the eight ways."""
    upright = picture("coffee.png")
    crop, raster = Rect(40.5, 20.25, 500.0, 300.0), (400, 240)
    found = set()
    for turn, stored in STORED.items():
        image = upright.transpose(stored) if stored is not None else upright
        exif = Image.Exif()
        exif[0x0112] = turn
        for ending in ("png", "tif"):
            path = tmp_path / f"{turn}.{ending}"
            image.save(path, exif=exif)
            facts = PICTURES.inspect(path, decode=False)
            assert (facts.width_px, facts.height_px) == upright.size
            found.add(measure(facts, crop, raster, PICTURES))
    assert len(found) == 1
    assert (found.pop().sharpness.width_px,) == (400,)


def test_jpeg_of_highest_quality_measures_alike(tmp_path):
    upright = picture("coffee.png")
    for name, options in (("a.png", {}), ("a.jpg", {"quality": 100, "subsampling": 0})):
        upright.save(tmp_path / name, **options)
    whole = Rect(0, 0, *upright.size)
    one, other = (
        measure(PICTURES.inspect(tmp_path / name), whole, upright.size, PICTURES)
        for name in ("a.png", "a.jpg")
    )
    same(one, other, 0.02)


def test_a_sharp_photo_printed_small_is_measured_small():
    """Blurred by 3 px and printed at a quarter of its size, it has edges of less than 1 px."""
    plane = ndimage.gaussian_filter(np.asarray(picture("astronaut.png")), (3, 3, 0))
    soft = Image.fromarray(plane)
    large = measure_picture(soft, WHOLE, (2000, 2000)).sharpness
    small = measure_picture(soft, WHOLE, (128, 128)).sharpness
    assert (large.width_px, small.width_px) == (512, 128)  # never enlarged
    assert large.edge_px > 1.4 > 1.0 > small.edge_px


def test_only_the_printed_part_is_measured():
    image = Image.new("RGB", (512, 1024), (128, 128, 128))
    image.paste(picture("astronaut.png"), (0, 512))
    even = measure_picture(image, WHOLE, (512, 512))
    assert (even.sharpness.edge_px, even.sharpness.blur) == (None, 0.0)
    assert set(even.tones.lightness) == {even.tones.lightness[0]}
    busy = measure_picture(image, Rect(0, 512, 512, 512), (512, 512))
    assert busy == measure_picture(picture("astronaut.png"), WHOLE, (512, 512))


def test_a_scaled_picture_keeps_no_traces():
    image = larger("coffee.png", 2, BICUBIC)
    half = image.resize((image.width // 2, image.height // 2))
    found = measure_picture(
        half, Rect(0, 0, *image.size), (4000, 4000), full=(image.width, image.height)
    )
    assert found.traces is None
    assert found.sharpness.width_px == half.width


def test_clear_parts_count_as_bare_cloth():
    image = picture("coffee.png").convert("RGBA")
    image.paste((0, 0, 0, 0), (0, 0, 300, 400))
    found = measure_picture(image, Rect(0, 0, 600, 400), (600, 400))
    assert found.tones.bright == pytest.approx(0.5, abs=0.02)


def test_measures_are_remembered_and_a_photo_decoded_once(tmp_path, monkeypatch):
    path = tmp_path / "photo.png"
    picture("coffee.png").save(path)
    facts, pictures = PICTURES.inspect(path), Pictures(Store(tmp_path / "store"))
    opened = []
    monkeypatch.setattr(
        pictures, "open_pixels", lambda f: opened.append(f) or PICTURES.open_pixels(f)
    )
    keys = [
        MeasureKey(facts.sha256, (0.0, 0.0, 600.0, 400.0), (600, 400)),
        MeasureKey(facts.sha256, (0.0, 0.0, 300.0, 400.0), (300, 400)),
    ]
    first = measure_all(facts, keys, pictures)
    assert len(opened) == 1 and len(first) == 2
    assert measure_all(facts, keys, pictures) == first
    assert measure(facts, Rect(0, 0, 600, 400), (600, 400), pictures) == first[keys[0]]
    assert len(opened) == 1
    measure(facts, Rect(0, 0, 600, 400), (300, 200), pictures)
    assert len(opened) == 2


@pytest.mark.parametrize("full", [(451, 300), (902, 600)])
def test_measures_survive_the_store_which_refuses_what_is_not_theirs(tmp_path, full):
    """Opened at a half a photo keeps no traces."""
    path = tmp_path / "photo.png"
    picture("chelsea.png").save(path)
    facts = replace(PICTURES.inspect(path), width_px=full[0], height_px=full[1])
    key = measure_key(facts.sha256, Rect(150, 80, 90, 90), (90, 90))
    name = f"{PIL.__version__} {key!r}"
    with Pictures(Store(tmp_path / "store")) as pictures:
        store = pictures.store
        first = measure_all(facts, [key], pictures)[key]
        content = store.recall(measures._KIND, name)
        assert measure_all(facts, [key], pictures)[key] == first
        assert len(content) < 600  # one for each printed part of each photo
        for one in odd_ones(json.loads(content)):
            store.keep(measures._KIND, name, json.dumps(one).encode())
            assert measure_all(facts, [key], pictures)[key] == first, one
            assert store.recall(measures._KIND, name) == content, one


def odd_ones(kept: dict) -> Iterator[object]:
    """The flat shape of old, and whatever else may lie in a store."""
    yield {"width_px": 451, "height_px": 300, "blur": 0.3, "lightness": [1.0] * 7, "whole": True}
    yield from (None, [], {}, "measures", {**kept, "more": 1})
    for part in kept:
        yield {k: v for k, v in kept.items() if k != part}
        more = {**(kept[part] or {}), "more": 1}
        yield from ({**kept, part: wrong} for wrong in ([], 1, "sharp", {"more": 1}, more))


def test_a_photo_that_changed_is_not_measured(tmp_path):
    path = tmp_path / "photo.png"
    picture("chelsea.png").save(path)
    facts = PICTURES.inspect(path)
    picture("coffee.png").save(path)
    with pytest.raises(ProofgenError, match="changed"):
        measure(facts, Rect(0, 0, 451, 300), (451, 300), PICTURES)
