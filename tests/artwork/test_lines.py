"""Lines of an order are laid out independently: what one gets does not hang on its neighbours."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.artwork.layout import variants
from proofgen.errors import Place
from proofgen.model import (
    ColourLayer,
    Customer,
    Line,
    Order,
    PhotoLayer,
    PhotoUse,
    Piece,
    Shop,
    Variant,
    WordsLayer,
)
from tests.artwork.scenes import FOLD, SEWN, design, saved, share, shop
from tests.artwork.test_focus import spotted
from tests.materials import MATERIALS

PHOTO = PhotoLayer(slot="photo")
NAME = WordsLayer(slot="name", size_mm=4, at=share(0.1, 0.7, 0.8, 0.2))
BOARD = ColourLayer(colour="#fdf6e6", at=share(0.05, 0.1, 0.4, 0.8))
DESIGNS = {"harbour": (PHOTO, NAME), "board": (PHOTO, NAME, BOARD), "ground": (BOARD, PHOTO, NAME)}
# Faces of one size whose strips differ.
SLEEVE = replace(SEWN, width_mm=100, height_mm=110, bleed_mm=6, safe_mm=5, gap_mm=0)
SHEET = replace(FOLD, width_mm=112, height_mm=224, bleed_mm=6, safe_mm=5, seam_mm=6, hem_mm=0)
BLANKS = [
    *(replace(SLEEVE, id=f"sewn-{gap}", gap_mm=gap) for gap in (0, 8, 30)),
    *(replace(SHEET, id=f"fold-{base}", base_mm=base) for base in (0, 20, 60)),
    replace(SLEEVE, id="safe", safe_mm=20),
]


@pytest.fixture(scope="module")
def ours(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A shop with six photos, each with busy spots elsewhere."""
    folder, chance = tmp_path_factory.mktemp("shop"), random.Random(9)
    for number in range(6):
        spots = [(chance.randrange(620), chance.randrange(520)) for _ in range(1 + number % 3)]
        saved(spotted((700, 600), *spots), folder / f"{number}.png")
    return replace(
        shop(folder),
        designs={name: design({"round": layers}) for name, layers in DESIGNS.items()},
        blanks={blank.id: blank for blank in BLANKS},
    )


def order_of(*lines: Line) -> Order:
    return Order(id="fenn", customer=Customer(name="Odalys Fenn"), lines=lines)


@st.composite
def line(draw: st.DrawFn) -> Line:
    names = draw(st.lists(st.sampled_from(["Ada", "Bram"]), min_size=1, max_size=2))
    return Line(
        number=1,
        design=draw(st.sampled_from(list(DESIGNS))),
        blank=draw(st.sampled_from(BLANKS)).id,
        cloth="white",
        quantity=len(names),
        photos={
            "photo": PhotoUse(
                file=Path(f"{draw(st.integers(0, 5))}.png"),
                zoom=draw(st.sampled_from([1.0, 1.5, 2.5])),
                place=Place("order.yaml", 9),
            )
        },
        pieces=tuple(Piece(number=i + 1, words={"name": n}) for i, n in enumerate(names)),
    )


def laid(ours: Shop, *lines: Line) -> list[Variant]:
    """The variants of the last of these lines."""
    numbered = [
        replace(
            one,
            number=at,
            photos={
                slot: replace(use, file=ours.folder / use.file) for slot, use in one.photos.items()
            },
        )
        for at, one in enumerate(lines, 1)
    ]
    made = variants(ours, order_of(*numbered), MATERIALS)
    return [v for v in made if v.line == len(lines)]


@settings(max_examples=30, deadline=None)
@given(first=line(), second=line())
def test_a_line_alone_is_laid_as_it_is_behind_another(
    ours: Shop, first: Line, second: Line
) -> None:
    alone = laid(ours, second)
    behind = laid(ours, replace(first, photos=second.photos), second)
    assert [v.layout for v in behind] == [v.layout for v in alone]
    assert [v.pieces for v in behind] == [v.pieces for v in alone]


@settings(max_examples=15, deadline=None)
@given(one=line())
def test_a_piece_alone_is_laid_as_it_is_in_its_list(ours: Shop, one: Line) -> None:
    whole = {n: v.layout for v in laid(ours, one) for n in v.pieces}
    for piece in one.pieces:
        (alone,) = laid(ours, replace(one, pieces=(piece,), quantity=1))
        assert alone.layout == whole[piece.number]
