"""How well the checks of photos tell good pictures from spoilt ones, on real photographs.

    python tests/bench/calibrate_photo.py [--photos N] [--fit]

Real photographs are cut as they would be printed, spoilt in known ways, measured and judged by the
checks themselves: those that the limits were set on, and others that nobody had measured before
the limits stood, which is what counts. `--fit` prints the weights of proofgen/checks/traces.py
anew.
"""

from __future__ import annotations

import argparse
import functools
import io
import sys
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
from PIL import Image
from scipy import ndimage

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.artwork.attention import busy_parts  # noqa: E402
from proofgen.checks import traces  # noqa: E402
from proofgen.checks.listed import CHECKS  # noqa: E402
from proofgen.checks.runner import run_over  # noqa: E402
from proofgen.checks.subjects import PrintedPhoto, Spot  # noqa: E402
from proofgen.colour import linear_to_srgb, srgb_to_linear  # noqa: E402
from proofgen.geometry import Rect, Size, cover_crop  # noqa: E402
from proofgen.model import Limits, PhotoFacts, PhotoMeasures  # noqa: E402
from proofgen.photo.measures import measure_picture, quality_of  # noqa: E402
from proofgen.units import pixels  # noqa: E402
from tests.bench.photo_set import GROUPS, good, group, names, opened, path_of  # noqa: E402
from tests.materials import PICTURES  # noqa: E402

PPI = 300.0
# Printed sizes in mm with focus and zoom: round a can, a coaster, a part of a photo on a coaster
# (None: its busiest part, as the product itself looks for it).
PRINTS = (
    ((252.0, 112.0), (0.5, 0.5), 1.0),
    ((100.0, 100.0), (0.4, 0.5), 1.0),
    ((100.0, 100.0), None, 2.0),
)
# A part that nobody would choose: it may hold nothing but blurred ground.
ANYWHERE = ((100.0, 100.0), (0.6, 0.55), 2.0)
STOPS = (-4, -3, -2, 2, 3, 4)  # camera stops darker or lighter: linear light halved or doubled
CONTRASTS = (0.3, 0.2, 0.1)  # of the photo's own, about its middle
BLURS = (1, 2, 3, 4)  # sigma, px of the press raster
FACTORS = (1.5, 2.0, 4.0)
WAYS = {
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
    "nearest": Image.Resampling.NEAREST,
}
QUALITIES = (30, 40, 50, 60, 75, 85, 95)
LARGEST = 1024  # px of the side of an enlarged picture

Row = tuple[str, str, str, PhotoMeasures, dict[str, tuple[str, str]]]


def saved(picture: Image.Image, quality: int) -> Image.Image:
    """The picture after a JPEG of that quality."""
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=quality)
    return Image.open(io.BytesIO(out.getvalue())).convert("RGB")


@functools.cache
def tables_of(quality: int) -> dict[int, tuple[int, ...]]:
    """The quantisation tables of a JPEG of that quality, as a photo's facts have them."""
    out = io.BytesIO()
    Image.new("RGB", (16, 16)).save(out, "JPEG", quality=quality)
    return {number: tuple(table) for number, table in Image.open(out).quantization.items()}


def about(label: str) -> dict[str, object]:
    """What a file of this variant tells: a label ends with the quality it was saved with, if so."""
    _, jpeg, quality = label.rpartition("JPEG ")
    return {"format": "JPEG", "jpeg_tables": tables_of(int(quality))} if jpeg else {"format": "PNG"}


def blurred(picture: Image.Image, sigma: float) -> Image.Image:
    """A Gaussian blur in floats, to four sigma; Pillow's own is three boxes."""
    soft = ndimage.gaussian_filter(np.asarray(picture, dtype=np.float32), (sigma, sigma, 0))
    return Image.fromarray(np.clip(soft + 0.5, 0, 255).astype(np.uint8))


def exposed(picture: Image.Image, stops: int) -> Image.Image:
    """The picture as the camera would have kept it so many stops darker or lighter."""
    light = srgb_to_linear(np.asarray(picture, dtype=np.float32) / 255) * 2.0**stops
    return Image.fromarray(np.rint(linear_to_srgb(np.clip(light, 0, 1)) * 255).astype(np.uint8))


def flattened(picture: Image.Image, contrast: float) -> Image.Image:
    """The picture with less between light and dark."""
    whole = np.asarray(picture, dtype=np.float32)
    middle = whole.mean()
    return Image.fromarray(np.rint(middle + (whole - middle) * contrast).astype(np.uint8))


def judged(picture: Image.Image, size_mm: tuple[float, float], **facts: object) -> tuple:
    """Measures of a picture printed whole, and what each check says: (status, code)."""
    known = PhotoFacts(
        file=Path("photo"), width_px=picture.width, height_px=picture.height, **facts
    )
    return judged_part(picture, Rect(0, 0, picture.width, picture.height), size_mm, known)


