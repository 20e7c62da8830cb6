"""The rows of the calibration: what is made of each photograph, and what the checks say of it.

A photograph is printed in three ways. What is told of good ones, and of a blur at the limit, is
asked of all three; of other spoils one, which a digest of the photo's name chooses, so that each
way of printing meets each spoil. Traces of enlarging are asked of a photo's own pixels.
"""

from __future__ import annotations

import functools
import hashlib
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Literal

import numpy as np
from PIL import Image

from proofgen.geometry import Rect, Size, cover_crop
from proofgen.model import PhotoFacts, PhotoMeasures
from proofgen.photo.faces import Face, find_faces, turn_to_stand
from proofgen.units import pixels
from tests.bench.photo_judging import (
    PPI,
    Remembered,
    Said,
    judged,
    judged_grey,
    judged_part,
    said_of,
)
from tests.bench.photo_set import good, group, opened, path_of
from tests.bench.photo_spoils import (
    LARGEST,
    blotched,
    blurred,
    crossed,
    defocused,
    edged,
    enlarged,
    exposed,
    flattened,
    grainy,
    holed,
    jpeg,
    moved,
    noisy,
    of_a_screen,
    on_a_table,
    passed_on,
    saved,
    shaken,
    sharpened,
    smoothed,
    stamped,
    tables_in,
    yellowed,
)
from tests.materials import PICTURES
from tests.photo.carried_network import installed

Picture = Image.Image
Make = Callable[[Picture], Picture]
Source = Literal["all prints", "a print", "own pixels", "whole"]

# Printed sizes in mm with focus and zoom: round a can, a coaster, a part of a photo on a coaster
# (None: its busiest part).
PRINTS = (
    ((252.0, 112.0), (0.5, 0.5), 1.0),
    ((100.0, 100.0), (0.4, 0.5), 1.0),
    ((100.0, 100.0), None, 2.0),
)
# A part that nobody would choose: it may hold nothing but blurred ground.
ANYWHERE = ((100.0, 100.0), (0.6, 0.55), 2.0)
UNPRINTED = (1000.0, 1000.0)  # mm: so large that no pixel is lost
# Checks that are about how a photo looks; other checks of a photo say what its file tells.
LOOKS = ("blur", "enlarged", "exposure", "old-print", "screenshot")
_ABOUT_FILES = (
    "clear-areas",
    "effective-resolution",
    "file-name",
    "frames",
    "location",
    "orientation",
    "present",
    "profile",
    "strong-colours",
)
WAYS = {
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
    "nearest": Image.Resampling.NEAREST,
}
_LANCZOS = Image.Resampling.LANCZOS


@dataclass(frozen=True, slots=True)
class Row:
    """One spoil. `ladder` and `strength` name what it is a stronger or weaker kind of; `quality` is
    of the JPEG it was saved with at last."""

    label: str
    source: Source
    make: Make
    checks: tuple[str, ...]
    ladder: str = ""
    strength: float = 0.0
    quality: int = 0


@dataclass(frozen=True, slots=True)
class Seen:
    """One picture of a row, measured and judged. `place` counts the pictures of one photo."""

    name: str
    whose: str
    label: str
    place: int
    measures: PhotoMeasures | None
    said: Said


def _and_then(first: Make, second: Make) -> Make:
    return lambda picture: second(first(picture))


def _saved(make: Make, quality: int) -> Make:
    return _and_then(make, partial(saved, quality=quality))


def _softened(sigma: float, then: Make) -> Make:
    return _and_then(partial(blurred, sigma=sigma), then)


def _as_it_is(picture: Picture) -> Picture:
    return picture


