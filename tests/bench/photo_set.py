"""Real photographs for measurements: more than the tests need, with how each is split and shown.

photographs.csv lists them (width and height upright, in px), packages.csv the packages that carry
them and their terms, which hold as in tests/real_photos.py: none is part of the repository.

Limits are set on the "tuned" ones: the old set, the fresh and the new one (parts of which were
reported once and are spent), and of the newest one those that a digest of the name leaves, one of
ten. The other nine of ten are the "reported" ones, measured once, when the limits stand. Whether
a photograph is good by eye was judged before any check ran on it.
"""

from __future__ import annotations

import csv
import hashlib
from pathlib import Path

from PIL import Image

from tests.materials import PICTURES
from tests.real_photos import EXTRA, PHOTOS, Package, Photo, real_photo

GROUPS = ("tuned", "reported")
# Small pictures that the scikit-image wheel carries in its data folder.
_SMALL = (
    "astronaut.png",
    "brick.png",
    "camera.png",
    "chelsea.png",
    "coffee.png",
    "grass.png",
    "gravel.png",
    "motorcycle_left.png",
    "retina.jpg",
    "rocket.jpg",
)
# Neither drawings nor the smallest portraits: too few pixels to print.
_LEFT_OUT = ("cmyk.jpg", "hopper-")


def _rows(table: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / table).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


_PACKAGES = {
    row["key"]: Package(row["name"], row["version"], row["archive"], row["sha256"])
    for row in _rows("packages.csv")
}
_LISTED = {row["name"]: row for row in _rows("photographs.csv")}
EXTRA |= {
    name: Photo(
        _PACKAGES[row["package"]],
        row["member"],
        row["sha256"],
        int(row["width"]),
        int(row["height"]),
    )
    for name, row in _LISTED.items()
}


def names() -> list[str]:
    """All photographs, by name."""
    real = [n for n in (*PHOTOS, *EXTRA) if not n.startswith(_LEFT_OUT)]
    return sorted([*real, *_SMALL])


def group(name: str) -> str:
    """Of GROUPS."""
    newest = name in _LISTED and _LISTED[name]["set"] == "newest"
    return GROUPS[newest and hashlib.sha256(name.encode()).digest()[0] % 10 < 9]


def good(name: str) -> bool:
    """Whether nothing is wrong with it by eye; photographs.csv says what is."""
    return name not in _LISTED or _LISTED[name]["eye"] == "good"


def path_of(name: str) -> Path:
    """Where a photograph lies; fetched if need be."""
    if name in _SMALL:
        import skimage

        return Path(skimage.__file__).parent / "data" / name
    return real_photo(name)


def opened(name: str) -> Image.Image:
    """Its pixels as the product sees them, at most about 50 megapixels."""
    facts = PICTURES.inspect(path_of(name), decode=False)
    large = facts.width_px * facts.height_px > 50_000_000
    wanted = (facts.width_px // 2, facts.height_px // 2) if large else None
    return PICTURES.open_pixels(facts, wanted).convert("RGB")
