"""Renders the demo's pictures that look like photographs: `python tests/demo/render.py [NAME ...]`.

Each is a scene built by numbers of ours (scenes/), seen by a renderer and kept on a film of ours.
The renderer is Blender's Python module. It is installed for this script alone, in an environment
of its own; the pictures are kept in content/, so that nothing else needs it. One picture takes
about two minutes of a processor. NAME is one of SHOTS; none means all.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import paint
from PIL import Image
from scenes import quay, sill, stage, toy
from scenes.film import Film, developed

SIZE = (1992, 1328)


@dataclass(frozen=True)
class Shot:
    """Where a picture is kept in content/, how it is made, and how strongly it is compressed.

    `share` of SIZE, rays per pixel (`samples`), quality of the JPEG, and which of its rows are kept
    (shares of its height).
    """

    path: str
    build: Callable[[], Film]
    share: float = 1.0
    samples: int = 4
    quality: int = 80
    rows: tuple[float, float] = (0.0, 1.0)


SHOTS = {
    "quay": Shot("orders/fenn-harbour/photos/evening-quay.jpg", quay.quay),
    "lamp": Shot("orders/lindqvist-lamp/photos/lamp.jpg", sill.sill),
    "toy": Shot("orders/oneil-sands/photos/biscuit.jpg", toy.toy),
    # What is cut off is what the middle of a can's cover would not show.
    "morning": Shot(
        "designs/harbour-photo/sample.jpg", quay.morning, 0.75, 3, quality=76, rows=(0.03, 0.8)
    ),
}


def kept_rows(shot: Shot, wide: int, high: int) -> tuple[int, int, int]:
    """Top, width and bottom of what is kept of a picture of that size."""
    return round(high * shot.rows[0]), wide, round(high * shot.rows[1])


def taken(name: str, share: float = 1.0, samples: int | None = None) -> Image.Image:
    """One picture, at a share of its size. NoRenderer where the renderer is not installed."""
    shot = SHOTS[name]
    film = shot.build()
    wide, high = (round(side * shot.share * share) for side in SIZE)
    picture = developed(stage.seen(wide, high, samples or shot.samples), film, start=len(name))
    return picture.crop((0, *kept_rows(shot, wide, high)))


def save(picture: Image.Image, shot: Shot) -> None:
    """As a camera would: a JPEG, with what the camera wrote beside it."""
    path = paint.CONTENT / shot.path
    path.parent.mkdir(parents=True, exist_ok=True)
    exif = paint.hidden(shot.path.removeprefix("orders/"))
    picture.save(path, quality=shot.quality, optimize=True, progressive=True, exif=exif)


def main(names: Sequence[str]) -> int:
    unknown = [name for name in names if name not in SHOTS]
    if unknown:
        print(f"There is no scene {', '.join(unknown)}. There are: {', '.join(SHOTS)}.")
        return 2
    try:
        for name in names or SHOTS:
            save(taken(name), SHOTS[name])
            print(f"{name}: content/{SHOTS[name].path}")
    except stage.NoRenderer as error:
        print(error)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