def _blurs() -> Iterator[Row]:
    told = ("blur",)
    for sigma in (1, 2, 3, 4, 6, 8, 12, 20, 30, 40):
        source: Source = "all prints" if sigma in (2, 3) else "a print"
        yield Row(f"blur {sigma}", source, partial(blurred, sigma=sigma), told, "blur", sigma)
    for sigma in (2, 3):
        make = _saved(partial(blurred, sigma=sigma), 85)
        yield Row(f"blur {sigma}, then JPEG 85", "a print", make, told, "blur, JPEG", sigma, 85)
    for sigma, noise in ((3, 6), (4, 6), (4, 8), (6, 8), (20, 8)):
        make = _softened(sigma, partial(noisy, sigma=noise))
        source = "all prints" if (sigma, noise) == (3, 6) else "a print"
        ladder = f"blur under noise {noise}"
        yield Row(f"blur {sigma}, noise {noise}", source, make, told, ladder, sigma)
    for sigma in (3, 4, 8):
        make = _softened(sigma, partial(grainy, sigma=16))
        yield Row(f"blur {sigma}, grain 16", "a print", make, told, "blur under grain", sigma)
    for strength, spoil in ((6, noisy), (8, noisy), (16, grainy)):
        word = "noise" if spoil is noisy else "grain"
        yield Row(
            f"sharp, {word} {strength}",
            "a print",
            partial(spoil, sigma=strength),
            ("blur", "exposure", "old-print"),
        )
    for percent in (100, 200, 400):
        make = partial(sharpened, percent=percent)
        yield Row(f"sharpened {percent}", "a print", make, ("old-print",), "sharpened", percent)
    for weight in (0.05, 0.1, 0.2):
        make = partial(smoothed, weight=weight)
        yield Row(f"smoothed {weight:g}", "a print", make, ("old-print",), "smoothed", weight)
    for radius in (3, 6, 12):
        make = partial(defocused, radius=radius)
        yield Row(f"disk {radius}", "a print", make, told, "disk", radius)
    for word, degrees in (("level", 0.0), ("diagonal", 45.0)):
        for length in (10, 15, 20, 40):
            make = partial(moved, length=length, degrees=degrees)
            source = "all prints" if length == 20 else "a print"
            yield Row(f"motion {word} {length}", source, make, told, f"motion {word}", length)
    for length in (20, 40):
        make = partial(shaken, length=length)
        yield Row(f"shake {length}", "a print", make, told, "shake", length)
    for sigma in (3, 6, 20):
        make = _softened(sigma, stamped)
        yield Row(f"blur {sigma}, date stamp", "a print", make, told, "blur, stamp", sigma)


def _lights() -> Iterator[Row]:
    for stops in (-4, -3, -2, 2, 3, 4):  # linear light halved or doubled
        word = "darker" if stops < 0 else "lighter"
        make = partial(exposed, stops=stops)
        label = f"{abs(stops)} stops {word}"
        yield Row(label, "a print", make, ("exposure",), word, abs(stops))
    for contrast in (0.3, 0.2, 0.1):  # of the photo's own, about its middle
        make = partial(flattened, contrast=contrast)
        label = f"contrast {contrast:g}"
        yield Row(label, "a print", make, ("exposure",), "contrast", 1 - contrast)
    for share in (0.5, 1.0):
        make = partial(yellowed, share=share)
        label = f"yellowed, {share:g}"
        yield Row(label, "a print", make, ("old-print",), "yellowed", share)
    for depth in (0.004, 0.01):
        make = partial(edged, depth=depth)
        yield Row(f"light line, {depth:g}", "a print", make, ("old-print",), "line", depth)
    for wide, strength in ((1.5, 4), (2.5, 2.5), (2.5, 4), (2.5, 6), (4, 4)):
        make = _saved(partial(blotched, wide=wide, strength=strength), 85)
        label = f"blotches of {2.5 * wide:.0f} px, {strength:g}"
        yield Row(label, "a print", make, ("old-print",), f"blotches {wide}", strength)
    for ground in ("plain", "wood"):
        for border in (0.0, 0.03):
            make = partial(on_a_table, border=border, ground=ground)
            label = f"on a table, {ground}, border {border:g}"
            yield Row(label, "a print", make, ("old-print", "screenshot"))
    for strength in (30, 50):
        make = partial(crossed, strength=strength)
        yield Row(f"crossed tints {strength}", "a print", make, ("old-print",), "tints", strength)


def _smaller(picture: Picture, share: float) -> Picture:
    return picture.resize((round(picture.width * share), round(picture.height * share)), _LANCZOS)


