"""What a season shows of a design without a photo of its own, and cloths in a customer's words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from proofgen.geometry import Size
from proofgen.model import ColourLayer, Design, PhotoLayer, PlacedWords, WordsLayer
from proofgen.model.design import Amount, Box
from proofgen.pipeline.season_pictures import picture_layout, sample_layout
from proofgen.pipeline.stand_ins import with_stand_ins
from proofgen.say.tongue import Tongue
from proofgen.workshop import open_workshop
from tests.cli.small import SEASON, make_shop, order_text, page, run, write


def test_a_design_that_would_be_shown_as_bare_cloth_is_named(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    assert "sample photo" not in run(shop, "catalogue").out
    write(shop / "seasons" / "winter.md", SEASON.replace("[tag]", "[tag, snap]"))
    told = run(shop, "catalogue").out
    assert "snap has no sample photo" in told and "designs/snap/design.md" in told
    assert "tag has no" not in told
    assert "sample photo" not in run(shop, "check").ended(0).out  # it is no matter of an order


def test_a_design_that_no_season_lists_is_told_with_the_file(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    told = run(shop, "catalogue").out
    wanted = "Not in the catalogue: place, snap. To show them, write them under designs: in "
    assert wanted + "seasons/winter.md" in told
    write(shop / "seasons" / "winter.md", SEASON.replace("[tag]", "[tag, snap, place]"))
    assert "Not in the catalogue" not in run(shop, "catalogue").out


PHOTO = PhotoLayer(slot="photo")
BARE = Design(
    id="bare",
    title="Bare",
    faces={"front": (PHOTO, WordsLayer(slot="pet-name"))},
    offered={},
)


def test_an_empty_place_is_shown_as_one() -> None:
    """The front of a catalogue showed a bare can."""
    shown = with_stand_ins(BARE, Tongue("de"))
    ground, *frame, says, words = shown.faces["front"]
    assert isinstance(ground, ColourLayer) and ground.at is None  # as far as the photo goes
    assert len(frame) == 4 and all(isinstance(line, ColourLayer) for line in frame)
    assert isinstance(says, WordsLayer) and says.text == Tongue("de").message("Your photo")
    inside = says.at.on(Size(100, 100))
    around = [line.at.on(Size(100, 100)) for line in frame]
    assert min(r.x for r in around) < inside.x < inside.right < max(r.right for r in around)
    assert words == BARE.faces["front"][1] and shown.sample_words == {"pet-name": "Pet name"}
    # A font for other scripts may be lacking: then the frame stands alone.
    assert len(with_stand_ins(BARE, Tongue("ar")).faces["front"]) == 6


def test_a_design_with_its_samples_is_shown_as_it_is() -> None:
    whole = replace(BARE, sample_photos={"photo": Path("a.png")}, sample_words={"pet-name": "Bo"})
    assert with_stand_ins(whole, Tongue()) is whole
    empty = with_stand_ins(replace(whole, sample_words={"pet-name": ""}), Tongue())
    assert empty.sample_words == {"pet-name": "Pet name"}
    named = with_stand_ins(replace(whole, sample_words={}), Tongue())
    assert named.faces == BARE.faces and named.sample_words == {"pet-name": "Pet name"}


def test_a_place_of_mixed_measures_keeps_its_ground_alone() -> None:
    at = Box(Amount(0.1, True), Amount(0.1, True), Amount(30, False), Amount(0.4, True))
    photo = PhotoLayer(slot="photo", at=at)
    shown = with_stand_ins(replace(BARE, faces={"front": (photo,)}), Tongue())
    (ground,) = shown.faces["front"]
    assert isinstance(ground, ColourLayer) and ground.at == at


def test_the_picture_of_such_a_design_is_not_bare(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    opened = open_workshop(shop)
    snap = opened.shop.designs["snap"]
    blank = opened.shop.blanks[next(iter(snap.offered))]
    assert not any(isinstance(p, PlacedWords) for p in sample_layout(opened, snap, blank).layers)
    shown = picture_layout(opened, snap, blank).layers
    assert any(isinstance(p, PlacedWords) and p.text == "Your photo" for p in shown)


def test_a_proof_names_the_cloth_in_its_customers_language(tmp_path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = order_text().replace("email: someone", "language: de, email: someone")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    run(shop, "proof", "fenn").ended(0)
    assert ", Weiß" in page(shop, "fenn") and ", white" not in page(shop, "fenn")
