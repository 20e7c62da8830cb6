"""What a picture of a piece is said to show, for those who cannot see it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from proofgen.model import ColourLayer, PhotoLayer, PhotoUse, WordsLayer
from proofgen.proof.said import Window, colours_of, said_of
from proofgen.say.tongue import Tongue
from tests.artwork.scenes import CAN_WRAP, FOLD, laid, mm, saved

ENGLISH = Tongue("en")
CAN_FOLD = replace(FOLD, width_mm=120, height_mm=214, seam_mm=6, fold_mm=4, hem_mm=5)


def words(text: str, x: float, y: float) -> WordsLayer:
    return WordsLayer(text=text, size_mm=6, at=mm(x, y, 40, 8))


@pytest.fixture
def photo(tmp_path: Path) -> PhotoUse:
    return PhotoUse(file=saved(Image.new("RGB", (300, 300), "#203060"), tmp_path / "one.png"))


def test_each_face_tells_its_photo_its_words_and_where_they_stand(photo: PhotoUse) -> None:
    layout = laid(
        CAN_FOLD,
        {
            "front": (PhotoLayer(slot="first", at=mm(0, 0, 108, 90)), words("Willy", 34, 2)),
            "back": (PhotoLayer(slot="second", at=mm(0, 0, 108, 90)),),
        },
        photos={"first": photo, "second": photo},
    )
    assert said_of(layout, Window(face="front"), "front", ENGLISH) == (
        "Front: your first photo. “Willy” stands at the top, in the middle."
    )
    dark = Image.new("RGB", (80, 60), "#203060")
    assert said_of(layout, Window(face="back"), "back", ENGLISH, dark) == (
        "Back: your second photo. No words. Mostly dark blue."
    )


@pytest.mark.parametrize(("font", "printed"), [("Caladea", "Bo"), ("Manrope", "Bo □")])
def test_a_letter_that_is_not_printed_is_not_said(font: str, printed: str) -> None:
    bare = WordsLayer(text="Bo 漢", font=font, size_mm=6, at=mm(34, 2, 40, 8))
    said = said_of(laid(CAN_FOLD, {"front": (bare,)}), Window(face="front"), "front", ENGLISH)
    assert f"“{printed}” stands at the top" in said


def test_what_the_join_hides_is_told_and_what_is_on_the_far_side_is_not() -> None:
    # The closing strip of this wrap covers the flat's first 23 mm, where the ring begins.
    layout = laid(CAN_WRAP, {"round": (words("Near", 90, 80), words("Gone", 195, 40))})
    front = said_of(layout, Window(face="round", start=0.25), "front", ENGLISH)
    assert "“Near” stands at the bottom, in the middle." in front and "Gone" not in front
    back = said_of(layout, Window(face="round", start=0.75), "closure", ENGLISH)
    assert "“Gone”" in back and "Near" not in back


def test_a_bare_face_and_a_plain_one_are_told_apart() -> None:
    layout = laid(CAN_FOLD, {"front": (ColourLayer(colour="#c80000"),)})
    assert said_of(layout, Window(face="front"), "front", ENGLISH).startswith("Front: no picture.")
    bare = said_of(layout, Window(face="back"), "back", ENGLISH)
    assert bare.startswith("Back: nothing is printed here; the cloth is bare.")


def test_colours_have_the_names_people_use() -> None:
    image = Image.new("RGB", (80, 60), "#14204a")
    image.paste((222, 200, 150), (0, 0, 80, 25))
    assert colours_of(image, ENGLISH) == "Mostly dark blue and sand."