def _traces() -> Iterator[Row]:
    told, own = ("enlarged",), "own pixels"
    yield Row("untouched, as PNG", own, _as_it_is, told)
    for quality in (30, 40, 50, 60, 75, 85, 95):
        yield Row(f"JPEG {quality}", own, partial(saved, quality=quality), told, quality=quality)
    for share in (0.75, 0.5):
        make = partial(_smaller, share=share)
        yield Row(f"made smaller, {share}", own, make, told)
        label = f"made smaller, {share}, then JPEG 90"
        yield Row(label, own, _saved(make, 90), told, quality=90)
    for factor in (1.5, 2.0, 4.0):
        for way, filter in WAYS.items():
            make = partial(enlarged, factor=factor, filter=filter)
            yield Row(f"x{factor:g} {way}", own, make, told)
            label = f"x{factor:g} {way}, then JPEG 90"
            yield Row(label, own, _saved(make, 90), told, quality=90)
    for factor in (2.0, 4.0):
        make = partial(enlarged, factor=factor, filter=_LANCZOS)
        yield Row(f"x{factor:g} lanczos", own, make, told)
        for quality in (90, 80, 70):
            label = f"x{factor:g} lanczos, then JPEG {quality}"
            yield Row(label, own, _saved(make, quality), told, quality=quality)
    for long_side in (1600, 1280):
        make = _saved(partial(passed_on, long_side=long_side), 90)
        label = f"messenger {long_side}, made large again"
        yield Row(label, "whole", make, ("enlarged", "blur"), quality=90)
    for pitch in (2.3, 3.0, 4.0, 6.0):
        make = _saved(partial(of_a_screen, pitch=pitch), 90)
        yield Row(f"of a screen, {pitch:g} px", own, make, ("screenshot",), quality=90)
    make = _saved(partial(saved, quality=25), 92)
    yield Row(
        "JPEG 25, then JPEG 92",
        own,
        make,
        ("enlarged", "jpeg-quality", "compressed-before"),
        quality=92,
    )


@functools.cache
def rows() -> dict[str, Row]:
    """All of them by label."""
    return {row.label: row for row in (*_blurs(), *_lights(), *_traces())}


# Bytes taken out of the middle of a file of the photo; progressive or not, and how many.
HOLES = {
    f"{kind} JPEG, {f'{100 * share:g} % missing' if share else 'whole'}": (kind, share)
    for kind in ("baseline", "progressive")
    for share in (0.0, 0.05, 0.3)
}


@functools.cache
def _tables_of(quality: int) -> dict[int, tuple[int, ...]]:
    return tables_in(jpeg(Image.new("RGB", (16, 16)), quality))


def _place_of(name: str) -> int:
    return hashlib.sha256(name.encode()).digest()[1] % len(PRINTS)


def _busiest_place(photo: Picture) -> tuple[float, float]:
    """Where most goes on, as shares of the photo's sides: plain differences of neighbours, so that
    the parts stay the same whatever the product's own choice of a part becomes."""
    small = np.asarray(photo.convert("L").resize((96, 96), Image.Resampling.BOX), dtype=np.float32)
    down, across = np.gradient(small)
    cells = np.sqrt(np.hypot(down, across)).reshape(12, 8, 12, 8).mean(axis=(1, 3))
    row, column = np.unravel_index(cells.argmax(), cells.shape)
    return (float(column) + 0.5) / 12, (float(row) + 0.5) / 12


def crops(photo: Picture) -> Iterator[tuple[Rect, tuple[float, float]]]:
    """The parts (px) of a photo that are printed, with their sizes."""
    for size_mm, focus, zoom in PRINTS:
        at = focus or _busiest_place(photo)
        yield cover_crop(Size(*photo.size), Size(*size_mm), at, zoom), size_mm


def prints(photo: Picture) -> Iterator[tuple[Picture, tuple[float, float]]]:
    """Those parts, each on the press raster where it has the pixels."""
    for crop, size_mm in crops(photo):
        raster = (pixels(size_mm[0], PPI), pixels(size_mm[1], PPI))
        box = (crop.x, crop.y, crop.x + crop.width, crop.y + crop.height)
        if crop.width > raster[0]:
            yield photo.resize(raster, Image.Resampling.LANCZOS, box=box), size_mm
        else:
            yield photo.crop(tuple(round(edge) for edge in box)), size_mm


