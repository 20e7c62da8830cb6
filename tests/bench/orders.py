"""What many orders, and the largest photos, cost in memory.

    python tests/bench/orders.py [--orders 200] [--large] [--keep FOLDER]

Checks a shop of so many orders, each with a photograph of its own, in one command; with `--large`
also one order with a JPEG of 100 megapixels and one with a HEIC of 50. Prints the most memory that
the command and the process that opens photos held at once, as PSS: what they share counts once.
The photographs are real (`tests/real_photos.py`), with a number in a comment to tell them apart.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tempfile
from pathlib import Path

import pillow_heif
from PIL import Image

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from tests.bench.proofs import measured  # noqa: E402
from tests.photo.picture_files import segment, with_segments  # noqa: E402
from tests.real_photos import real_photo  # noqa: E402

_PHOTOS = ("seeding.jpg", "sunset.jpg", "dragonfly.jpg", "wine.jpg")
_COMMENT = 0xFE  # JPEG, ITU-T T.81, B.2.4.5
_LARGE = {"huge.jpg": (10_000, 10_000), "huge.heic": (8_160, 6_120)}  # px
_ORDER = """\
customer: {name: Ada Fenwick, email: ada@fenwick.example, language: en}
due: 2026-12-19
lines:
  - design: harbour-photo
    blank: can-wrap-linen
    cloth: white
    quantity: 1
    photos: {photo: {file: photos/PHOTO}}
    words: {name: "Maren & Sören", line: "the long way home"}
"""


def _add(shop: Path, name: str, photo: str, data: bytes) -> None:
    order = shop / "orders" / name
    (order / "photos").mkdir(parents=True)
    (order / "photos" / photo).write_bytes(data)
    (order / "order.yaml").write_text(_ORDER.replace("PHOTO", photo), "utf-8")


def shop_of(folder: Path, count: int) -> Path:
    """A shop at 300 ppi with so many orders, no two with the same photograph."""
    shutil.copytree(HOUSE / "content", folder, ignore=shutil.ignore_patterns("records", "orders"))
    settings = (folder / "shop.yaml").read_text("utf-8")
    (folder / "shop.yaml").write_text(settings.replace("ppi: 150", "ppi: 300"), "utf-8")
    (folder / "orders").mkdir()
    contents = [real_photo(name).read_bytes() for name in _PHOTOS]
    for number in range(count):
        name, data = _PHOTOS[number % len(_PHOTOS)], contents[number % len(_PHOTOS)]
        _add(folder, f"o{number:03}", name, with_segments(data, segment(_COMMENT, b"%d" % number)))
    return folder


def large(path: Path, size: tuple[int, int]) -> None:
    """A photograph laid side by side until it has this size (px)."""
    with Image.open(real_photo("seeding.jpg")) as photo:
        photo.load()
    whole = Image.new("RGB", size)
    for left in range(0, size[0], photo.width):
        for top in range(0, size[1], photo.height):
            whole.paste(photo, (left, top))
    if path.suffix == ".heic":
        pillow_heif.from_pillow(whole).save(path, quality=80)
    else:
        whole.save(path, quality=92)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--orders", type=int, default=200)
    asked.add_argument("--large", action="store_true")
    asked.add_argument("--keep", type=Path, help="leave the large photos here for the next time")
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        if given.orders:
            shop = shop_of(Path(scratch) / "many", given.orders)
            seconds, peak = measured(shop, "check", may_find=True)
            again, less = measured(shop, "check", may_find=True)
            print(
                f"{given.orders} orders in one check: at most {peak / 1e6:.0f} MB, {seconds:.0f} s"
            )
            print(f"  the same again: at most {less / 1e6:.0f} MB, {again:.0f} s")
        for name, size in _LARGE.items() if given.large else ():
            path = (given.keep or Path(scratch)) / name
            if not path.is_file():
                large(path, size)
            shop = shop_of(Path(scratch) / path.suffix[1:], 0)
            _add(shop, "one", name, path.read_bytes())
            seconds, peak = measured(shop, "check", may_find=True)
            print(f"{name}, {size[0]} × {size[1]}: at most {peak / 1e6:.0f} MB, {seconds:.0f} s")


if __name__ == "__main__":
    main()
