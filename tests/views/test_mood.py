"""A theme's light and framing: where light comes from, and what no mood may change."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from proofgen.artwork.painting import paint
from proofgen.artwork.rasters import Rasters, pixel_digest
from proofgen.model import Blank, ColourLayer
from proofgen.render import Theme, theme_names
from proofgen.render.mood import MARGINS, SOFTNESSES, STRENGTHS, USUAL_MOOD, Mood
from proofgen.store import NoStore, Store
from proofgen.views.hand import maps
from proofgen.views.hand.sleeve import sleeve_of
from proofgen.views.hand.turntable import turntable_of
from proofgen.views.inround import round_views, shared_width
from proofgen.views.scene import scene
from tests.artwork.scenes import CAN_WRAP, COASTER, laid
from tests.materials import MATERIALS
from tests.views.test_hand import CAN_FOLD, CAN_SEWN, SLEEVES, finished

EXTREMES = [
    Mood(from_right, *numbers)
    for from_right in (False, True)
    for numbers in itertools.product(STRENGTHS, SOFTNESSES, MARGINS)
]
RIGHT = Mood(from_right=True)


def grey(blank: Blank) -> Rasters:
    face = "round" if blank.construction == "wrap" else "front"
    return paint(laid(blank, {face: (ColourLayer(colour="#b0b0b0"),)}), 40, MATERIALS)


def front(rasters: Rasters, mood: Mood, width: int = 300, store: Store | None = None) -> np.ndarray:
    [view] = round_views(rasters, width, mood=mood, most=1, store=store)
    return np.asarray(view.image.convert("L")).astype(int)


@pytest.mark.parametrize("construction", SLEEVES)
def test_light_from_the_right_is_light_from_the_left_in_a_mirror(construction: str) -> None:
    rasters = grey(finished(SLEEVES[construction], "smooth"))
    left, right = front(rasters, USUAL_MOOD), front(rasters, RIGHT)
    wall = slice(left.shape[0] * 11 // 20, left.shape[0] * 16 // 20)  # below the can's own lid
    a, b = left[wall].mean(axis=0), right[wall].mean(axis=0)
    assert np.abs(a - b[::-1]).max() < 3  # threads lie as they lie
    assert np.abs(a - b).max() > 12
    ground = slice(left.shape[0] * 7 // 10, None)  # the shadow beside its foot
    assert left[ground, -35:].mean() < left[ground, :35].mean() - 1
    assert right[ground, :35].mean() < right[ground, -35:].mean() - 1


def test_a_flat_piece_takes_its_light_from_that_side_too() -> None:
    rasters = grey(replace(COASTER, thickness_mm=4.0))
    left, right = front(rasters, USUAL_MOOD), front(rasters, RIGHT)
    middle = slice(left.shape[0] * 9 // 20, left.shape[0] * 11 // 20)
    a, b = left[middle].mean(axis=0)[60:240], right[middle].mean(axis=0)[60:240]
    assert a[:40].mean() > a[-40:].mean() + 2 and b[:40].mean() + 2 < b[-40:].mean()


@pytest.mark.parametrize("blank", [COASTER, CAN_WRAP, CAN_FOLD, CAN_SEWN])
@pytest.mark.parametrize("mood", EXTREMES, ids=str)
def test_the_ground_reaches_every_edge_in_every_mood(blank: Blank, mood: Mood) -> None:
    for view in round_views(
        paint(laid(blank, {}), 30, MATERIALS), 160, background="#808080", mood=mood
    ):
        pixels = np.asarray(view.image).astype(int)
        rim = [pixels[0], pixels[-1], pixels[:, 0], pixels[:, -1]]
        assert max(np.abs(edge - 128).max() for edge in rim) == 0


@pytest.mark.parametrize("finish", ["linen-look", "foam", "smooth"])
def test_colours_are_told_by_the_same_middle_in_every_mood(finish: str) -> None:
    rasters = grey(finished(CAN_WRAP, finish))

    def middle(mood: Mood) -> float:
        seen = front(rasters, replace(mood, margin=13.0))  # at one scale
        high, wide = seen.shape
        return float(seen[high * 11 // 20 : high * 16 // 20, wide * 47 // 100 : wide // 2].mean())

    usual = middle(USUAL_MOOD)
    assert all(abs(middle(mood) - usual) < 1.0 for mood in EXTREMES)


@pytest.mark.parametrize("construction", SLEEVES)
@pytest.mark.parametrize("finish", ["linen-look", "foam", "smooth"])
def test_the_turning_page_can_give_back_what_the_limbs_lost(construction: str, finish: str) -> None:
    """turntable.js adds at most as much light again as is there."""
    layout = laid(finished(SLEEVES[construction], finish), {})
    for mood in EXTREMES:
        turn = turntable_of(sleeve_of(layout, mood), 300)
        assert min(turn.light) >= 0.5 and max(turn.light) <= 1.0
        assert max(light + sheen for light, sheen in zip(turn.light, turn.sheen, strict=True)) < 1.1
    left, right = (turntable_of(sleeve_of(layout, mood), 300) for mood in (USUAL_MOOD, RIGHT))
    assert left.light == right.light[::-1] != right.light and left.sheen == right.sheen[::-1]


def test_a_wider_margin_shows_a_smaller_thing() -> None:
    layout = laid(CAN_WRAP, {})
    near, far = (Mood(margin=m) for m in MARGINS)
    grown = shared_width(layout, [layout], far) - shared_width(layout, [layout], near)
    assert grown == pytest.approx(2 * (MARGINS[1] - MARGINS[0]))
    rasters = paint(laid(CAN_WRAP, {"round": (ColourLayer(colour="#202020"),)}), 40, MATERIALS)
    cloth = []
    for mood in (near, far):
        seen = front(rasters, mood)
        row = seen[seen.shape[0] * 3 // 5]
        cloth.append(np.flatnonzero(row < 90).size)
    assert cloth[0] > 1.2 * cloth[1]


def test_one_store_keeps_the_moods_apart(tmp_path: Path) -> None:
    rasters, store = grey(CAN_WRAP), Store(tmp_path)
    moods = [USUAL_MOOD, RIGHT, Mood(strength=0.5), Mood(softness=1.6), Mood(margin=20.0)]
    alone = [front(rasters, mood, 161, NoStore()) for mood in moods]
    maps._round.cache_clear()
    for _ in range(2):
        for mood, picture in zip(moods, alone, strict=True):
            assert np.array_equal(front(rasters, mood, 161, store), picture), mood
        maps._round.cache_clear()
    for one, other in itertools.combinations(alone, 2):
        assert one.shape != other.shape or (one != other).any()


def test_a_scene_is_lit_by_its_theme() -> None:
    things = [grey(CAN_WRAP)] * 3
    usual, other = (
        np.asarray(
            scene(things, 300, background="#f7f4ee", store=NoStore(), mood=mood).convert("L")
        )
        for mood in (USUAL_MOOD, RIGHT)
    )
    row = usual.shape[0] * 3 // 5
    # The shade of the first lies on the one that stands away from the light.
    left, right = np.s_[row, 60:120], np.s_[row, 180:240]
    assert usual[right].mean() < other[right].mean() and usual[left].mean() > other[left].mean()


def test_no_mood_touches_what_is_pressed() -> None:
    rasters = grey(CAN_WRAP)
    before = pixel_digest(rasters["round"])
    for mood in EXTREMES[::5]:
        front(rasters, mood, 120)
    assert pixel_digest(rasters["round"]) == before


def test_the_themes_have_moods_of_their_own() -> None:
    moods = [Theme(name).look.mood for name in theme_names()]
    assert USUAL_MOOD in moods and len(set(moods)) == len(moods)
