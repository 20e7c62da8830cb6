"""Printed parts of photos measured whole, remembered, and held to what the limits were set on."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import astuple, replace

import numpy as np
import PIL
import pytest
from PIL import Image, ImageFilter
from scipy import ndimage

from proofgen.errors import ProofgenError
from proofgen.geometry import Rect
from proofgen.model import MeasureKey, PhotoMeasures, measure_key
from proofgen.photo import measures
from proofgen.photo.measures import measure, measure_all, measure_picture
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.materials import PICTURES
from tests.photo.carried import BICUBIC, BILINEAR, NEAREST, larger, picture

WHOLE = Rect(0, 0, 512, 512)


def numbers(measures: PhotoMeasures) -> list[float]:
    """Sharpness (-1 for what is not there) and traces, as they stand in their records."""
    seen = measures.sharpness
    widths = [-1 if one is None else one for one in astuple(replace(seen, falls=(), leans=()))[1:]]
    widths = [one for one in widths if one != ()]
    widths += (*(seen.falls or (-1,)), *seen.leans)
    return [*widths, *astuple(measures.traces.swings),
            measures.traces.repeats, measures.traces.fine]  # fmt: skip


# Measured once and looked at: each of these says what was done to the picture. They hold the
# measures to what the limits of the checks were set on.
KEPT = {
    "coffee": "0.9098 0.9202 0.00098 4.424 0.1 0.1 0.1 0.1 0.1 0.894 -1 0.01 "
    "0 -0.375 -1 0 0 "
    "0.006778 2.249 6 1.218 "
    "0.004539 0.003166 0.003307 0.002552 0 0.1256",
    "astronaut, soft": "0.9216 0.9216 0.00041 7.236 1.495 0.753 1.535 1.42 1.798 1.11 -1 0 "
    "0.0128 -1 2.35 1.416 0.896 0 0 "
    "0.003625 2.438 3 1.04 "
    "0.001729 0.001777 0.001532 0.001444 0 0.0001239",
    "coffee, larger by a half": "0.9255 0.9294 0.00081 1.446 0.1 0.1 0.1 0.1 0.1 0.2 -1 0.011 "
    "0 0.576 -1 0 0 "
    "0.6645 61.96 1 0.5711 "
    "0.009095 0.02181 0.03688 0.01072 0 0.0222",
    "grass, twice the size": "0.6 0.6157 0.008 2.141 0.998 0.1 0.998 1.056 0.672 0.2 -1 0.026 "
    "0 -1 -1 -0.132 0 "
    "0.02186 4.098 1 0.4503 "
    "0.003124 0.005333 0.008384 1.057 0 0.009695",
    "camera, repeated": "0.9294 0.9255 0.00095 1.385 0.1 0.1 0.429 0.1 0.1 0.2 -1 0 "
    "0 0.094 -1 0 0 "
    "1.176 86.06 1 0.6177 "
    "0.009912 0.0154 0.04357 0.01832 0.6676 0.07417",
}


@pytest.mark.parametrize("name", KEPT)
def test_measures_are_those_that_the_limits_were_set_on(name):
    image = {
        "coffee": lambda: picture("coffee.png"),
        "astronaut, soft": lambda: picture("astronaut.png").filter(ImageFilter.GaussianBlur(2)),
        "coffee, larger by a half": lambda: larger("coffee.png", 1.5, BICUBIC),
        "grass, twice the size": lambda: larger("grass.png", 2, BILINEAR),
        "camera, repeated": lambda: larger("camera.png", 3, NEAREST),
    }[name]()
    measured = measure_picture(image, Rect(0, 0, *image.size), image.size)
    kept = [float(number) for number in KEPT[name].split()]
    assert numbers(measured) == pytest.approx(kept, rel=0.005, abs=1e-4)


def same(one: PhotoMeasures, other: PhotoMeasures, share: float) -> None:
    for name in ("span", "edge_px"):
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
    assert (even.sharpness.edge_px, even.sharpness.span) == (None, 0.0)
    assert set(even.tones.lightness) == {even.tones.lightness[0]}
    busy = measure_picture(image, Rect(0, 512, 512, 512), (512, 512))
    alone = measure_picture(picture("astronaut.png"), WHOLE, (512, 512))
    assert replace(busy, tones=alone.tones) == alone
    # Pillow rounds along rows or columns first, as the whole picture's shape is.
    assert busy.tones.lightness == pytest.approx(alone.tones.lightness, abs=0.02)


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
    key = measure_key(facts, Rect(150, 80, 90, 90), (90, 90))
    name = f"{PIL.__version__} {key!r}"
    with Pictures(Store(tmp_path / "store")) as pictures:
        store = pictures.store
        first = measure_all(facts, [key], pictures)[key]
        content = store.recall(measures._KIND, name)
        assert measure_all(facts, [key], pictures)[key] == first
        assert len(content) < 1000  # one for each printed part of each photo
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


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells a process's threads so")
def test_numbers_are_reckoned_by_one_thread() -> None:
    """A thread for each core took four times the processor's time of one for the same measures."""
    code = (
        "import os, proofgen.photo.measures, numpy\n"
        "a = numpy.ones((600, 600)); a @ a\n"
        "print(len(os.listdir('/proc/self/task')))"
    )
    environment = {k: v for k, v in os.environ.items() if k != "OPENBLAS_NUM_THREADS"}
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment
    )
    assert ran.stdout == "1\n"
