"""`look` at photographs: whether pixels are enough, what they show, and what mends it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from PIL import Image

from tests.bench.photo_set import path_of
from tests.bench.photo_spoils import blurred, exposed
from tests.cli.small import DESIGNS, Ran, make_shop, run, write
from tests.photo import picture_files as make

pytestmark = pytest.mark.photos
WRAP = ("--blank", "can-wrap-linen")


def rocks(width: int) -> Image.Image:
    """A phone's photo, made smaller."""
    with Image.open(path_of("highland-rocks.jpg")) as photo:
        photo.load()
    return photo.resize((width, round(photo.height * width / photo.width)), Image.Resampling.BOX)


def look(folder: Path, data: bytes, *more: str, name: str = "pier.jpg") -> Ran:
    (folder / name).write_bytes(data)
    return run(folder, "look", folder / name, *more)


def spoilt(way: str) -> bytes:
    image = rocks(2400)
    if way == "enlarged":
        small = rocks(1200)
        return make.saved(small.resize((2400, small.height * 2), Image.Resampling.BICUBIC), "PNG")
    kinds = {"blurred": blurred(image, 5), "dark": exposed(image, -6)}
    return make.saved(kinds.get(way, image), "JPEG", quality=92)


@pytest.mark.parametrize("blank", [WRAP, ()], ids=["one blank", "all blanks"])
def test_a_good_photo_has_enough_pixels_and_is_not_called_sharp(tmp_path, blank) -> None:
    told = look(tmp_path, spoilt(""), *blank).ended(0).out
    assert "enough pixels" in told and "sharp" not in told and "see below" not in told
    fits = look(tmp_path, spoilt(""), *blank, "--json").document["fits"]
    assert "good" in {fit["verdict"] for fit in fits} <= {"good", "soft", "coarse"}


@pytest.mark.parametrize("way", ["blurred", "dark", "enlarged"])
@pytest.mark.parametrize("blank", [WRAP, ()], ids=["one blank", "all blanks"])
def test_a_spoilt_photo_is_not_good_however_many_pixels_it_has(tmp_path, way, blank) -> None:
    data = spoilt(way)
    told = look(tmp_path, data, *blank, name=f"{way}.png").out
    assert "enough, but see below" in told
    # Nearly black on the wrap alone; at the largest print of all blanks a little of it is lighter.
    assert ("✕ stop" if (way, blank) == ("dark", WRAP) else "▲ warn") in told
    fits = look(tmp_path, data, *blank, "--json", name=f"{way}.png").document["fits"]
    assert "good" not in {fit["verdict"] for fit in fits}


def test_a_blur_that_a_smaller_face_hides_is_told_of_the_larger_alone(tmp_path) -> None:
    """Of the faces of one blank each is looked at as large as it is printed."""
    data = make.saved(blurred(rocks(4000), 4), "JPEG", quality=92)
    fits = look(tmp_path, data, *WRAP, "--json").document["fits"]
    assert {fit["face"]: fit["verdict"] for fit in fits} == {"round": "poor", "front": "good"}


def test_what_mends_a_shortfall_is_what_the_blank_allows(tmp_path) -> None:
    """A wrap is as wide as it is: its front alone is what can be smaller."""
    told = " ".join(look(tmp_path, make.saved(rocks(1600), "JPEG"), *WRAP).out.split())
    assert "or show it on the front alone, where it has" in told
    assert "mm wide" not in told and "it has enough for" not in told
    told = " ".join(look(tmp_path, make.saved(rocks(40), "JPEG"), *WRAP).out.split())
    assert "at most 0 mm" not in told


def test_a_file_of_a_few_bytes_is_not_called_very_large(tmp_path) -> None:
    told = look(tmp_path, b"II+\0" + bytes(184), name="pier.tif").ended(1).out
    assert "very large" not in told and "BigTIFF" in told


def test_a_shops_first_blank_is_judged_first(tmp_path) -> None:
    """A photo with pixels enough for a coaster has too few for the can sleeve that is offered
    before it; and every blank of the table keeps a verdict of its own."""
    shop = make_shop(tmp_path / "shop")
    data = make.saved(rocks(1400), "JPEG", quality=92)
    offers = "{coaster-round: {1: 5.00, 10: 4.00}, pouch-flat: 9.00}"
    for offered, blank in (
        ("{can-wrap-linen: 12.00, coaster-round: 5.00}", "can-wrap-linen"),
        ("{coaster-round: 5.00, can-wrap-linen: 12.00}", "coaster-round"),
    ):
        for name in ("snap", "place"):
            shutil.rmtree(shop / "designs" / name, ignore_errors=True)
        write(shop / "designs/tag/design.md", DESIGNS["tag"].replace(offers, offered))
        document = look(shop, data, "--json").document
        assert document["fits"][0]["blank"] == blank
        few = [f for f in document["findings"] if f["check"] == "photo/effective-resolution"]
        few_px = "warn" in {f["status"] for f in few}
        assert few and few_px == (blank == "can-wrap-linen")
        verdicts = {(f["blank"], f["face"]): f["verdict"] for f in document["fits"]}
        assert verdicts["coaster-round", "front"] == "good"
        assert verdicts["can-wrap-linen", "round"] == "soft"