def own_pixels(photo: Picture) -> Picture:
    """A square of the photo's own pixels."""
    side = min(LARGEST, *photo.size)
    left, top = (photo.width - side) // 2, (photo.height - side) // 2
    return photo.crop((left, top, left + side, top + side))


def spoilt(name: str, wanted: tuple[str, ...] = ()) -> list[Seen]:
    """Every variant of one photograph, measured and judged; of those wanted only, by the beginning
    of their labels."""
    with Remembered(name):
        return list(_spoilt(name, wanted))


def _spoilt(name: str, wanted: tuple[str, ...]) -> Iterator[Seen]:
    photo, whose = opened(name), group(name)
    yield from _as_it_came(name, photo, wanted)
    some = [row for row in rows().values() if not wanted or row.label.startswith(wanted)]
    if not good(name):
        return
    parts: dict[Source, list[tuple[Picture, tuple[float, float]]]] = {
        "all prints": list(prints(photo)) if any("print" in row.source for row in some) else [],
        "own pixels": [(own_pixels(photo), UNPRINTED)],
        "whole": [(photo, UNPRINTED)],
    }
    parts["a print"] = parts["all prints"][_place_of(name) :][:1]
    for row in some:
        file: dict[str, object] = {"format": "PNG"}
        if row.quality:
            file |= {"format": "JPEG", "jpeg_tables": _tables_of(row.quality)}
        first = _place_of(name) if row.source == "a print" else 0
        for place, (part, size_mm) in enumerate(parts[row.source], first):
            if row.checks == ("blur",):
                seen = judged_grey(row.make(part.convert("L")), size_mm, **file)
            else:
                own = row.source not in ("a print", "all prints")
                seen = judged(row.make(part), size_mm, traces=own, **file)
            yield Seen(name, whose, row.label, place, *seen)
    yield from _holed(name, photo, wanted)


def _as_it_came(name: str, photo: Picture, wanted: tuple[str, ...]) -> Iterator[Seen]:
    """Its prints as they are, all that is said of its file among it."""
    label = "as it came" if good(name) else "poor by eye"
    facts = PICTURES.inspect(path_of(name), decode=False)
    back = facts.width_px / photo.width  # of a very large photo, which is opened at a half
    parts = [(label, *part) for part in crops(photo)]
    if good(name):
        size_mm, at, zoom = ANYWHERE
        crop = cover_crop(Size(*photo.size), Size(*size_mm), at, zoom)
        parts.append(("any part of it", crop, size_mm))
    for place, (label, crop, size_mm) in enumerate(parts):
        if not wanted or label.startswith(wanted):
            part = Rect(*(back * one for one in (crop.x, crop.y, crop.width, crop.height)))
            seen, said = judged_part(photo, part, size_mm, facts)
            if not good(name) and turn_to_stand(_faces(name)):
                said["faces"] = "note", "lying"
            yield Seen(name, group(name), label, place, seen, said)


@functools.cache
def _faces(name: str) -> tuple[Face, ...]:
    """As they are found where the optional package is installed."""
    with tempfile.TemporaryDirectory() as folder, installed(Path(folder)):
        return find_faces(PICTURES.inspect(path_of(name)), PICTURES) or ()


def _holed(name: str, photo: Picture, wanted: tuple[str, ...]) -> Iterator[Seen]:
    """Files of the photo with and without a hole, read as the product reads them."""
    small = photo.copy()
    small.thumbnail((1600, 1600))
    for label, (kind, share) in HOLES.items():
        if not wanted or label.startswith(wanted):
            data = jpeg(small, 90, progressive=kind == "progressive")
            with tempfile.TemporaryDirectory() as folder:
                path = Path(folder) / "photo.jpg"
                path.write_bytes(holed(data, share) if share else data)
                facts: PhotoFacts = PICTURES.inspect(path)
            yield Seen(name, group(name), label, -1, None, said_of(facts, None))


def about_looks(said: Said) -> dict[str, tuple[str, str]]:
    """What is told of how a photo looks, or that it is damaged, and not of what its file says."""
    return {
        check: (status, code)
        for check, (status, code) in said.items()
        if status in ("stop", "warn", "note") and check not in _ABOUT_FILES
    }
