"""The thing in the hand: where a point of the cloth lands, what light leaves of its colour."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from skimage.color import deltaE_ciede2000, rgb2lab

from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import pixel_digest
from proofgen.model import Blank, ColourLayer, Layout
from proofgen.store import NoStore, Store
from proofgen.views.hand import lying, maps
from proofgen.views.hand.camera import COS, SIN, lands
from proofgen.views.hand.cans import can_for, lift_of
from proofgen.views.hand.cloth import draw
from proofgen.views.hand.lying import piece_of
from proofgen.views.hand.maps import looking, map_of, packed
from proofgen.views.hand.picture import printed, strip_of
from proofgen.views.hand.sleeve import columns, frame_of, rounded, sleeve_of
from proofgen.views.inround import natural_width, round_views, shared_width
from proofgen.views.scene import scene
from tests import once
from tests.artwork.scenes import CAN_WRAP, COASTER, FOLD, SEWN, laid, mm
from tests.materials import MATERIALS

CAN_FOLD = replace(FOLD, width_mm=120, height_mm=274, seam_mm=6, fold_mm=4, hem_mm=5, base_mm=30)
CAN_FOLD = replace(CAN_FOLD, vessel_mm=66.1, thickness_mm=3.0)
CAN_SEWN = replace(SEWN, width_mm=108, height_mm=100, gap_mm=4, vessel_mm=66.1, thickness_mm=3.0)
SLEEVES = {"wrap": CAN_WRAP, "fold": CAN_FOLD, "sewn": CAN_SEWN}


def finished(blank: Blank, finish: str) -> Blank:
    return replace(blank, cloth=replace(blank.cloth, finish=finish))


def test_points_of_a_turned_body_land_where_the_formula_says() -> None:
    # e = 12 degrees: sin 0.207912, cos 0.978148. Worked by hand.
    assert lands(36.0, 0.0, 0.0) == pytest.approx((0.0, 7.48482), abs=1e-4)
    assert lands(36.0, 0.0, 50.0) == pytest.approx((0.0, 7.48482 - 48.90738), abs=1e-4)
    # 30 degrees to the right: x = 18, y = 36 * 0.8660254 * 0.207912 = 6.48205.
    assert lands(36.0, math.radians(30), 50.0) == pytest.approx((18.0, -42.42533), abs=1e-4)
    assert lands(36.0, math.radians(-90), 10.0) == pytest.approx((-36.0, -9.78148), abs=1e-4)


def crossed(at: tuple[float, float], turn: float, width: int = 900) -> tuple[float, float]:
    """X and Y (mm) where a dark cross is seen that was printed at (mm along, mm down) of a wrap."""
    along, down = at
    lines = (
        ColourLayer(colour="#e0e0e0"),
        ColourLayer(colour="#000000", at=mm(along - 0.5, down - 3, 1, 6)),
        ColourLayer(colour="#000000", at=mm(along - 3, down - 0.5, 6, 1)),
    )
    layout = laid(finished(CAN_WRAP, "smooth"), {"round": lines})
    sleeve = sleeve_of(layout)
    frame = frame_of(sleeve, width)
    [view] = [v for v in round_views(paint(layout, 300, MATERIALS), width) if v.kind == "front"]
    assert turn == 0
    image = np.asarray(view.image.convert("L")).astype(float)
    theta = 2 * math.pi * (along / layout.plan.way_round - 0.5)
    x, y = lands(sleeve.radius, theta, sleeve.top - down)
    col, row = (x - frame.left) * frame.per_mm, (y - frame.top) * frame.per_mm
    part = image[round(row) - 14 : round(row) + 15, round(col) - 14 : round(col) + 15]
    dark = np.clip(90 - part, 0, None)
    rows, cols = np.indices(part.shape)
    got_row = (dark * rows).sum() / dark.sum() + round(row) - 14 + 0.5
    got_col = (dark * cols).sum() / dark.sum() + round(col) - 14 + 0.5
    return got_col - col, got_row - row


@pytest.mark.parametrize("degrees", [-45, -20, 0, 30, 60])
@pytest.mark.parametrize("down", [20.0, 50.0, 80.0])
def test_a_cross_on_the_cloth_is_seen_where_the_formula_says(degrees: float, down: float) -> None:
    around = CAN_WRAP.plan().way_round
    off = crossed(((0.5 + degrees / 360) * around, down), 0)
    assert off == pytest.approx((0, 0), abs=0.75)  # px of 9.2 a mm


def test_columns_show_the_arcs_of_a_cylinder() -> None:
    layout = laid(CAN_WRAP, {})
    sleeve = sleeve_of(layout)
    frame = frame_of(sleeve, 400)
    cols = columns(sleeve, frame, 0.0)
    xs = frame.xs()
    half = int(np.argmin(np.abs(xs - sleeve.radius / 2)))
    # arc = R asin(x / R): at x = R/2 a twelfth of the way round, at the limb a quarter.
    assert math.sin(cols.angle[half]) == pytest.approx(xs[half] / sleeve.radius)
    assert cols.angle[half] / (2 * math.pi) == pytest.approx(1 / 12, abs=0.003)
    assert (cols.angle[0], cols.angle[-1]) == pytest.approx((-math.pi / 2, math.pi / 2))
    # Nearest in the middle, and so lowest: R sin e below the limb.
    middle = cols.down[200] - cols.down[0]
    assert middle == pytest.approx(sleeve.radius * SIN, abs=0.02)


@pytest.mark.parametrize("construction", SLEEVES)
@pytest.mark.parametrize("degrees", [0, 200, 340])
def test_a_whole_turn_changes_nothing(construction: str, degrees: int) -> None:
    sleeve = sleeve_of(laid(finished(SLEEVES[construction], "linen-look"), {}))
    frame = frame_of(sleeve, 320)
    once, again = (draw(sleeve, frame, math.radians(d)) for d in (degrees, degrees - 360))
    off = np.abs(once.ink - again.ink)
    assert float((off > 0.01).mean()) < 0.002  # threads too lie where they lay


@pytest.mark.parametrize("construction", ["fold", "sewn"])
def test_a_seam_goes_smoothly_behind_its_limb(construction: str) -> None:
    sleeve = sleeve_of(laid(finished(SLEEVES[construction], "smooth"), {}))
    frame = frame_of(sleeve, 320)
    steps = [draw(sleeve, frame, math.radians(d)).bare for d in np.arange(0, 40, 1.0)]
    jumps = [float(np.abs(b - a).sum()) for a, b in itertools.pairwise(steps)]
    assert max(jumps) < 4 * np.median(jumps)
    above = round((-sleeve.can.height * COS - frame.top) * frame.per_mm) // 2
    assert not np.any(draw(sleeve, frame, math.radians(45)).bare[:above])


@pytest.mark.parametrize("construction", SLEEVES)
@pytest.mark.parametrize("finish", ["linen-look", "foam", "smooth"])
@pytest.mark.parametrize("colour", ["#c86428", "#2864a0", "#e8e0d0", "#303030"])
def test_the_middle_keeps_the_ink_s_colour(construction: str, finish: str, colour: str) -> None:
    blank = finished(SLEEVES[construction], finish)
    face = "round" if construction == "wrap" else "front"
    layout = laid(blank, {face: (ColourLayer(colour=colour),)})
    [view] = round_views(paint(layout, 60, MATERIALS), 200, most=1)
    wide, high = view.image.size
    part = np.asarray(view.image)[
        high * 11 // 20 : high * 16 // 20, wide * 4 // 10 : wide * 6 // 10
    ]
    ink = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])
    mean = part.reshape(-1, 3).mean(axis=0)
    assert deltaE_ciede2000(rgb2lab(mean / 255), rgb2lab(ink / 255)) < 2.5


def test_it_stands_on_the_ground_that_was_asked() -> None:
    rasters = paint(laid(CAN_WRAP, {}), 50, MATERIALS)
    for ground, rgb in {"#ffd964": (255, 217, 100), "#161b21": (22, 27, 33)}.items():
        [view] = round_views(rasters, 240, background=ground, most=1)
        wide, high = view.image.size
        for corner in [(2, 2), (wide - 3, 2), (2, high - 3)]:
            assert view.image.getpixel(corner) == pytest.approx(rgb, abs=2)


def test_pictures_of_one_width_share_one_scale() -> None:
    slim = replace(CAN_WRAP, width_mm=203, vessel_mm=53.0, height_mm=110.0)
    seen = []
    for blank in (CAN_WRAP, slim):
        layout = laid(blank, {"round": (ColourLayer(colour="#c80000"),)})
        [view] = round_views(paint(layout, 40, MATERIALS), 400, most=1, width_mm=100.0)
        pixels = np.asarray(view.image).astype(int)
        row = pixels[view.image.height * 2 // 3]
        red = np.flatnonzero(row[:, 0] - row[:, 1] > 60)
        seen.append((red[-1] - red[0] + 1) / 4.0)
        assert seen[-1] == pytest.approx(2 * sleeve_of(layout).radius, abs=1.0)
    assert seen[0] - seen[1] == pytest.approx(13.1, abs=0.8)  # 66.1 and 53 mm across


def light_of(blank: Blank, width: int, turn: float = 0.0) -> tuple[np.ndarray, object]:
    """The ink's share of a blank's picture in its middle, without the light's slow fall."""
    sleeve = sleeve_of(laid(blank, {}))
    frame = frame_of(sleeve, width)
    ink = draw(sleeve, frame, turn).ink
    high, wide = ink.shape
    return ink[int(high * 0.45) : int(high * 0.8), int(wide * 0.4) : int(wide * 0.6)], frame


