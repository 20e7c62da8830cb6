"""The document under the fingerprint: it moves with everything pressed and with nothing else."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from proofgen.artwork.description import describe
from proofgen.artwork.layout import variants
from proofgen.errors import Place
from proofgen.model import (
    ColourLayer,
    Customer,
    Line,
    Order,
    PatternLayer,
    PhotoLayer,
    PhotoUse,
    Piece,
    Shop,
    WordsLayer,
)
from proofgen.model.design import PatternLay
from tests.artwork.scenes import CAN_WRAP, design, mm, saved, shop
from tests.materials import MATERIALS

LAYERS = (
    PhotoLayer(slot="photo"),
    WordsLayer(slot="name", size_mm=9, colour="#1B2A41", at=mm(70, 60, 80, 30)),
)


def order(file: Path) -> Order:
    line = Line(
        number=1,
        design="harbour",
        blank="can-wrap",
        cloth="sky",
        quantity=3,
        photos={"photo": PhotoUse(file=file, focus=(0.54, 0.5), place=Place("order.yaml", 9))},
        words={"name": "Odalys & Bram"},
        pieces=tuple(Piece(number=n, words={}) for n in (1, 2, 3)),
        place=Place("order.yaml", 4),
    )
    return Order(id="fenn", customer=Customer(name="Odalys Fenn"), lines=(line,))


@pytest.fixture
def wide(tmp_path: Path) -> Path:
    return saved(Image.new("RGB", (1200, 500), (20, 90, 110)), tmp_path / "wide.png")


@pytest.fixture
def ours(tmp_path: Path) -> Shop:
    return replace(
        shop(tmp_path),
        designs={"harbour": design({"round": LAYERS})},
        blanks={"can-wrap": CAN_WRAP},
    )


def told(ours: Shop, given: Order, ppi: float = 300) -> dict[str, Any]:
    return describe(given, variants(ours, given, MATERIALS), ppi)


def test_it_says_what_is_pressed(ours: Shop, wide: Path) -> None:
    document = told(ours, order(wide))
    assert document["schema"] == "proofgen/artwork/1"
    [line] = document["lines"]
    assert (line["construction"], line["cloth_colour"], line["quantity"]) == ("wrap", "#6fb7e9", 3)
    [variant] = line["variants"]
    assert variant["pieces"] == [1, 2, 3]
    assert variant["words"] == {"name": "Odalys & Bram"}
    photo, words = variant["faces"]["round"]
    assert photo["rect"] == [-28.9159, -6.0, 252.0, 112.0]
    # 500 px cover 112 mm, so 1125 px go on 252 mm; the focus, px 648, lies at the front centre,
    # 6 + 131.458 mm from the left: 648 - 137.458 x 1125 / 252.
    assert photo["crop"] == [34.3483, 0.0, 1125.0, 500.0]
    assert words["runs"][0]["text"] == "Odalys & Bram"
    assert words["colour"] == "#1b2a41"


def test_it_is_plain_json_without_a_path_or_a_customer(ours: Shop, wide: Path) -> None:
    text = json.dumps(told(ours, order(wide)), allow_nan=False)
    assert str(wide.parent) not in text and "wide.png" not in text
    assert "site-packages" not in text and "Odalys Fenn" not in text


def test_the_same_inputs_say_the_same(ours: Shop, wide: Path, tmp_path: Path) -> None:
    elsewhere = saved(Image.open(wide), tmp_path / "copy.png")
    assert elsewhere.read_bytes() == wide.read_bytes()
    given = order(wide)
    other = replace(
        order(elsewhere),
        customer=Customer(name="Bram Fenn", email="b@example.org"),
        keys={"due": 3},
    )
    assert told(ours, given) == told(ours, other)


def line_with(**changes: object) -> Callable[[Order], Order]:
    return lambda given: replace(given, lines=(replace(given.lines[0], **changes),))


@pytest.mark.parametrize(
    "change",
    [
        line_with(words={"name": "Odalis & Bram"}),
        line_with(cloth="white"),
        line_with(quantity=4),
        line_with(pieces=(Piece(number=1, words={}),)),
    ],
)
def test_it_moves_with_the_order(ours: Shop, wide: Path, change: Callable[[Order], Order]) -> None:
    assert told(ours, order(wide)) != told(ours, change(order(wide)))


def test_it_moves_with_crop_photo_bytes_and_resolution(
    ours: Shop, wide: Path, tmp_path: Path
) -> None:
    before = told(ours, order(wide))
    shifted = line_with(photos={"photo": PhotoUse(file=wide, focus=(0.9, 0.5), zoom=1.1)})
    assert told(ours, shifted(order(wide))) != before
    straight = PhotoUse(file=wide, focus=(0.54, 0.5))
    turns = [replace(straight, turn=turn) for turn in (0, 90, 180, 270)]
    seen = {repr(told(ours, line_with(photos={"photo": use})(order(wide)))) for use in turns}
    assert len(seen) == 4
    other = saved(Image.new("RGB", (1200, 500), (20, 90, 111)), tmp_path / "other.png")
    assert told(ours, order(other)) != before
    assert told(ours, order(wide), 240) != before


@pytest.mark.parametrize(
    "change",
    [{"shrink": (0.01, 0.0)}, {"bleed_mm": 5}, {"height_mm": 101}, {"safe_mm": 4}],
)
def test_it_moves_with_the_blank(ours: Shop, wide: Path, change: dict[str, Any]) -> None:
    other = replace(ours, blanks={"can-wrap": replace(CAN_WRAP, **change)})
    assert told(other, order(wide)) != told(ours, order(wide))


@pytest.mark.parametrize(
    "change",
    [{"font": "Caladea Bold"}, {"size_mm": 8.5}, {"colour": "#1b2a42"}, {"align": "left"}],
)
def test_it_moves_with_the_design(ours: Shop, wide: Path, change: dict[str, Any]) -> None:
    layers = (LAYERS[0], replace(LAYERS[1], **change))
    other = replace(ours, designs={"harbour": design({"round": layers})})
    assert told(other, order(wide)) != told(ours, order(wide))


def test_it_moves_with_the_order_in_which_faces_are_drawn(ours: Shop, wide: Path) -> None:
    ground = (ColourLayer(colour="#c80000"),)
    one = replace(ours, designs={"harbour": design({"round": LAYERS, "front": ground})})
    two = replace(ours, designs={"harbour": design({"front": ground, "round": LAYERS})})
    assert told(one, order(wide)) != told(two, order(wide))


@pytest.mark.parametrize(
    ("lay", "turn", "later"),
    [
        ("straight", 0, ({}, {})),
        ("brick", 90, ({"lay": "brick"}, {"turn": 90})),
        ("mirrored", 270, ({"lay": "mirrored"}, {"turn": 270})),
    ],
)
def test_what_came_later_is_left_out_where_it_is_as_before(
    ours: Shop, wide: Path, lay: PatternLay, turn: int, later: tuple[dict[str, Any], ...]
) -> None:
    """Proofs of straight patterns and upright photos were signed before either could be asked
    for: their documents name neither, or every one of those proofs would be void."""
    layers = (PatternLayer(file=wide, repeat_mm=50, lay=lay), PhotoLayer(slot="photo"))
    other = replace(ours, designs={"harbour": design({"round": layers})})
    use = PhotoUse(file=wide, focus=(0.54, 0.5), turn=turn)
    given = line_with(photos={"photo": use}, words={})(order(wide))
    placed = told(other, given)["lines"][0]["variants"][0]["faces"]["round"]
    assert tuple({k: p[k] for k in ("lay", "turn") if k in p} for p in placed) == later
