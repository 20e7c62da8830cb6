"""The scenes' own arithmetic; their pictures only where the renderer is installed."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from PIL import ExifTags, Image

sys.path.insert(0, str(Path(__file__).parent))

import paint
import render
from scenes import film, stage

# Mean 8-bit codes between a picture of few rays and the kept one, both made small: noise of the
# light costs some codes; another scene costs tens.
CLOSE = 9.0


@pytest.mark.parametrize(
    "solid",
    [
        stage.box((1, 2, 3), (0.5, 1, 2), 30),
        stage.tube([(0, 0, 0), (0, 0, 1), (1, 0, 2)], 0.1),
    ],
    ids=["box", "tube"],
)
def test_solid_is_closed(solid):
    """Each edge of a closed skin lies between two faces."""
    edges = Counter(
        frozenset((face[i], face[(i + 1) % len(face)]))
        for face in solid[1]
        for i in range(len(face))
    )
    assert set(edges.values()) == {2}


def test_joined_solids_keep_their_own_corners():
    one, other = stage.box((0, 0, 0), (1, 1, 1)), stage.box((5, 0, 0), (1, 1, 1))
    verts, faces = stage.joined([one, other])
    assert len(verts) == 16
    assert {verts[i][0] > 2 for i in faces[-1]} == {True}


def test_turned_profile_has_its_radius_and_height():
    verts, _ = stage.turned([(2.0, 0.0), (1.0, 3.0)], (0, 0, 1), 8)
    assert [round(float(np.hypot(x, y)), 6) for x, y, _ in verts] == [2.0] * 8 + [1.0] * 8
    assert {z for _, _, z in verts} == {1.0, 4.0}


def test_a_rope_hangs_lowest_in_its_middle():
    rope = stage.hanging((0, 0, 2), (4, 0, 2), 0.5, 8)
    assert (rope[0], rope[8]) == ((0, 0, 2), (4, 0, 2))
    assert min(rope, key=lambda p: p[2]) == (2, 0, 1.5)


def test_linear_light_of_a_code():
    """IEC 61966-2-1: code 188 of 255 is half of the light."""
    assert stage.linear("#bcbcbc")[0] == pytest.approx(0.5, abs=0.005)
    assert stage.linear("#000000") == (0.0, 0.0, 0.0)


def test_curve_rises_and_stays_within_the_codes():
    codes = film.curve(np.linspace(0, 40, 4000))
    assert (np.diff(codes) >= 0).all()
    assert codes[0] < 0.05
    assert codes[-1] <= 1


def test_blur_keeps_the_light():
    spot = np.zeros((41, 41))
    spot[20, 20] = 1.0
    soft = film.blurred(spot, 2.0)
    assert soft.sum() == pytest.approx(1.0)
    assert soft[20, 20] == pytest.approx(1 / (2 * np.pi * 4), rel=0.03)  # a Gaussian's height


def test_grain_is_as_strong_as_asked_and_the_same_again():
    grey = np.full((200, 200, 3), 0.5)
    one, other = (film.grained(grey, 3.0, 1) for _ in range(2))
    assert np.array_equal(one, other)
    assert ((one - grey).mean(axis=2) * 255).std() == pytest.approx(3.0, rel=0.05)
    assert not np.array_equal(one, film.grained(grey, 3.0, 2))


def test_without_the_renderer_the_script_says_what_to_do(monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "bpy", None)
    assert render.main(["toy"]) == 1
    assert "pip install bpy" in capsys.readouterr().out


def test_an_unknown_scene_is_named(capsys):
    assert render.main(["pier"]) == 2
    assert "pier" in capsys.readouterr().out


@pytest.mark.parametrize("name", render.SHOTS)
def test_kept_picture_has_its_size_and_grain(name):
    shot = render.SHOTS[name]
    with Image.open(paint.CONTENT / shot.path) as kept:
        wide, high = (round(side * shot.share) for side in render.SIZE)
        top, wide, bottom = render.kept_rows(shot, wide, high)
        assert kept.size == (wide, bottom - top)
        codes = np.asarray(kept.convert("L"), dtype=float)
    fine = codes - film.blurred(codes, 1.5)
    calm = np.quantile([block.std() for block in np.array_split(fine.ravel(), 4000)], 0.2)
    assert calm > 0.3  # no part of a photograph is as flat as paint


def test_the_dog_still_carries_a_place():
    assert render.SHOTS["toy"].path == f"orders/{paint.PLACED[0]}"
    with Image.open(paint.CONTENT / render.SHOTS["toy"].path) as kept:
        place = kept.getexif().get_ifd(ExifTags.IFD.GPSInfo)
    assert place[ExifTags.GPS.GPSLatitude] == (51.0, 30.0, 0.0)


@pytest.mark.parametrize("name", render.SHOTS)
def test_kept_picture_is_what_the_script_renders(name):
    pytest.importorskip("bpy", reason="the renderer (pip install bpy) is not installed")
    made = np.asarray(render.taken(name, 0.06, 8), dtype=float)
    with Image.open(paint.CONTENT / render.SHOTS[name].path) as kept:
        small = kept.resize((made.shape[1], made.shape[0]), Image.Resampling.BOX)
    assert np.abs(made - np.asarray(small, dtype=float)).mean() < CLOSE
