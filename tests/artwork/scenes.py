"""Blanks, designs and small pictures for the tests of layout, rasters and views."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from PIL import Image

from proofgen.artwork.layout import lay_out
from proofgen.artwork.placing import Filling
from proofgen.errors import Place
from proofgen.model import (
    Amount,
    Blank,
    Box,
    Closure,
    Cloth,
    Design,
    Layer,
    Layout,
    PhotoUse,
    Settings,
    Shop,
)
from tests.materials import MATERIALS

INKS = {"_": (255, 255, 255), "R": (200, 0, 0), "G": (0, 160, 0), "B": (0, 0, 220)}

# Neither mirrored nor turned does it look like itself.
EFF = "RRRR R___ RRG_ R___ B___"

CLOTH = Cloth(finish="linen-look", colours={"white": "#ffffff", "sky": "#6fb7e9"}, polyester=1.0)
# Way round exactly 20 mm, overlap 4: in whole mm, so that 1 mm is 1 px at 25.4 ppi.
WRAP = Blank(
    id="small-wrap",
    name="Small wrap",
    construction="wrap",
    width_mm=24,
    height_mm=6,
    cloth=CLOTH,
    bleed_mm=1,
    safe_mm=1,
    vessel_mm=20 / math.pi,
    closure=Closure(width_mm=5, shortest_mm=3, on_top="right"),
)
FOLD = Blank(
    id="small-fold",
    name="Small fold",
    construction="fold",
    width_mm=12,
    height_mm=16,
    cloth=CLOTH,
    bleed_mm=1,
    safe_mm=1,
    seam_mm=1,
    fold_mm=2,
    hem_mm=1,
)
SEWN = Blank(
    id="small-sewn",
    name="Small sewn",
    construction="sewn",
    width_mm=10,
    height_mm=6,
    cloth=CLOTH,
    bleed_mm=1,
    safe_mm=1,
    gap_mm=1,
)
FLAT = Blank(
    id="small-flat",
    name="Small coaster",
    construction="flat",
    width_mm=10,
    height_mm=6,
    cloth=CLOTH,
    bleed_mm=1,
    safe_mm=1,
)
CAN_WRAP = replace(
    WRAP,
    id="can-wrap",
    name="Can wrap",
    width_mm=240,
    height_mm=100,
    bleed_mm=6,
    safe_mm=5,
    vessel_mm=66.1,
    thickness_mm=3,
    closure=Closure(width_mm=30, shortest_mm=10, on_top="right"),
)
COASTER = replace(FLAT, id="coaster", width_mm=100, height_mm=100, bleed_mm=0, safe_mm=5)


def picture(text: str) -> Image.Image:
    """A picture written as rows of letters."""
    rows = text.split()
    image = Image.new("RGB", (len(rows[0]), len(rows)))
    image.putdata([INKS[letter] for row in rows for letter in row])
    return image


def letters(image: Image.Image) -> str:
    """The rows of letters of a picture, for a failure that can be read."""
    names = {ink: letter for letter, ink in INKS.items()}
    pixels = image.convert("RGB").load()
    assert pixels is not None
    return "\n".join(
        "".join(names.get(pixels[x, y], "?") for x in range(image.width))  # type: ignore[call-overload]
        for y in range(image.height)
    )


def rows(text: str) -> str:
    return "\n".join(text.split())


def saved(image: Image.Image, file: Path) -> Path:
    image.save(file)
    return file


def mm(left: float, top: float, width: float, height: float) -> Box:
    return Box(*(Amount(v, False) for v in (left, top, width, height)))


def share(left: float, top: float, width: float, height: float) -> Box:
    return Box(*(Amount(v, True) for v in (left, top, width, height)))


def shop(folder: Path) -> Shop:
    settings = Settings(name="Tern Row Press Room", contact="hello@ternrow.example")
    return Shop(folder=folder, settings=settings, blanks={}, designs={}, orders={})


def design(faces: Mapping[str, tuple[Layer, ...]]) -> Design:
    return Design(
        id="harbour",
        title="Harbour",
        faces=faces,
        offered={},
        place=Place("designs/harbour/design.md", 1),
        lines={f"faces.{face}": 7 + i for i, face in enumerate(faces)},
    )


def filling(photos: Mapping[str, PhotoUse], words: Mapping[str, str]) -> Filling:
    return Filling(photos=photos, words=words, least_letter_mm=3.0)


def laid(
    blank: Blank,
    faces: Mapping[str, tuple[Layer, ...]],
    *,
    cloth: str = "white",
    photos: Mapping[str, PhotoUse] | None = None,
    words: Mapping[str, str] | None = None,
) -> Layout:
    return lay_out(
        design(faces),
        blank,
        filling(photos or {}, words or {}),
        cloth=cloth,
        materials=MATERIALS,
        place=Place("orders/fenn/order.yaml", 5),
    )