@pytest.mark.parametrize("width", [240, 320, 480, 640, 1280])
@pytest.mark.parametrize("finish", ["linen-look", "foam", "smooth"])
def test_threads_beat_against_no_pixels(finish: str, width: int) -> None:
    # A moire is a slow wave: of means over 5 mm nothing may be left that stands out.
    ink, frame = light_of(finished(CAN_WRAP, finish), width)
    cell = round(5 * frame.per_mm)
    rows, cols = ink.shape[0] // cell, ink.shape[1] // cell
    means = ink[: rows * cell, : cols * cell].reshape(rows, cell, cols, cell).mean(axis=(1, 3))
    assert (means - means.mean(axis=0)).std() < 0.006


def test_a_strip_over_ends_that_meet_hides_the_ink() -> None:
    """It is shown as bare cloth, as wide as it is; beside it the ink is seen."""
    closure = replace(CAN_WRAP.closure, on_top="neither", width_mm=30.0)
    met = replace(finished(CAN_WRAP, "smooth"), closure=closure, width_mm=217.084)
    layout = laid(met, {"round": (ColourLayer(colour="#204080"),)})
    views = round_views(paint(layout, 60, MATERIALS), 400)
    assert [view.kind for view in views] == ["front", "left", "right", "closure"]
    rows = {v.kind: np.asarray(v.image)[v.image.height // 2].astype(int) for v in views}
    assert rows["front"][200].tolist() == pytest.approx([32, 64, 128], abs=12)
    per = 400 / natural_width(layout)
    radius = 217.084 / (2 * math.pi) + 1.5
    edge = math.sin(15 / radius) * radius * per  # where the strip ends, from the middle
    for x in (200, round(200 - edge + 4), round(200 + edge - 4)):
        assert rows["closure"][x].min() > 150, x
    for x in (round(200 - edge - 8), round(200 + edge + 8)):
        assert rows["closure"][x].max() < 140, x


def test_finishes_have_reliefs_of_their_own() -> None:
    spread = {
        finish: light_of(finished(CAN_WRAP, finish), 640)[0].std()
        for finish in ("linen-look", "foam", "smooth")
    }
    assert spread["linen-look"] > 1.5 * spread["foam"] > 1.5 * spread["smooth"]
    untold = light_of(finished(CAN_WRAP, ""), 640)[0].std()
    assert untold <= spread["smooth"]  # no cloth is promised


@pytest.mark.parametrize("construction", SLEEVES)
def test_no_pixel_takes_more_than_all(construction: str) -> None:
    sleeve = sleeve_of(laid(SLEEVES[construction], {}))
    for turn in (0.0, math.pi / 2, math.pi):
        layers = draw(sleeve, frame_of(sleeve, 200), turn)
        planes = np.stack([layers.ink, layers.bare, layers.ground, layers.own])
        assert planes.min() >= -1e-4 and planes.sum(axis=0).max() < 1.01
        assert packed(layers).sum(axis=0, dtype=int).max() <= 255


def test_a_map_is_drawn_once_and_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    sleeve = sleeve_of(laid(CAN_WRAP, {}))
    frame = frame_of(sleeve, 161)
    store = Store(tmp_path)
    monkeypatch.setattr(maps, "_kept", once.MAP_KEPT)  # or all tests together would remember it
    maps._round.cache_clear()
    first = map_of(sleeve, frame, 0.0, store)
    maps._round.cache_clear()
    monkeypatch.setattr(maps, "draw", lambda *_: pytest.fail("drawn again"))
    again = map_of(sleeve, frame, 0.0, store)
    assert (again.shares == first.shares).all() and (again.look == first.look).all()
    maps._round.cache_clear()


def test_what_is_printed_changes_no_press_raster() -> None:
    layout = laid(CAN_WRAP, {"round": (ColourLayer(colour="#c80000"),)})
    rasters = paint(layout, 60, MATERIALS)
    before = pixel_digest(rasters["round"])
    round_views(rasters, 200)
    assert pixel_digest(rasters["round"]) == before


def test_a_pale_sky_does_not_fall_into_bands() -> None:
    # A flat tone in falling light: columns that jump by a whole level would show as edges.
    sleeve = sleeve_of(laid(finished(CAN_WRAP, "smooth"), {}))
    frame = frame_of(sleeve, 640)
    shares = packed(draw(sleeve, frame, 0.0))
    seen = looking(sleeve, frame, columns(sleeve, frame, 0.0), shares)
    ring = Image.new("RGB", (400, 200), (205, 225, 245))
    image = printed(strip_of(ring, seen), seen, 0.5, "#ffffff", "#f7f4ee")
    means = np.asarray(image)[420:620, 380:460, 1].mean(axis=0)
    assert means[0] - means[-1] > 5
    assert np.abs(np.diff(means)).max() < 0.75


@pytest.mark.parametrize(
    ("across", "sleeve", "height"),
    [(66.1, 100, 122.7), (66, 140, 168.0), (53, 110, 134.0), (66.1, 90, 115.2), (58, 120, 145.5)],
)
def test_the_can_is_one_that_looks_out_of_its_sleeve(
    across: float, sleeve: float, height: float
) -> None:
    assert can_for(across, sleeve).height == height


def test_a_low_sleeve_is_held_higher() -> None:
    can = can_for(66.1, 60.0)
    assert lift_of(can, 60.0) > 5
    assert lift_of(can_for(66.1, 100.0), 100.0) == 0
    assert pytest.approx(math.cos(math.radians(12))) == COS
    assert isinstance(NoStore(), Store)


def test_a_flat_piece_goes_round_no_can() -> None:
    layout: Layout = laid(replace(CAN_WRAP, construction="flat"), {})
    with pytest.raises(ValueError, match="no can"):
        sleeve_of(layout)


def test_a_mark_on_a_flat_piece_is_seen_where_the_formula_says() -> None:
    # 56 degrees: sin 0.829038, cos 0.559193; turned -7: cos 0.992546, sin -0.121869.
    # From the middle (30, -20) mm: x = 0.992546 * 30 - 0.121869 * 20 = 27.33900,
    # y = (-0.121869 * 30 - 0.992546 * 20) * 0.829038 - 4 * 0.559193 = -21.72498.
    coaster = piece_of(laid(replace(COASTER, thickness_mm=4.0), {}))
    assert (coaster.width, coaster.thickness) == (100, 4)
    x, y = lying.lands(coaster, 80, 30, 4)
    assert (x, y) == pytest.approx((27.33900, -21.72498), abs=1e-4)
    marks = (ColourLayer(colour="#e0e0e0"), ColourLayer(colour="#000000", at=mm(79, 29, 2, 2)))
    layout = laid(replace(COASTER, thickness_mm=4.0), {"front": marks})
    frame = lying.frame_of(coaster, 800)
    [view] = round_views(paint(layout, 300, MATERIALS), 800)
    col, row = (x - frame.left) * frame.per_mm, (y - frame.top) * frame.per_mm
    box = (round(col) - 14, round(row) - 14, round(col) + 15, round(row) + 15)
    dark = np.clip(120 - np.asarray(view.image.convert("L").crop(box)).astype(float), 0, None)
    rows, cols = np.indices(dark.shape)
    got = ((dark * cols).sum() / dark.sum() + 0.5, (dark * rows).sum() / dark.sum() + 0.5)
    assert got == pytest.approx((col - box[0], row - box[1]), abs=0.6)


@pytest.mark.parametrize("blank", [COASTER, CAN_WRAP, CAN_FOLD, CAN_SEWN])
def test_the_ground_reaches_every_edge_of_its_picture(blank: Blank) -> None:
    # The page has the same ground: nothing may show where the picture ends.
    for view in round_views(paint(laid(blank, {}), 40, MATERIALS), 300, background="#808080"):
        pixels = np.asarray(view.image).astype(int)
        rim = [pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1]]
        assert max(np.abs(edge - 128).max() for edge in rim) == 0


@pytest.mark.parametrize("quarter", [-1, 1])
def test_a_wrap_s_ends_stand_out_of_no_outline(quarter: int) -> None:
    sleeve = sleeve_of(laid(finished(CAN_WRAP, "foam"), {}))
    frame = frame_of(sleeve, 500)
    layers = draw(sleeve, frame, quarter * math.pi / 2)  # the join lies at the limb
    beyond = np.abs(frame.xs()) > sleeve.radius + 1 / frame.per_mm
    assert (layers.ink + layers.bare)[:, beyond].max() == 0


@pytest.mark.parametrize("construction", ["fold", "sewn"])
def test_a_bound_seam_ends_at_the_base_and_is_as_thick_as_its_cloth_asks(construction: str) -> None:
    widths = []
    for thickness in (2.0, 4.0):
        blank = replace(finished(SLEEVES[construction], "smooth"), thickness_mm=thickness)
        sleeve = sleeve_of(laid(blank, {}))
        frame = frame_of(sleeve, 800)
        bare = draw(sleeve, frame, math.pi / 2).bare  # the seam is turned to the camera
        middle = bare[:, 380:420]
        seen = np.flatnonzero(middle.max(axis=1) > 0.1)
        low = columns(sleeve, frame, math.pi / 2).last[400]
        assert low - 2.0 < frame.ys()[seen[-1]] < low + 1 / frame.per_mm
        widths.append((middle[frame.height_px * 6 // 10] > 0.1).sum() / frame.per_mm)
        beside = draw(sleeve, frame, 0.0).bare[:, frame.xs() < -sleeve.radius - 0.3]
        there = np.flatnonzero(beside.max(axis=1) > 0.1)
        foot = -sleeve.lift * COS
        assert foot - sleeve.sole - 3 < frame.ys()[there[-1]] < foot
    assert 1.0 < widths[0] < 0.75 * widths[1] < 2.0


def test_things_of_one_page_share_a_scale_unless_one_is_far_larger() -> None:
    slim = laid(replace(CAN_WRAP, width_mm=203, vessel_mm=53.0, height_mm=110.0), {})
    can, coaster = laid(CAN_WRAP, {}), laid(replace(COASTER, shape="round"), {})
    pouch = laid(replace(COASTER, shape="rectangle", width_mm=200, height_mm=130), {})
    every = [slim, can, coaster, pouch]
    assert shared_width(can, every) == natural_width(coaster)
    assert shared_width(slim, [slim, can]) == natural_width(can)
    assert shared_width(pouch, every) == natural_width(pouch)
    assert shared_width(slim, [slim]) == natural_width(slim)


def test_a_scene_shows_its_sleeves_at_one_scale_the_first_before_the_others() -> None:
    inks = ("#c80000", "#00a000", "#0000dc")
    things = [
        paint(laid(CAN_WRAP, {"round": (ColourLayer(colour=ink),)}), 30, MATERIALS) for ink in inks
    ]
    picture = scene(things, 480, background="#f7f4ee", store=NoStore())
    assert picture.width == 480
    row = np.asarray(picture).astype(int)[picture.height * 3 // 5]
    seen = [(row.argmax(axis=1) == i) & (np.ptp(row, axis=1) > 60) for i in range(3)]
    first, left, right = (np.flatnonzero(where) for where in seen)
    assert left.max() < first.min() < 240 < first.max() < right.min()
    assert len(first) > len(left) and len(first) > len(right)
    rim = np.concatenate([np.asarray(picture)[0], np.asarray(picture)[:, 0]]).astype(int)
    assert np.abs(rim - (247, 244, 238)).max() <= 1


def test_in_a_scene_the_first_shades_the_others() -> None:
    grey = paint(laid(CAN_WRAP, {"round": (ColourLayer(colour="#c0c0c0"),)}), 30, MATERIALS)
    picture = scene([grey] * 3, 600, background="#f7f4ee", store=NoStore())
    row = np.asarray(picture.convert("L")).astype(float)[picture.height * 3 // 5]
    # From the left one's lightest place to the first one's outline, where it is darkest.
    left = row[:300]
    edge = int(np.argmax(np.diff(left[150:280]))) + 150
    assert left[edge - 3 : edge].mean() < 0.72 * np.percentile(left[60:edge], 90)


def test_a_scene_needs_a_thing_and_no_flat_one() -> None:
    with pytest.raises(ValueError, match="shows something"):
        scene([], 480, background="#ffffff", store=NoStore())
    flat = paint(laid(COASTER, {}), 30, MATERIALS)
    with pytest.raises(ValueError, match="no can"):
        scene([flat], 480, background="#ffffff", store=NoStore())


def test_a_rounded_edge_is_drawn_whatever_its_corner() -> None:
    """A corner that float32 rounds up is a hair more than itself: no root of less than nothing."""
    x = np.linspace(-34.2, 34.2, 640, dtype=np.float32)
    for corner in np.linspace(0.3, 6.0, 200):
        inside = rounded(x, 34.2, float(corner))
        assert np.isfinite(inside).all()
        assert inside.min() >= -1e-6 and inside.max() <= corner * 1.001