def judged_part(
    picture: Image.Image, crop: Rect, size_mm: tuple[float, float], known: PhotoFacts
) -> tuple:
    """The same of a part (px of the photo) of a photo of which more is known."""
    raster = (pixels(size_mm[0], PPI), pixels(size_mm[1], PPI))
    seen = measure_picture(picture, crop, raster, full=(known.width_px, known.height_px))
    photo = PrintedPhoto(facts=known, measures=seen, size=Size(*size_mm))
    said = {}
    for name in ("blur", "enlarged", "exposure", "screenshot"):
        (worst, *_) = run_over(CHECKS[f"photo/{name}"], [(Spot(), photo)], Limits())
        said[name] = (worst.status, worst.code)
    return seen, said


def busiest_place(photo: Image.Image) -> tuple[float, float]:
    """Where most goes on, as shares of the photo's sides."""
    cells = busy_parts(photo)
    down, across = np.unravel_index(cells.argmax(), cells.shape)
    return (float(across) + 0.5) / cells.shape[1], (float(down) + 0.5) / cells.shape[0]


def crops(photo: Image.Image) -> Iterator[tuple[Rect, tuple[float, float]]]:
    """The parts (px) of a photo that are printed, with their sizes."""
    for size_mm, focus, zoom in PRINTS:
        at = focus or busiest_place(photo)
        yield cover_crop(Size(*photo.size), Size(*size_mm), at, zoom), size_mm


def prints(photo: Image.Image) -> Iterator[tuple[Image.Image, tuple[float, float]]]:
    """Those parts, each on the press raster where it has the pixels."""
    for crop, size_mm in crops(photo):
        raster = (pixels(size_mm[0], PPI), pixels(size_mm[1], PPI))
        box = (crop.x, crop.y, crop.x + crop.width, crop.y + crop.height)
        if crop.width > raster[0]:
            yield photo.resize(raster, Image.Resampling.LANCZOS, box=box), size_mm
        else:
            yield photo.crop(tuple(round(edge) for edge in box)), size_mm


def native(photo: Image.Image) -> Iterator[Image.Image]:
    """Two squares of the photo's own pixels."""
    side = min(LARGEST, *photo.size)
    for x, y in ((0.5, 0.5), (0.2, 0.6)) if min(photo.size) > 700 else ((0.5, 0.5),):
        left, top = int((photo.width - side) * x), int((photo.height - side) * y)
        yield photo.crop((left, top, left + side, top + side))


def spoilt(name: str) -> list[Row]:
    """Every variant of one photograph, measured and judged."""
    photo, whose, rows = opened(name), group(name), []
    facts = PICTURES.inspect(path_of(name), decode=False)

    def add(label: str, picture: Image.Image, size_mm: tuple[float, float]) -> None:
        rows.append((name, whose, label, *judged(picture, size_mm, **about(label))))

    def add_part(label: str, crop: Rect, size_mm: tuple[float, float]) -> None:
        back = facts.width_px / photo.width  # of a very large photo, which is opened at a half
        part = Rect(*(back * one for one in (crop.x, crop.y, crop.width, crop.height)))
        rows.append((name, whose, label, *judged_part(photo, part, size_mm, facts)))

    for crop, size_mm in crops(photo):
        add_part("as it came" if good(name) else "poor by eye", crop, size_mm)
    if not good(name):
        return rows
    size_mm, at, zoom = ANYWHERE
    add_part("any part of it", cover_crop(Size(*photo.size), Size(*size_mm), at, zoom), size_mm)
    for part, size_mm in prints(photo):
        for sigma in BLURS:
            add(f"blur {sigma}", blurred(part, sigma), size_mm)
        for sigma in BLURS[1:3]:
            add(f"blur {sigma}, then JPEG 85", saved(blurred(part, sigma), 85), size_mm)
        for stops in STOPS:
            word = "darker" if stops < 0 else "lighter"
            add(f"{abs(stops)} stops {word}", exposed(part, stops), size_mm)
        for contrast in CONTRASTS:
            add(f"contrast {contrast:g}", flattened(part, contrast), size_mm)
    for part in native(photo):
        add("untouched, as PNG", part, (1000.0, 1000.0))
        for quality in QUALITIES:
            add(f"JPEG {quality}", saved(part, quality), (1000.0, 1000.0))
        for share in (0.75, 0.5):
            small = part.resize(
                (round(part.width * share), round(part.height * share)), Image.Resampling.LANCZOS
            )
            add(f"made smaller, {share}", small, (1000.0, 1000.0))
            add(f"made smaller, {share}, then JPEG 90", saved(small, 90), (1000.0, 1000.0))
        for factor in FACTORS:
            side = min(part.width, int(LARGEST / factor))
            for way, filter in WAYS.items():
                large = part.crop((0, 0, side, side)).resize((round(side * factor),) * 2, filter)
                add(f"x{factor:g} {way}", large, (1000.0, 1000.0))
                add(f"x{factor:g} {way}, then JPEG 90", saved(large, 90), (1000.0, 1000.0))
    return rows


