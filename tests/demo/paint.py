"""Paints the pictures of the demo shop into content/: run `python tests/demo/paint.py`.

The people, places and shops in them are invented and painted by these numbers alone, so the same
numbers give the same pictures. Three of the customers' pictures carry what real ones carry: a
turned camera (orientation 6), an invented place (GPS), and too few pixels. Those that look like
photographs are made by `render.py`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from painting import art, family, hill, lane, prints, sill, stall
from PIL import ExifTags, Image

CONTENT = Path(__file__).resolve().parents[2] / "content"
QUALITY = 88
SAMPLE_LONG = 1500  # px of the longer side

# What customers sent: place in content/orders, painter, and what the file is to carry.
PHOTOS: dict[str, Callable[[float], Image.Image]] = {
    "haugen-lane/photos/lane.png": lane.lane,
    "okafor-garden/photos/garden.jpg": family.family,
    "bracken-stall/photos/saturday.jpg": stall.stall,
    "quill-wedding/photos/hill.png": hill.hill,
    "thistle-sill/photos/cat.jpg": sill.sill,
}
TURNED = ("okafor-garden/photos/garden.jpg",)
PLACED = ("oneil-sands/photos/biscuit.jpg",)

# The shop's own sample pictures, so that no customer's picture stands in the catalogue.
SAMPLES: dict[str, Callable[[float], Image.Image]] = {
    "bunting-days": lambda scale: family.family(scale, dusk=True),
    "stall-window": lambda scale: stall.stall(scale, flowers=True),
    "two-on-a-hill": lambda scale: hill.hill(scale, rose=True),
}
# Cut to the shape of the faces it goes on, so that little is left to choose.
CROPPED = {"bunting-days": (0, 460, 1800, 2400), "two-on-a-hill": (0, 533, 2400, 1600)}

ART: dict[str, Callable[[], Image.Image]] = {
    "harbour-photo/board.png": art.name_board,
    "bunting-days/flags.png": art.string_of_flags,
    "bunting-days/ribbon.png": art.ribbon,
    "bunting-days/tossed.png": prints.tossed_flags,
    "bunting-days/card.png": art.card,
    "paper-stars/stars.png": prints.paper_stars,
    "paper-stars/badge.png": art.star_badge,
    "two-on-a-hill/sprigs.png": art.sprig_label,
    "winter-jumper/knit.png": prints.jumper,
    "winter-jumper/label.png": art.woven_label,
    "gull-coaster/gull.png": prints.coaster,
    "block-boat/boat.png": prints.block_boat,
    "stall-window/slate.png": art.slate,
}


def hidden(name: str) -> Image.Exif:
    """What the camera wrote beside the picture. The place is a spot of open sea."""
    exif = Image.Exif()
    if name in TURNED:
        exif[ExifTags.Base.Orientation] = 6
    if name in PLACED:
        exif[ExifTags.Base.Make] = "Invented"
        place = exif.get_ifd(ExifTags.IFD.GPSInfo)
        place[ExifTags.GPS.GPSLatitudeRef] = "N"
        place[ExifTags.GPS.GPSLatitude] = (51.0, 30.0, 0.0)
        place[ExifTags.GPS.GPSLongitudeRef] = "W"
        place[ExifTags.GPS.GPSLongitude] = (12.0, 15.0, 0.0)
    return exif


def photo(name: str, scale: float = 1.0) -> Image.Image:
    """One customer's picture as its pixels are stored (a turned one lies on its side)."""
    picture = PHOTOS[name](scale)
    return picture.transpose(Image.Transpose.ROTATE_90) if name in TURNED else picture


def sample(design: str) -> Image.Image:
    """The shop's own sample for a design."""
    picture = SAMPLES[design](1.0)
    if design in CROPPED:
        picture = picture.crop(CROPPED[design])
    share = SAMPLE_LONG / max(picture.size)
    size = (round(picture.width * share), round(picture.height * share))
    return picture.resize(size, Image.Resampling.LANCZOS)


def save_photo(picture: Image.Image, path: Path, exif: Image.Exif) -> None:
    """Flat painting is smaller as PNG than as JPEG, and so is every press raster made from it."""
    if path.suffix == ".png":
        picture.save(path, optimize=True)
    else:
        picture.save(path, quality=QUALITY, optimize=True, progressive=True, exif=exif)


def main() -> None:
    for name in PHOTOS:
        path = CONTENT / "orders" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        save_photo(photo(name), path, hidden(name))
    for design in SAMPLES:
        path = CONTENT / "designs" / design / "sample.jpg"
        path.parent.mkdir(parents=True, exist_ok=True)
        sample(design).save(path, quality=82, optimize=True, progressive=True)
    for name, draw in ART.items():
        path = CONTENT / "designs" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        draw().save(path, optimize=True, dpi=(art.PPI, art.PPI))


if __name__ == "__main__":
    main()