def compressed(name: str) -> list[tuple[int, bool, int | None]]:
    """What the JPEG check says of one photograph saved at each quality: the quality, whether it
    warns, the quality read."""
    photo = opened(name).resize((320, 240))
    rows = []
    for quality in range(1, 101):
        out = io.BytesIO()
        photo.save(out, "JPEG", quality=quality)
        tables = {n: tuple(t) for n, t in Image.open(out).quantization.items()}
        facts = PhotoFacts(file=Path("photo.jpg"), jpeg_tables=tables)
        (found,) = run_over(CHECKS["photo/jpeg-quality"], [(Spot(), facts)], Limits())
        rows.append((quality, found.status == "warn", quality_of(tables)))
    return rows


def shares(rows: list[Row], check: str, statuses: tuple[str, ...]) -> str:
    """Hits in each group, as '95.0 % of 40'."""
    told = []
    for name in GROUPS:
        some = [row[4][check][0] in statuses for row in rows if row[1] == name]
        told.append(f"{100 * sum(some) / len(some):5.1f} % of {len(some):3d}" if some else "-")
    return "".join(f"{one:>17}" for one in told)


def told_of(label: str) -> tuple[str, ...]:
    """The checks that a variant is there for: sharpness is judged on prints, traces of enlarging on
    a photo's own pixels."""
    if label in ("as it came", "poor by eye", "any part of it"):
        return ("blur", "enlarged", "exposure", "screenshot")
    if "stops" in label or label.startswith("contrast"):
        return ("exposure",)
    return ("blur",) if label.startswith("blur") else ("enlarged",)


def table(rows: list[Row]) -> Iterator[str]:
    """The printed lines."""
    by: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by[row[2]].append(row)
        if row[2].startswith("x"):
            after = ", then JPEG 90" if "JPEG" in row[2] else ""
            by[f"all enlarged{after}"].append(row)
    yield " " * 60 + "".join(f"{name:>17}" for name in GROUPS)
    for label in by:
        for check in told_of(label):
            for kind, statuses in (("warn", ("warn",)), ("warn or note", ("warn", "note"))):
                yield f"{label:34}{check:12}{kind:14}{shares(by[label], check, statuses)}"
    for name, whose, label, seen, said in rows:
        if label.startswith(("as it came", "poor", "any part", "untouched", "JPEG")):
            for check, (status, code) in said.items():
                if status == "warn" and check in told_of(label):
                    yield f"warns of {name} ({whose}), {label}: {check} {code}, {seen}"


def fit(rows: list[Row]) -> tuple[list[float], float]:
    """Weights and offset of the faint score, by logistic regression on the tuned half; the offset
    so that one in a hundred pictures that were not enlarged is noted."""
    good, bad = [], []
    for _, whose, label, seen, _ in rows:
        if whose != "tuned" or traces.enlarged(seen.traces).kind not in ("", "faint"):
            continue
        if label.startswith("x") and label.endswith("JPEG 90"):
            bad.append(traces.features(seen.traces.swings))
        elif label.endswith(("JPEG 60", "JPEG 75", "JPEG 85", "JPEG 90", "JPEG 95")):
            good.append(traces.features(seen.traces.swings))
    known = np.array(bad + good)
    is_bad = np.array([1.0] * len(bad) + [0.0] * len(good))
    weigh = np.where(is_bad > 0, 1 / len(bad), 1 / len(good))
    middle, spread = known.mean(axis=0), known.std(axis=0)
    features = np.column_stack([(known - middle) / spread, np.ones(len(known))])
    weights = np.zeros(features.shape[1])
    for _ in range(200):  # Newton's method, with a little damping towards zero
        chance = 1 / (1 + np.exp(-features @ weights))
        slope = features.T @ (weigh * (chance - is_bad)) + 0.01 * weights
        curve = (features.T * (weigh * chance * (1 - chance))) @ features
        weights -= np.linalg.solve(curve + 0.01 * np.eye(len(weights)), slope)
    scale = weights[:-1] / spread
    return list(scale), -float(np.quantile(np.array(good) @ scale, 0.99))


def main() -> None:
    """Measure, judge, print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--photos", type=int, help="only so many photographs")
    parser.add_argument("--group", choices=GROUPS, help="only this group")
    parser.add_argument("--fit", action="store_true", help="print the faint score's weights anew")
    given = parser.parse_args()
    some = [n for n in names() if not given.group or group(n) == given.group][: given.photos]
    with ProcessPoolExecutor() as pool:
        rows = [row for found in pool.map(spoilt, some) for row in found]
        found = zip(some, pool.map(compressed, some), strict=True)
        quality = [(row, name) for name, rows_ in found for row in rows_]
    print(f"{len(some)} photographs, {len(rows)} pictures")
    for line in table(rows):
        print(line)
    for whose in GROUPS:
        mine = [row for row, name in quality if group(name) == whose]
        low = [row for row in mine if row[0] <= 40]
        print(
            f"{whose}: JPEG quality <= 40: warned of {sum(row[1] for row in low)} of {len(low)}; "
            f">= 60: {sum(row[1] for row in mine if row[0] >= 60)}; "
            f"read wrongly: {sum(row[0] != row[2] for row in mine)} of {len(mine)}"
        )
    if given.fit:
        print("weights and offset:", fit(rows))


if __name__ == "__main__":
    main()
